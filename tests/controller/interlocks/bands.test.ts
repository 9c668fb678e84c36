// Where each class of readings ends: at the limit itself, on both sides of it, and without the reading.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { mostInCondenserKg } from '../../../controller/estimates/condenser.ts';
import { type Seen, see } from '../../../controller/estimates/seen.ts';
import { tankExcessPa } from '../../../controller/estimates/tank-air.ts';
import { reserveNetKg } from '../../../controller/estimates/tank-liquid.ts';
import { type BandInput, type Bands, classify, reclassify } from '../../../controller/interlocks/bands.ts';
import { EQUIPMENT, OIL_EQUIPMENT, R134A, R1234YF, TICKET } from '../support/machine.ts';
import { readingsAt } from '../support/readings.ts';

const CALM: BandInput = {
  seen: see(readingsAt(0), EQUIPMENT, 0),
  equipment: EQUIPMENT,
  ticket: TICKET,
  curve: R134A,
  scaleTrust: 'trusted',
  scaleCounts: 2_100_000,
  scaleMassKg: 8,
  purges: true,
};

/** What is said of these readings on this machine, a calm one but for them. */
const said = (
  values: Partial<Seen>,
  parts: { readonly [P in keyof Equipment]?: Partial<Equipment[P]> } = {},
  over: Partial<BandInput> = {},
): Bands => {
  const equipment = Object.fromEntries(
    Object.entries({ ...EQUIPMENT, ...parts }).map(([name, part]) => [
      name,
      typeof part === 'object' && !Array.isArray(part)
        ? { ...(EQUIPMENT[name as keyof Equipment] as object), ...part }
        : part,
    ]),
  ) as Equipment;
  return classify({ ...CALM, seen: { ...CALM.seen, ...values }, equipment, ...over });
};

describe('Switches', () => {
  test.each(['clear', 'tripped', 'unknown'] as const)('of every machine that are %s are so', (state) => {
    const bands = said({ emergencyStop: state, highPressureSwitch: state, gasAlarm: state });
    expect([bands.emergencyStop, bands.highPressureSwitch, bands.gasAlarm]).toEqual([state, state, state]);
  });

  test('a fan moves air when its switch has tripped, and is still or unknown when not', () => {
    const fan = (fanFlow: Seen['fanFlow']) => said({ fanFlow }).fanFlow;
    expect([fan('tripped'), fan('clear')]).toEqual(['moving', 'still']);
    expect([fan('unknown'), fan('not-fitted')]).toEqual(['unknown', 'unknown']);
  });
});

describe('The tank', () => {
  test('is its own or one for contaminated refrigerant, which counts as what burns', () => {
    expect(said({})).toMatchObject({ tankUse: 'own', flammability: 'none' });
    expect(said({}, { tank: { contaminated: true } })).toMatchObject({
      tankUse: 'contaminated',
      flammability: 'mild',
    });
  });

  test('is of normal pressure up to nine tenths of the cut-out, and at that itself', () => {
    const parts = { pressure: { tankSpanPa: 4_000_000 } };
    const pressed = (tankPa: number | undefined) => said({ tankPa }, parts).tankPressure;
    expect(pressed(0.9 * EQUIPMENT.compressor.cutOutPa)).toBe('normal');
    expect(pressed(0.9 * EQUIPMENT.compressor.cutOutPa + 1)).toBe('high');
    expect(pressed(undefined)).toBe('unknown');
  });

  test('is full at its limit itself, by what the scale shows and by what it should', () => {
    const limitKg = EQUIPMENT.tank.fillLimitKg - mostInCondenserKg(EQUIPMENT);
    const filled = (scaleCounts: number, scaleMassKg: number) =>
      said({}, { scale: { countsPerKg: 1, zeroCounts: 0 } }, { scaleCounts, scaleMassKg }).tankMass;
    expect(filled(limitKg, 8)).toBe('full');
    expect(filled(8, limitKg)).toBe('full');
    expect(filled(limitKg - 1e-6, limitKg - 1e-6)).toBe('normal');
  });

  test('has enough liquid above its reserve, and NOT at the reserve itself', () => {
    const reserveKg = reserveNetKg(EQUIPMENT.tank, 293.15, R134A);
    const holds = (scaleCounts: number, scaleMassKg: number) =>
      said({}, { scale: { countsPerKg: 1, zeroCounts: 0 } }, { scaleCounts, scaleMassKg }).tankLiquid;
    expect(holds(reserveKg, 8)).toBe('short');
    expect(holds(8, reserveKg)).toBe('short');
    expect(holds(reserveKg + 1e-6, reserveKg + 1e-6)).toBe('enough');
  });

  test('is hot from its limit on, and unknown without a thermometer', () => {
    const warm = (tankTemperatureK: number | undefined) => said({ tankTemperatureK }).tankTemperature;
    expect(warm(EQUIPMENT.tank.temperatureLimitK)).toBe('hot');
    expect(warm(EQUIPMENT.tank.temperatureLimitK - 0.01)).toBe('normal');
    expect(warm(undefined)).toBe('unknown');
  });

  test('shows air only above one deviation, and NOT at that itself', () => {
    const atLimit = { tankPa: 571_710 + 7_000 };
    const tankSdPa = tankExcessPa({ ...CALM.seen, ...atLimit }, R134A)!;
    const air = (tankPa: number) => said({ tankPa }, { pressure: { tankSdPa }, temperatureSdK: 0 }).tankAir;
    expect(air(atLimit.tankPa)).toBe('none');
    expect(air(atLimit.tankPa + 1)).toBe('some');
  });

  test('is asked for its air only by a purge, and never by the curve of another refrigerant', () => {
    const air = { tankPa: 800_000 };
    expect(said(air).tankAir).toBe('some');
    expect(said(air, {}, { purges: false }).tankAir).toBe('unasked');
    expect(said(air, {}, { curve: R1234YF }).tankAir).toBe('unknown');
  });
});

describe('A bottle', () => {
  const oilFor = (kind: 'PAG' | 'POE', ticket: Partial<typeof TICKET>) =>
    said({}, { oil: { ...OIL_EQUIPMENT.oil!, kind } }, { ticket: { ...TICKET, ...ticket } }).bottleOil;

  test('of oil fits the vehicle that is given its kind, and no other', () => {
    expect(oilFor('PAG', {})).toBe('fits');
    expect(oilFor('POE', {})).toBe('other');
    expect(oilFor('POE', { oil: { kind: 'POE', addM3: 0 } })).toBe('fits');
    expect(said({}).bottleOil).toBe('unknown');
  });

  // PAG conducts: electric compressors take POE (common practice).
  test('of polyalkylene glycol never fits an electric compressor; of polyol ester it does', () => {
    const electricCompressor = true;
    expect(oilFor('PAG', { electricCompressor })).toBe('other');
    expect(oilFor('POE', { electricCompressor, oil: { kind: 'POE', addM3: 0 } })).toBe('fits');
  });

  test('of dye fits an electric compressor only where its maker allows the dye', () => {
    const dyeFor = (electricCompressor: boolean, approved: boolean) =>
      said(
        {},
        { dye: OIL_EQUIPMENT.dye! },
        { ticket: { ...TICKET, electricCompressor, dye: { addM3: 0, approved } } },
      ).bottleDye;
    expect([dyeFor(false, false), dyeFor(true, true), dyeFor(true, false)]).toEqual([
      'fits',
      'fits',
      'other',
    ]);
    expect(said({}).bottleDye).toBe('unknown');
  });
});

describe('The scale', () => {
  test('is trusted while its readings are and it reads', () => {
    expect(said({}).scale).toBe('trusted');
    expect(said({}, {}, { scaleTrust: 'disturbed' }).scale).toBe('doubtful');
    expect(said({}, {}, { scaleCounts: undefined }).scale).toBe('doubtful');
  });
});

describe('The manifold', () => {
  const manifold = (manifoldPa: number, barometerPa?: number) => said({ manifoldPa, barometerPa }).manifold;

  test('is low at the floor of the compressor itself, and in vacuum below', () => {
    expect(manifold(20_000, 101_325)).toBe('low');
    expect(manifold(19_999, 101_325)).toBe('vacuum');
  });

  test('is barometric from five kilopascals below the barometer on, wherever the machine stands', () => {
    expect([manifold(96_325, 101_325), manifold(96_324, 101_325)]).toEqual(['barometric', 'low']);
    expect([manifold(70_000, 75_000), manifold(69_999, 75_000)]).toEqual(['barometric', 'low']);
    expect([manifold(96_325), manifold(96_324)]).toEqual(['barometric', 'low']);
  });

  test('may be opened to the pump at its limit itself, and NOT above', () => {
    expect(manifold(EQUIPMENT.vacuumPump.openLimitPa, 101_325)).toBe('barometric');
    expect(manifold(EQUIPMENT.vacuumPump.openLimitPa + 1, 101_325)).toBe('over-limit');
  });

  // 10 kPa and three deviations of 100 Pa above the barometer.
  test('pushes oil out of the drain only above what weather and sensor may be off by', () => {
    const drain = (manifoldPa: number) => said({ manifoldPa }).drainPressure;
    expect([drain(111_625), drain(111_626)]).toEqual(['at-ambient', 'above-ambient']);
  });
});

describe('The hoses', () => {
  // 20 kPa and three deviations: 7.5 kPa on the high side, 2.5 kPa on the low.
  test('have pressure for the compressor above its floor by all that the gauge may be off', () => {
    const both = (highSidePa: number | undefined, lowSidePa: number | undefined) => {
      const { highHose, lowHose } = said({ highSidePa, lowSidePa });
      return [highHose, lowHose];
    };
    expect(both(42_500, 27_500)).toEqual(['no-pressure', 'no-pressure']);
    expect(both(42_501, 27_501)).toEqual(['pressure', 'pressure']);
    expect(both(undefined, undefined)).toEqual(['unknown', 'unknown']);
  });

  test('flow back when the high side is above the tank by 20 kPa and three deviations of both gauges', () => {
    // A right triangle of deviations: 3, 4 and 5 kPa.
    const flows = (highSidePa: number | undefined, tankPa: number | undefined) =>
      said({ highSidePa, tankPa }, { pressure: { highSideSdPa: 3_000, tankSdPa: 4_000 } }).chargeDirection;
    expect([flows(535_000, 500_000), flows(535_001, 500_000)]).toEqual(['forward', 'reverse']);
    expect([flows(undefined, 500_000), flows(535_000, undefined)]).toEqual(['unknown', 'unknown']);
  });

  // Below 4 bar above the atmosphere and 22 bar (common practice).
  test('of a running vehicle bear being fed below both limits, and NOT at one of them', () => {
    const sides = (highSidePa: number | undefined, lowSidePa: number | undefined, barometerPa?: number) =>
      said({ highSidePa, lowSidePa, barometerPa }).runningSides;
    expect(sides(2_199_999, 501_324, 101_325)).toBe('fit');
    expect(sides(2_200_000, 300_000, 101_325)).toBe('strained');
    expect(sides(1_500_000, 501_325, 101_325)).toBe('strained');
    expect([sides(1_500_000, 474_999, 75_000), sides(1_500_000, 475_000, 75_000)]).toEqual([
      'fit',
      'strained',
    ]);
    expect([sides(1_500_000, 501_324), sides(1_500_000, 501_325)]).toEqual(['fit', 'strained']);
    expect([sides(undefined, 300_000), sides(1_500_000, undefined)]).toEqual(['unknown', 'unknown']);
  });
});

describe('Classes of a scan', () => {
  test('are those of the scan before, the very same, until one of them changes', () => {
    const first = reclassify(undefined, CALM);
    expect(first).toEqual(classify(CALM));
    expect(reclassify(first, { ...CALM, seen: { ...CALM.seen, manifoldPa: 61_000 } })).toBe(first);
    const changed = reclassify(first, { ...CALM, seen: { ...CALM.seen, manifoldPa: 10_000 } });
    expect(changed).toEqual({ ...first, manifold: 'vacuum' });
  });
});
