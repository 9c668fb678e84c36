// A few of the campaign of faults in every stage: safe, explained, and the ledger no further off than it says.
import { describe, expect, test } from 'vitest';
import { fits } from '../accuracy/faults-fitting.ts';
import { type FaultRow, faultJob } from '../accuracy/faults-job.ts';
import { CASES, caseOf, faultsScenario, MOMENTS, NOMINAL_G, nameOf } from '../accuracy/faults-scenario.ts';
import { beyondIn, unsafeIn } from '../accuracy/faults-summary.ts';
import { runScenario } from './run-scenario.ts';

function seedOf(fault: string, stage: string, share: number): number {
  for (let seed = 1; seed <= CASES; seed++) {
    const one = caseOf(seed);
    if (nameOf(one.strike) === fault && one.stage === stage && one.share === share) return seed;
  }
  throw new Error(`no case of ${fault} in ${stage}`);
}

type Ran = NonNullable<FaultRow['ran']>;
const struck = async (
  fault: string,
  stage: string,
  profile: 'good' | 'hobby',
  share: number = MOMENTS[0],
): Promise<Ran> => (await faultJob(profile, seedOf(fault, stage, share))).ran!;

// The whole set runs by `npm run accuracy -- faults`; here kinds of parts and groups of stages come once.
describe('is safe, explained and in the ledger', () => {
  test.each([
    ['scale-stuck', 'charge', 'good'],
    ['scale-drift', 'hold', 'good'],
    ['tank-sensor-open', 'recover', 'good'],
    ['low-sensor-open', 'verify', 'hobby'],
    ['manifold-sensor-open', 'fill', 'good'],
    ['tank-valve-shut', 'recover', 'good'],
    ['coupler-shut', 'charge', 'good', 0.02],
    ['hose-off', 'recover', 'good'],
    ['cabinet-leaks', 'hold', 'good'],
    ['charge-valve-leaks', 'hold', 'good'],
    ['relay-welded chargeValve', 'rest', 'good'],
    ['relay-welded chargeValve', 'evacuate', 'good'],
    ['relay-welded chargeValve', 'verify', 'good'],
    ['relay-welded chargeValve', 'clear-hoses', 'good'],
    ['relay-welded chargeValve', 'clear-hoses', 'hobby'],
    ['charge-valve-leaks', 'add-oil', 'good'],
    ['output-dead compressor', 'drain-oil', 'good'],
    ['oil-bottle-empty', 'add-oil', 'good'],
    ['pressure-switch-open', 'recover', 'good'],
    ['link-lost', 'hold', 'good'],
    ['compressor-weak', 'settle', 'hobby'],
    ['compressor-weak', 'recover', 'good'],
    ['compressor-weak', 'recover', 'hobby'],
    ['output-dead recoveryValve', 'rest', 'hobby'],
    ['high-sensor-stuck', 'settle', 'hobby'],
    ['sensors-swapped', 'charge', 'hobby'],
    ['sensors-swapped', 'recover', 'good', 0.02],
    ['scale-drift', 'identify', 'hobby'],
    ['scale-leaned-on', 'settle', 'good', 0.9],
    ['wrong-tank', 'settle', 'hobby'],
    ['engine-started-early', 'settle', 'hobby'],
    ['prompts-not-obeyed', 'identify', 'hobby'],
    ['low-sensor-open', 'verify', 'hobby', 0.9],
    ['output-dead lowSideValve', 'settle', 'good'],
  ] as const)('%s in %s (%s)', async (fault, stage, profile, share: number = MOMENTS[0]) => {
    const ran = await struck(fault, stage, profile, share);
    expect(unsafeIn(fault, ran)).toEqual([]);
    expect(ran.changed && !ran.fits ? ran.told : []).toEqual([]);
    expect(beyondIn(ran)).toEqual([]);
  });
});

// While the hoses are joined the scale tells it; when the high one is watched alone, what boils up in it and the scale.
test.each([20, 60])(
  'a charge valve welded %d s into clear-hoses gives at most 15 g too much',
  async (afterS) => {
    const fault = { fault: 'relay-welded', output: 'chargeValve', stage: 'clear-hoses', afterS };
    const job = await runScenario(faultsScenario('good', 'evacuate-and-charge', [fault]));
    expect(job.notices.map(({ code }) => code)).toContain('tank-poured');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(NOMINAL_G + 15);
  },
);

test('couplers that were only said to be closed are told by more than hoses can hold', async () => {
  const ran = await struck('prompts-not-obeyed', 'settle', 'hobby');
  expect(ran.told).toContain('couplers-open');
  expect(beyondIn(ran)).toEqual([]);
});

test('a force of the hoses that has just been learnt is no drift of the scale', async () => {
  const ran = await struck('tank-sensor-open', 'settle', 'good');
  expect(ran.told).not.toContain('scale-drifts');
  expect(beyondIn(ran)).toEqual([]);
});

describe('the same look', () => {
  test('does see what a hose that comes off spills, were it not the fault itself that opens the way', async () => {
    const ran = await struck('hose-off', 'charge', 'good');
    expect(unsafeIn('hose-off', ran)).toEqual([]);
    expect(unsafeIn('scale-stuck', ran)).toContain('spilled');
  });

  test('does NOT take any word for a fitting one', () => {
    const word = { text: 'The vacuum was not reached.', remedy: 'Look at the pump.' };
    expect(fits('scale-stuck', [word])).toBe(false);
    expect(fits('scale-stuck', [])).toBe(false);
    expect(fits('pump-oil-dirty', [word])).toBe(true);
  });
});
