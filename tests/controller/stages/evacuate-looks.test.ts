// What an evacuation finds out about the machine itself: the manifold shut off and looked at alone.
import { describe, expect, test } from 'vitest';
import { jobResult } from '../../../controller/result.ts';
import { openJob } from '../../../controller/scan.ts';
import { newPlant, type Plant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';
import type { Values } from '../support/readings.ts';

const START: Partial<Plant> = { vehicleKg: 0, airPa: 101_000 };

type Course = {
  readonly plant?: Partial<Plant>;
  /** So long the pump has drawn in all, s; what then reads otherwise. */
  readonly readings?: (pumpedS: number, plant: Plant) => Values;
};

function evacuated({ plant = {}, readings = () => ({}) }: Course) {
  let pumpedS = 0;
  const looksAtS: number[] = [];
  let looked = false;
  const state = run(openJob(planFor({ service: 'evacuate-and-charge' }), EQUIPMENT, 0), {
    plant: newPlant({ ...START, ...plant }),
    readings: (now, { stage }) => (stage?.stage === 'evacuate' ? readings(pumpedS, now) : {}),
    watch: ({ commands, state: { stage } }) => {
      if (commands.vacuumValve.on) pumpedS += 0.1;
      const looks = stage?.stage === 'evacuate' && stage.step === 'apart';
      if (looks && !looked) looksAtS.push(pumpedS);
      looked = looks;
      return stage?.stage === 'hold';
    },
  });
  const codes = jobResult(state).notices.map(({ code }) => code);
  return { codes, pumpedS, looksAtS, ends: state.stage?.stage };
}

describe('The manifold is looked at alone', () => {
  test('after 45 seconds, and a seat that leaks ends the job before more is pumped', () => {
    const { codes, pumpedS } = evacuated({ plant: { seatPaPerS: 2_000 } });
    expect(codes).toContain('machine-leaks');
    expect(pumpedS).toBeCloseTo(45, 0);
  });

  test('and NOT again where it is tight: the pumping goes on to the hold', () => {
    const { codes, looksAtS, ends } = evacuated({});
    expect(looksAtS).toHaveLength(1);
    expect(codes).not.toContain('machine-leaks');
    expect(ends).toBe('hold');
  });
});

/** The joined manifold, from a moment on; shut off it keeps what it had. */
const standsAt =
  (fromS: number, manifoldPressurePa: number) =>
  (pumpedS: number, { commands }: Plant): Values =>
    pumpedS < fromS || !commands.vacuumValve.on ? {} : { manifoldPressurePa };

describe('A pressure that comes back while it is pumped', () => {
  test('is looked at once it has risen by 600 Pa, and NOT by less', () => {
    expect(evacuated({ readings: standsAt(300, 800) }).looksAtS[1]).toBeCloseTo(300, 0);
    expect(evacuated({ readings: standsAt(300, 500) }).looksAtS).toHaveLength(1);
  });

  test('ends the job with the lowest that was reached where the machine lets nothing in', () => {
    const { codes, ends } = evacuated({ readings: standsAt(300, 60_000) });
    expect(codes).toContain('vacuum-came-back');
    expect(ends).toBeUndefined();
  });

  test('is laid to the machine where the closed manifold rises on', () => {
    const rises = (pumpedS: number, { commands }: Plant): Values =>
      pumpedS < 300 ? {} : { manifoldPressurePa: commands.highSideValve.on ? 60_000 : 101_000 };
    const { codes } = evacuated({ readings: rises });
    expect(codes).toContain('machine-leaks');
    expect(codes).not.toContain('vacuum-came-back');
  });

  test('that was never low is a gross leak, and NOT called one that came back', () => {
    const { codes } = evacuated({ readings: standsAt(0, 60_000) });
    expect(codes).toContain('rough-vacuum-failed');
    expect(codes).not.toContain('vacuum-came-back');
  });
});
