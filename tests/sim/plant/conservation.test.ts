// Nothing is lost on the bench: every gram and every joule, whatever the valves do.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ON, OUTPUTS, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { createBench } from '../../../sim/bench.ts';
import { BOTH_SIDES, EVACUATE, Hand, RECOVER, specOf, tablesOf } from '../hand.ts';

const ONE_MILLIGRAM_KG = 1e-6;

/** A service as an impatient person would work it, in about half an hour. */
function wholeService() {
  const hand = new Hand(specOf({ ambientC: 18, vehicleC: 8 })).connect();
  hand.hold([], 20);
  hand.hold(RECOVER, 240);
  hand.hold(BOTH_SIDES, 240);
  hand.hold(RECOVER, 300);
  hand.hold(EVACUATE, 300);
  hand.hold(BOTH_SIDES, 60);
  hand.hold(['highSideValve', 'chargeValve'], 15);
  hand.hold(['highSideValve'], 30);
  hand.bench.operate('close-couplers');
  hand.hold(RECOVER, 60);
  hand.hold([], 5);
  return hand;
}

describe('mass', () => {
  const truth = wholeService().bench.truth();

  test('the places of a whole service sum to what was there, to the microgram', () => {
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(ONE_MILLIGRAM_KG / 1000);
    const places =
      truth.vehicleRefrigerantKg +
      truth.hoseRefrigerantKg +
      truth.machineRefrigerantKg +
      truth.tankRefrigerantKg +
      truth.pumpExhaustKg;
    expect(Math.abs(places - truth.initialKg)).toBeLessThan(ONE_MILLIGRAM_KG);
  });

  test('only what the pump drew left the plant, and it is no more than the vapour of a recovered vehicle', () => {
    expect(truth.ventedKg).toBe(0);
    expect(truth.pumpExhaustKg).toBeGreaterThan(0);
    expect(truth.pumpExhaustKg).toBeLessThan(0.3);
  });
});

test('random valves at random times lose no gram, never throw and never give a number that is none', () => {
  const tables = tablesOf('R-134a');
  const step = fc.record({
    on: fc.subarray([...OUTPUTS]),
    lastMs: fc.integer({ min: 30, max: 4000 }),
    couplers: fc.constantFrom('connect-hoses' as const, 'close-couplers' as const),
  });
  fc.assert(
    fc.property(fc.array(step, { minLength: 5, maxLength: 25 }), (steps) => {
      const bench = createBench(specOf({ ambientC: 25, vehicleC: 15 }), tables);
      for (const { on, lastMs, couplers } of steps) {
        bench.operate(couplers);
        bench.apply({ ...SAFE_COMMANDS, ...Object.fromEntries(on.map((output) => [output, ON])) });
        bench.advanceTo(bench.nowMs() + lastMs);
        const truth = bench.truth();
        expect(Math.abs(truth.massDriftKg)).toBeLessThan(ONE_MILLIGRAM_KG);
        for (const kg of Object.values(truth)) expect(Number.isFinite(kg)).toBe(true);
      }
    }),
    { seed: 20_260_401, numRuns: 60 },
  );
});

test.each([
  { what: 'a vehicle without a molecule in it', vehicle: { chargeKg: 0 }, contentKg: 8 },
  { what: 'a vehicle full of air', vehicle: { chargeKg: 0, airKg: 0.003 }, contentKg: 8 },
  { what: 'an empty tank', vehicle: {}, contentKg: 0 },
  { what: 'an empty tank and an empty vehicle', vehicle: { chargeKg: 0 }, contentKg: 0 },
])('$what can be worked like any other', ({ vehicle, contentKg }) => {
  const spec = specOf({ vehicle });
  const hand = new Hand({ ...spec, tank: { ...spec.tank, contentKg } }).connect();
  hand.hold(RECOVER, 120);
  hand.hold(EVACUATE, 120);
  hand.hold(['highSideValve', 'chargeValve'], 20);
  const truth = hand.bench.truth();
  expect(Math.abs(truth.massDriftKg)).toBeLessThan(ONE_MILLIGRAM_KG);
  for (const kg of Object.values(truth)) expect(Number.isFinite(kg)).toBe(true);
});
