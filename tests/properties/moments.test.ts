// A job saved in its middle goes on from there as if nothing had happened, and nobody else notices.
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, test } from 'vitest';
import type { FaultName } from '../../sim/faults.ts';
import { type Moment, SteppedJob, sessionOf } from './job.ts';

const scenario = (equipment: string, refrigerant: string, more: object = {}) => ({
  seed: 7,
  equipment,
  weather: { ambientC: 24 },
  ticket: { refrigerant, nominalChargeG: 300, oil: { addMl: 5 }, engine: 'can-run', ...more },
  vehicle: {
    chargeG: 200,
    volumeL: 1.5,
    oilG: 80,
    accumulatorHeatCapacityJPerK: 2000,
    accumulatorUaWPerK: 10,
  },
  tank: { contentKg: 8 },
});

const LOCKSTEP_SCANS = 150;
const EVERY_SCANS = 4_000;
const alike = (one: SteppedJob, other: SteppedJob): boolean => isDeepStrictEqual(one.save(), other.save());

function run(file: unknown, look: (job: SteppedJob, stage: string | undefined) => void): SteppedJob {
  const job = SteppedJob.open(sessionOf(file));
  for (let scans = 0; !job.loop.ended && scans < 150_000; scans++) {
    const { progress } = job.step();
    look(job, progress.stage);
  }
  return job;
}

describe.each([
  ['good', 'R-134a', {}],
  ['hobby', 'R-1234yf', { engine: 'cannot-run' }],
])('on a machine of the profile %s with %s', (profile, refrigerant, more) => {
  const file = scenario(profile, refrigerant, more);

  test('a fork runs on byte for byte as the original, from every stage, on a bench of its own', () => {
    const forked = sessionOf(file);
    const stages = new Set<string | undefined>();
    let scans = 0;
    let ahead: { fork: SteppedJob; left: number } | undefined;
    const original = run(file, (job, stage) => {
      scans++;
      if (ahead !== undefined) {
        ahead.fork.step();
        if (--ahead.left === 0) {
          expect(alike(ahead.fork, job)).toBe(true);
          expect(ahead.fork.session.bench.truth()).toEqual(job.session.bench.truth());
          ahead = undefined;
        }
      } else if (!stages.has(stage) || scans % EVERY_SCANS === 0) {
        stages.add(stage);
        ahead = { fork: SteppedJob.at(forked, job.save()), left: LOCKSTEP_SCANS };
      }
    });
    expect([...stages]).toEqual(
      expect.arrayContaining(['settle', 'recover', 'rest', 'evacuate', 'hold', 'add-oil', 'charge']),
    );
    expect(original.loop.ended).toBe(true);
  });
});

test('what is done to a fork touches neither the original nor the moment it came from', () => {
  const file = scenario('hobby', 'R-1234yf');
  const forked = sessionOf(file);
  const HARM: readonly FaultName[] = ['scale-leaned-on', 'hose-off', 'engine-started-early'];
  let moment: Moment | undefined;
  let copy: Moment | undefined;
  const disturbed = run(file, (job) => {
    if (job.nowMs % 400_000 !== 0) return;
    moment = job.save();
    copy = structuredClone(moment);
    const fork = SteppedJob.at(forked, moment);
    for (const fault of HARM) fork.session.bench.switchFault({ fault }, true);
    for (let scans = 0; scans < LOCKSTEP_SCANS; scans++) fork.step();
    expect(alike(fork, job)).toBe(false);
  });
  expect(
    alike(
      disturbed,
      run(file, () => {}),
    ),
  ).toBe(true);
  expect(moment).toEqual(copy);
  expect(isDeepStrictEqual(SteppedJob.at(forked, moment!).save(), copy)).toBe(true);
});
