// Clear hoses: a charge valve that stands open while the hoses are joined is seen by the scale within a second and a half.
import { describe, expect, test } from 'vitest';
import { jobResult } from '../../../controller/result.ts';
import { openJob } from '../../../controller/scan.ts';
import { newPlant, type Plant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';

/** What lies on the platform so long after the hoses have been joined for the first time, kg more than before. */
type Course = (joinedS: number) => number;

function cleared(course: Course, highCouplerStuck = false) {
  let joinedAtMs: number | undefined;
  let shutAfterS: number | undefined;
  const plant: Plant = newPlant({ vehicleKg: 0, airPa: 101_000, highCouplerStuck });
  let liesKg = 0;
  const ticket = { service: 'evacuate-and-charge', engine: 'can-run' } as const;
  const state = run(openJob(planFor(ticket), EQUIPMENT, 0), {
    plant,
    readings: ({ nowMs, commands }, { stage }) => {
      const joined = commands.highSideValve.on && commands.lowSideValve.on;
      if (stage?.stage === 'clear-hoses' && joined) joinedAtMs ??= nowMs;
      if (joinedAtMs === undefined) return {};
      if (!joined) shutAfterS ??= (nowMs - joinedAtMs) / 1000;
      const kg = course((nowMs - joinedAtMs) / 1000);
      plant.tankKg += kg - liesKg;
      liesKg = kg;
      return {};
    },
  });
  const { outcome, notices } = jobResult(state);
  return { outcome, codes: notices.map(({ code }) => code), shutAfterS: shutAfterS ?? 0 };
}

/** 25 g/s for so long, s. */
const poursFor =
  (seconds: number): Course =>
  (s) =>
    -0.025 * Math.min(s, seconds);

describe('A tank that pours while the hoses are joined', () => {
  test('has them shut within a second and a half, and the job is stopped', () => {
    const { outcome, codes, shutAfterS } = cleared(poursFor(2));
    expect(shutAfterS).toBeLessThan(1.5);
    expect(codes).toContain('tank-poured');
    expect(outcome).toBe('stopped');
  });

  test('is told from a coupler that is open: a hose that stays up does not hide it', () => {
    const { codes, shutAfterS } = cleared(poursFor(1), true);
    expect(shutAfterS).toBeLessThan(1.5);
    expect(codes).toContain('tank-poured');
    expect(codes).not.toContain('high-coupler-open');
    const alone = cleared(() => 0, true);
    expect(alone.codes).toContain('high-coupler-open');
    expect(alone.codes).not.toContain('tank-poured');
  });
});

describe('A hand that pulls evenly', () => {
  test('has the hoses shut until it lets go, and then they are cleared', () => {
    const { outcome, codes, shutAfterS } = cleared((s) => (s < 4 ? -0.025 * Math.min(s, 2) : 0));
    expect(shutAfterS).toBeLessThan(2);
    expect(codes).not.toContain('tank-poured');
    expect(outcome).toBe('completed');
  });
});

describe('Nothing is said of', () => {
  test.each<{ readonly what: string; readonly course: Course }>([
    { what: 'a scale that stands still', course: () => 0 },
    { what: 'a tool of 20 g that is taken off', course: (s) => (s > 1 ? -0.02 : 0) },
    { what: 'two tools one after the other', course: (s) => (s > 2 ? -0.04 : s > 1 ? -0.02 : 0) },
    { what: 'somebody who leans on the machine and lets go', course: (s) => (s < 1 ? 0 : s < 3 ? 2 : 0) },
    { what: 'a hand that pulls for a second and a half', course: (s) => (s < 1.6 ? -0.025 * s : 0) },
  ])('$what, and the hoses are cleared', ({ course }) => {
    const { outcome, codes } = cleared(course);
    expect(codes).not.toContain('tank-poured');
    expect(outcome).toBe('completed');
  });
});
