// What the compressor draws by its displacement, and when the coil has surely pushed its liquid into the tank.
import { describe, expect, test } from 'vitest';
import {
  type CountInput,
  countDraw,
  type DrawCount,
  drawKgPerS,
  mostInCondenserKg,
  startCount,
} from '../../../controller/estimates/condenser.ts';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';

/** R-134a at 20 °C (Tillner-Roth and Baehr): 571.71 kPa, 27.78 kg/m³ of vapour. */
const SATURATED_PA = 571_710;
const AMBIENT_K = 293.15;
const SWEPT = 0.2417e-3;

describe('The draw of a compressor', () => {
  const kgPerS = (suctionPa: number, dischargePa: number) =>
    drawKgPerS(R134A, { suctionPa, dischargePa, ambientK: AMBIENT_K, sweptM3PerS: 1e-3 });

  test('is its whole displacement of saturated vapour where nothing has to be compressed', () => {
    expect(kgPerS(SATURATED_PA, SATURATED_PA)).toBeCloseTo(0.02778, 8);
    expect(kgPerS(SATURATED_PA, 100_000)).toBeCloseTo(0.02778, 8);
  });

  test('of thin vapour goes by the ideal gas law, within the few per cent of its molar mass', () => {
    const ideal = (0.102 * 1_000) / (8.314463 * AMBIENT_K);
    expect(kgPerS(1_000, 1_000) / (1e-3 * ideal)).toBeCloseTo(1, 1);
    // Denser by half the share that saturated vapour is denser by, half-way to saturation.
    const thin = kgPerS(1, 1);
    const denser = kgPerS(SATURATED_PA, SATURATED_PA) / (SATURATED_PA * thin) - 1;
    expect(kgPerS(SATURATED_PA / 2, 1) / ((SATURATED_PA / 2) * thin) - 1).toBeCloseTo(denser / 2, 4);
    expect(kgPerS(2 * SATURATED_PA, 1) / (2 * SATURATED_PA * thin) - 1).toBeCloseTo(denser, 4);
  });

  test('loses what dead space of a twentieth expands by, and comes to an end', () => {
    // Polytropic with 1.1: eight times the pressure is 6.622 times the volume.
    const filled = 1.05 - 0.05 * 8 ** (1 / 1.1);
    expect(filled).toBeCloseTo(0.7189, 4);
    expect(kgPerS(SATURATED_PA, 8 * SATURATED_PA) / 0.02778).toBeCloseTo(filled, 6);
    // 21 times the volume are 28.47 times the pressure.
    expect(kgPerS(SATURATED_PA, 28.4 * SATURATED_PA)).toBeGreaterThan(0);
    expect(kgPerS(SATURATED_PA, 28.5 * SATURATED_PA)).toBe(0);
  });

  test('knows the room that it is asked about, though it was another one before', () => {
    const warm = { suctionPa: 100_000, dischargePa: 100_000, ambientK: 313.15, sweptM3PerS: 1e-3 };
    const first = drawKgPerS(R134A, warm);
    const colder = drawKgPerS(R134A, { ...warm, ambientK: 283.15 });
    expect(colder).toBeGreaterThan(first);
    expect(drawKgPerS(R134A, warm)).toBe(first);
  });

  test('leaves at most a coil full of cold liquid', () =>
    expect(mostInCondenserKg(EQUIPMENT)).toBeCloseTo(0.12e-3 * 1_295, 9));
});

const input = (over: Partial<CountInput> = {}): CountInput => ({
  curve: R134A,
  nowMs: 1_000,
  running: true,
  suctionPa: 20_000,
  suctionSdShare: 0,
  tankPa: SATURATED_PA,
  tankSdPa: 5_000,
  ambientK: AMBIENT_K,
  temperatureSdK: 0.3,
  sweptM3PerS: SWEPT,
  condenserM3: 0.12e-3,
  fanStopped: false,
  shownKg: 0,
  hoseGaugePa: 0,
  coilKg: 0,
  ...over,
});

describe('A run is counted', () => {
  /** 20 kPa against the coil at the room's own saturation: 28.6 to one is nearly nothing; 100 kPa are 5.7 to one. */
  const counted = (over: Partial<CountInput> = {}, before: DrawCount = startCount(0)) =>
    countDraw(before, input({ suctionPa: 100_000, ...over }));

  test('by its displacement, less what the valves cost', () => {
    const { drawnKg, totalKg, atMs, pushedEmpty } = counted();
    const most = drawKgPerS(R134A, {
      suctionPa: 100_000,
      dischargePa: SATURATED_PA,
      ambientK: AMBIENT_K,
      sweptM3PerS: SWEPT,
    });
    // Seven per cent of the pressure at a full cylinder, by the square of how full it is: 0.81² of it.
    const least = drawKgPerS(R134A, {
      suctionPa: 93_000,
      dischargePa: SATURATED_PA,
      ambientK: AMBIENT_K,
      sweptM3PerS: SWEPT,
    });
    expect(drawnKg).toBeLessThan(most);
    expect(drawnKg).toBeGreaterThan(least);
    const inletPa = 100_000 * (1 - 0.07 * (1.05 - 0.05 * 5.7171 ** (1 / 1.1)) ** 2);
    const exact = { suctionPa: inletPa, dischargePa: SATURATED_PA, ambientK: AMBIENT_K, sweptM3PerS: SWEPT };
    expect(drawnKg / drawKgPerS(R134A, exact)).toBeCloseTo(1, 9);
    expect({ totalKg, atMs, pushedEmpty }).toEqual({ totalKg: drawnKg, atMs: 1_000, pushedEmpty: false });
  });

  test('on top of what there was, second by second', () => {
    const before = { ...startCount(0), drawnKg: 0.01, totalKg: 0.03, drawnSdKg: 0.001 };
    const once = counted();
    const after = counted({}, before);
    expect(after.drawnKg - 0.01).toBeCloseTo(once.drawnKg, 5);
    expect(after.totalKg - 0.03).toBeCloseTo(once.totalKg, 5);
    expect(after.drawnSdKg - 0.001).toBeCloseTo(once.drawnSdKg, 5);
    const half = counted({ nowMs: 500 });
    expect(half.drawnKg).toBeCloseTo(once.drawnKg / 2, 9);
    expect(half.totalKg).toBeCloseTo(once.totalKg / 2, 9);
    expect(half.drawnSdKg).toBeCloseTo(once.drawnSdKg / 2, 9);
    expect(half.coilWarmerK).toBeCloseTo(once.coilWarmerK / 2, 9);
    expect(counted({ nowMs: 5_000 }, startCount(4_000)).drawnKg).toBeCloseTo(once.drawnKg, 12);
  });

  test('no better than by one and a half per cent, and worse the less comes through', () => {
    const sdShare = (over: Partial<CountInput>) => {
      const { drawnSdKg, drawnKg } = counted(over);
      return drawnSdKg / drawnKg;
    };
    expect(sdShare({})).toBeGreaterThan(0.015);
    expect(sdShare({})).toBeLessThan(0.017);
    // 22 kPa are 26 to one: hardly anything comes, and a little more pressure in the coil makes much.
    expect(sdShare({ suctionPa: 22_000 })).toBeGreaterThan(0.1);
    expect(sdShare({ suctionPa: 20_100 })).toBeLessThanOrEqual(1);
    expect(sdShare({ suctionSdShare: 0.2 })).toBeCloseTo(Math.hypot(0.2, sdShare({})), 9);
    // Of so full a cylinder the coil's kelvin costs what the law of its expansion says.
    const filled = 1.05 - 0.05 * (SATURATED_PA / (100_000 * (1 - 0.07 * 0.806 ** 2))) ** (1 / 1.1);
    const coil = (((1.05 - filled) / 1.1) * 0.028 * Math.hypot(0.3, 0.3)) / filled;
    expect(sdShare({})).toBeCloseTo(Math.hypot(0.015, coil), 5);
  });

  test('NOT while pressure or temperature is unknown, or nothing runs', () => {
    for (const over of [
      { running: false },
      { suctionPa: undefined },
      { suctionPa: 0 },
      { suctionPa: -500 },
      { tankPa: undefined },
      { ambientK: undefined },
    ])
      expect(counted(over)).toMatchObject({ drawnKg: 0, totalKg: 0, atMs: 1_000 });
  });

  test('the coil cools by its fan while the compressor stands: to the e-th part in twenty seconds', () => {
    const warm = { ...startCount(0), coilWarmerK: 2 };
    expect(counted({ running: false, nowMs: 20_000 }, warm).coilWarmerK).toBeCloseTo(2 / Math.E, 9);
    expect(counted({ tankPa: undefined, nowMs: 20_000 }, warm).coilWarmerK).toBe(2);
  });

  test('the coil is warmed by what comes, and cooled less where its fan stands', () => {
    const warm = { ...startCount(0), coilWarmerK: 1 };
    const still = counted({ fanStopped: true }, warm);
    const blown = counted({}, warm);
    // 182.3 kJ/kg (R-134a, 20 °C, REFPROP) and 40 kJ/kg of hot gas into 800 J/K; the fan takes 40 W/K, still air 6.
    const heatK = (blown.totalKg * (182_300 + 40_000)) / 800;
    expect(blown.coilWarmerK - 1).toBeCloseTo(heatK - 40 / 800, 2);
    expect(still.coilWarmerK - 1).toBeCloseTo(heatK - 6 / 800, 2);
    expect(still.coilWarmerK - blown.coilWarmerK).toBeCloseTo(34 / 800, 4);
    const half = { ...startCount(0), coilWarmerK: 0.5 };
    const apart = counted({ fanStopped: true }, half).coilWarmerK - counted({}, half).coilWarmerK;
    expect(apart).toBeCloseTo(17 / 800, 4);
  });

  test('liquid that stands in the coil makes the rest of it warmer, and less is drawn', () => {
    const warm = { ...startCount(0), coilWarmerK: 1 };
    const high = { tankPa: 5_000_000 };
    const drawn = (over: Partial<CountInput>, before: Partial<DrawCount> = {}) =>
      counted({ ...high, ...over }, { ...warm, ...before }).totalKg;
    const empty = drawn({});
    expect(drawn({ coilKg: 0.07 })).toBeLessThan(empty);
    // Drawn and not arrived is as much as kept; what has arrived is not; an emptied coil holds nothing of before.
    expect(drawn({}, { drawnKg: 0.07 })).toBeCloseTo(drawn({ coilKg: 0.07 }), 12);
    expect(drawn({ shownKg: 0.07 }, { drawnKg: 0.07 })).toBeCloseTo(empty, 12);
    expect(drawn({}, { shownKg: 0.07 })).toBeCloseTo(drawn({ coilKg: 0.07 }), 12);
    expect(drawn({ coilKg: 0.07 }, { pushedEmpty: true })).toBeCloseTo(empty, 12);
    expect(drawn({ shownKg: 0.07 })).toBeCloseTo(empty, 12);
    // A tenth of its surface condenses however full it is.
    expect(drawn({ coilKg: 0.15 })).toBeCloseTo(drawn({ coilKg: 0.6 }), 12);
    const half = (0.12e-3 * 1_225.3) / 2;
    expect(drawn({ coilKg: half })).toBeCloseTo(drawn({}, { coilWarmerK: 2 }), 9);
  });

  test('against the tank where that is lower than the warm coil', () => {
    expect(counted({ tankPa: 300_000, tankSdPa: 1e9 }).totalKg).toBeGreaterThan(counted().totalKg);
    expect(counted({ tankPa: 900_000 }).totalKg).toBe(counted({ tankPa: 2_000_000 }).totalKg);
  });

  test('from the pressure of the hoses at its start on', () => {
    expect(counted({ hoseGaugePa: 7 }).hoseGaugePa).toBe(7);
    expect(counted({ hoseGaugePa: 9 }, { ...startCount(0), hoseGaugePa: 7 }).hoseGaugePa).toBe(7);
    expect(startCount(5, 0.2)).toMatchObject({ atMs: 5, shownKg: 0.2, fromShownKg: 0.2, pushedEmpty: false });
    expect(startCount(5).shownKg).toBe(0);
  });
});

describe('The coil pushes its liquid into the tank', () => {
  const before: DrawCount = {
    ...startCount(0, 0.5),
    drawnKg: 0.02,
    totalKg: 0.05,
    drawnSdKg: 0.003,
    hoseGaugePa: 7,
  };
  const at = (coilWarmerK: number, over: Partial<CountInput> = {}) =>
    countDraw({ ...before, coilWarmerK }, input({ nowMs: 1, shownKg: 0.54, hoseGaugePa: 9, ...over }));
  // 10 kPa for check valve and line are 0.57 K of a curve of 17.5 kPa/K, and three deviations of 0.3 K and 5 kPa.
  const FROM_K = 10_000 / 17_500 + 3 * Math.hypot(0.3, 5_000 / 17_500);

  test('when it is surely warm enough for the pressure of the tank, and the count begins anew', () => {
    expect(at(FROM_K - 0.1).pushedEmpty).toBe(false);
    const pushed = at(FROM_K + 0.1);
    expect(pushed).toMatchObject({
      pushedEmpty: true,
      drawnKg: 0,
      drawnSdKg: 0,
      shownKg: 0.54,
      fromShownKg: 0.5,
      hoseGaugePa: 9,
      atMs: 1,
    });
    expect(pushed.totalKg).toBeCloseTo(0.05, 6);
    expect(pushed.suction).toBeDefined();
  });

  test('and hardly gets any warmer than that: half a kelvin', () => {
    expect(at(FROM_K + 5).coilWarmerK).toBeCloseTo(FROM_K + 0.5, 1);
    expect(at(FROM_K + 0.2).coilWarmerK).toBeCloseTo(FROM_K + 0.2, 2);
    // A tank colder than the room is pushed into from the start.
    const cold = at(3, { tankPa: saturationPa(R134A, AMBIENT_K - 10) });
    expect(cold).toMatchObject({ pushedEmpty: true, coilWarmerK: 0.5 });
  });

  test('against air in it as well', () => {
    expect(at(FROM_K + 0.1, { tankPa: SATURATED_PA + 50_000 }).pushedEmpty).toBe(false);
  });
});
