// Air in the tank: let off after a rest, by weight and with the operator's word, and never straight after a recovery.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { Observer } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { runScenario } from './run-scenario.ts';

const AIR_G = 8;
const JOB = {
  seed: 5,
  weather: { ambientC: 22 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 10, airG: AIR_G, restedH: 12 },
};
const codes = (job: Awaited<ReturnType<typeof runScenario>>) => job.notices.map(({ code }) => code);
const stages = (job: Awaited<ReturnType<typeof runScenario>>) => job.stages.map(({ stage }) => stage);

/** Every scan in which the purge valve was open. */
function watching(): { readonly openAtMs: number[]; readonly observer: Observer } {
  const openAtMs: number[] = [];
  const observer: Observer = ({ nowMs, commands }) => {
    if (commands.airPurgeValve.on) openAtMs.push(nowMs);
  };
  return { openAtMs, observer };
}

describe('8 g of air in the tank', () => {
  test('are let off after a night of rest, for at most 20 g, and every gram is in the ledger', async () => {
    const { openAtMs, observer } = watching();
    const job = await runScenario(JOB, [observer]);
    expect(job.outcome).toBe('completed');
    expect(stages(job).slice(0, 3)).toEqual(['identify', 'purge-air', 'settle']);
    expect(openAtMs.length).toBeGreaterThan(0);
    expect(job.truth.tankAirG).toBeLessThan(0.65 * AIR_G);
    const ventedG = job.truth.purgedG + AIR_G - job.truth.tankAirG;
    expect(ventedG).toBeLessThan(20.5);
    expect(Math.abs(job.masses.purgedG! - ventedG)).toBeLessThan(2);
    expect(codes(job)).toContain('air-found');
    // Nothing but air is worth this: it leaves with a few times its mass of refrigerant, not with seventy.
    expect(job.truth.purgedG / (AIR_G - job.truth.tankAirG)).toBeLessThan(10);
  });

  test('are NOT let off straight after a recovery, and the tank is told to rest', async () => {
    const { openAtMs, observer } = watching();
    const job = await runScenario({ ...JOB, tank: { ...JOB.tank, restedH: 0 } }, [observer]);
    expect(openAtMs).toEqual([]);
    expect(stages(job)).not.toContain('purge-air');
    expect(codes(job)).toContain('air-perhaps');
    expect(job.truth.purgedG).toBe(0);
    expect(job.outcome).toBe('completed');
  });

  test('are NOT let off where nobody knows how long the tank has rested', async () => {
    const { restedH: _, ...tank } = JOB.tank;
    const job = await runScenario({ ...JOB, tank });
    expect(stages(job)).not.toContain('purge-air');
    expect(job.truth.purgedG).toBe(0);
  });

  test('are NOT let off on the word of a typed rest alone: a tank warmer than the room has not rested', async () => {
    const tank = { ...JOB.tank, restedH: 0, temperatureC: 27 };
    const job = await runScenario({ ...JOB, tank, equipment: { tankRestedH: 12 } });
    expect(codes(job)).toContain('air-not-judged');
    expect(job.truth.purgedG).toBe(0);
  });

  test('are NOT let off below 18 °C', async () => {
    const job = await runScenario({ ...JOB, weather: { ambientC: 15 } });
    expect(codes(job)).toContain('air-not-judged');
    expect(job.truth.purgedG).toBe(0);
  });

  test('are NOT sure by the sensors of a hobbyist, and so are left', async () => {
    for (const seed of [1, 2, 3]) {
      const job = await runScenario({ ...JOB, seed, tank: { ...JOB.tank, airG: 3 }, equipment: 'hobby' });
      expect(job.truth.purgedG).toBe(0);
    }
  });
});

describe('so much air that no job may begin with it', () => {
  const tank = { ...JOB.tank, airG: 30 };

  test('is let off first by a job that can, and judged again before a path to the vehicle opens', async () => {
    const job = await runScenario({ ...JOB, tank });
    expect(stages(job).slice(0, 3)).toEqual(['identify', 'purge-air', 'settle']);
    expect(job.truth.tankAirG).toBeLessThan(tank.airG);
    expect(job.outcome === 'completed' || codes(job).includes('air-in-tank')).toBe(true);
  });

  test('is refused to one that can NOT: a tank that has just been filled', async () => {
    const job = await runScenario({ ...JOB, tank: { ...tank, restedH: 0 } });
    expect(job.outcome).toBe('refused');
    expect(job.blockers.map(({ code }) => code)).toEqual(['air-in-tank']);
  });
});

test('a tank without air is looked at for seconds, and nobody is asked', async () => {
  for (const seed of [1, 2, 3]) {
    const job = await runScenario({ ...JOB, seed, tank: { ...JOB.tank, airG: 0 } });
    const look = job.stages.find(({ stage }) => stage === 'purge-air')!;
    expect(look.result).toBe('no-air');
    expect(look.endedAtS! - look.startedAtS).toBeLessThan(10);
    expect(job.truth.purgedG).toBe(0);
  }
});

test.each([
  ['tank-temperature-open', 'thermometer'],
  ['tank-sensor-open', 'pressure sensor'],
])('a tank that cannot be read is NOT one without air: %s is told by its %s', async (fault, sensor) => {
  const job = await runScenario({ ...JOB, faults: [{ fault, stage: 'identify' }] });
  const look = job.stages.find(({ stage }) => stage === 'purge-air');
  const told = job.notices.find(({ code }) => code === 'air-unseen');
  expect(look?.result).toBe('not-judged');
  expect(told?.text).toContain(sensor);
});

test('an operator who declines keeps the air and the job', async () => {
  const session = prepare(toScenario(JOB, 'the scenario'), 'the scenario', fluidOnce, clockMs);
  let decline = (): void => {};
  const facts = await runSession(session, {
    observers: [({ progress }) => progress.prompt?.id === 'purge-air' && decline()],
    pacing: PACING,
    started: (loop) => {
      decline = () => loop.send({ type: 'declined', prompt: 'purge-air' });
    },
  });
  expect(facts.truth.purgedKg).toBe(0);
  expect(facts.outcome).toBe('completed');
  expect(facts.result!.stages.find(({ stage }) => stage === 'purge-air')!.result).toBe('declined');
});
