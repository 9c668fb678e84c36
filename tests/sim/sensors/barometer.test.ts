// The barometer, fitted or typed, and what a wrong one would do (full vacuum at 2,000 m).
import { describe, expect, test } from 'vitest';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { barometerPa } from '../../../sim/fluids/air.ts';
import { runScenario } from '../../acceptance/run-scenario.ts';
import { ATMOSPHERE_PA, Kit, type KitChoices, known, mean } from './kit.ts';

const ALTITUDE_M = 2000;
const MOUNTAIN_PA = 79_495; // ISO 2533, table for 2,000 m.
const weather = { barometerPa: MOUNTAIN_PA };

/** Means of a minute under full vacuum. */
function emptied(choices: KitChoices) {
  const kit = new Kit({ ...choices, weather }, (plant) => plant.fillHoses(0));
  const minute = Array.from({ length: 600 }, () => kit.sample());
  return {
    kit,
    highPa: mean(minute.map((readings) => known(readings.highSidePressurePa))),
    lowPa: mean(minute.map((readings) => known(readings.lowSidePressurePa))),
    manifoldPa: mean(minute.map((readings) => known(readings.manifoldPressurePa))),
  };
}

describe('full vacuum at 2,000 m', () => {
  test('reads zero absolute with a fitted barometer', () => {
    const { highPa, lowPa, manifoldPa } = emptied({});
    expect(Math.abs(highPa)).toBeLessThan(200);
    expect(Math.abs(lowPa)).toBeLessThan(100);
    expect(Math.abs(manifoldPa)).toBeLessThan(3);
  });

  test('reads zero absolute with a typed altitude and no barometer', () => {
    const typedBarometerPa = barometerPa(ALTITUDE_M);
    const { kit, highPa, lowPa, manifoldPa } = emptied({
      build: { barometerFitted: false },
      typedBarometerPa,
    });
    expect(kit.sample().barometerPa).toEqual({ ok: false, reason: 'not-fitted' });
    expect(Math.abs(highPa)).toBeLessThan(200);
    expect(Math.abs(lowPa)).toBeLessThan(100);
    expect(Math.abs(manifoldPa)).toBeLessThan(3);
  });

  test('reads 0.22 bar on the gauge transducers where nobody typed anything, and still zero on the absolute sensor', () => {
    const { lowPa, manifoldPa } = emptied({ build: { barometerFitted: false } });
    expect(lowPa / 1e5).toBeCloseTo((ATMOSPHERE_PA - MOUNTAIN_PA) / 1e5, 2);
    expect(Math.abs(manifoldPa)).toBeLessThan(3);
  });

  test('against its own barometer full vacuum is −0.795 bar (ISO 2533), whichever way it was known', () => {
    for (const build of [{}, { barometerFitted: false }]) {
      const { lowPa } = emptied({ build, typedBarometerPa: barometerPa(ALTITUDE_M) });
      expect((lowPa - barometerPa(ALTITUDE_M)) / 1e5).toBeCloseTo(-0.795, 2);
    }
  });
});

test('a barometer out by its offset shifts the gauge transducers by as much and leaves the absolute sensor alone', () => {
  const straight = emptied({});
  const off = emptied({ build: { barometerOffsetPa: 500 } });
  expect(off.lowPa - straight.lowPa).toBeCloseTo(500, 0);
  expect(off.manifoldPa).toBe(straight.manifoldPa);
});

describe('a whole evacuation at 2,000 m', () => {
  const job = (equipment: object, build: object) =>
    runScenario({
      weather: { ambientC: 20, barometerPa: MOUNTAIN_PA },
      ticket: { service: 'evacuate-and-charge', refrigerant: 'R-134a', nominalChargeG: 500 },
      vehicle: { chargeG: 0 },
      equipment: { profile: 'good', ...equipment },
      build,
    });

  test.each([
    ['fitted', {}, {}],
    ['typed', { altitudeM: ALTITUDE_M }, { barometerFitted: false }],
  ])(
    'with the barometer %s ends in a verdict of tight, at the pressure of a good vacuum',
    async (_, equipment, build) => {
      const { outcome, hold, evacuation } = await job(equipment, build);
      expect(outcome).toBe('completed');
      expect(hold?.verdict).toBe('tight');
      expect(evacuation?.lowestPa).toBeLessThan(100);
    },
  );
});

describe('a typed altitude', () => {
  const scenario = (equipment: object) => () =>
    toScenario(
      { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 }, equipment },
      'x.json',
    );

  test('is a typed barometer by the standard atmosphere: 79.5 kPa at 2,000 m', () => {
    expect(scenario({ altitudeM: 2000 })().equipment.barometerPa! / MOUNTAIN_PA).toBeCloseTo(1, 4);
    expect(scenario({ barometerPa: 80_000 })().equipment.barometerPa).toBe(80_000);
    expect(scenario({})().equipment.barometerPa).toBeUndefined();
  });

  test('together with a typed barometer it is refused in one line that names both', () => {
    expect(scenario({ altitudeM: 2000, barometerPa: 80_000 })).toThrow(
      'x.json: equipment.altitudeM with equipment.barometerPa: one of them is enough, leave the other out',
    );
  });

  test('in feet it is refused with the metres to write', () => {
    expect(scenario({ altitudeM: 6562 })).toThrow(/equipment\.altitudeM.*feet.*2000/);
  });
});
