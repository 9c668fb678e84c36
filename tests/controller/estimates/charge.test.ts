// Cut-off, pulses, hold-up and coil against closed forms.
import { describe, expect, test } from 'vitest';
import {
  type CountInput,
  countDraw,
  type DrawCount,
  drawKgPerS,
  startCount,
} from '../../../controller/estimates/condenser.ts';
import { nextPulseMs, shutInMs } from '../../../controller/estimates/cutoff.ts';
import {
  flashedShare,
  mixtureDensityKgPerM3,
  predictedHoldupKg,
} from '../../../controller/estimates/holdup.ts';
import { keptAfterRun, keptChangeSdKg, keptOf } from '../../../controller/estimates/kept.ts';
import { R134A, R1234YF } from '../support/machine.ts';

/** Of a machine with a condenser of 0.12 L. */
const MACHINE = {
  compressor: { cutOutPa: 2.5e6, minimumOffMs: 120_000, sweptM3PerS: 0.24e-3, condenserM3: 0.12e-3 },
};

describe('Cut-off', () => {
  test('shuts so early that flow over dead time lands on the target', () => {
    const inMs = shutInMs({ remainingKg: 0.02, flowKgPerS: 0.015, deadTimeMs: 60, inFlightKg: 0.001 })!;
    const lands = 0.015 * ((inMs + 60) / 1000) + 0.001;
    expect(lands).toBeCloseTo(0.02, 9);
  });
  test('says now when it is too late, and nothing when nothing flows', () => {
    expect(
      shutInMs({ remainingKg: 0.0005, flowKgPerS: 0.02, deadTimeMs: 60, inFlightKg: 0 }),
    ).toBeLessThanOrEqual(0);
    expect(shutInMs({ remainingKg: 0.02, flowKgPerS: 0, deadTimeMs: 60, inFlightKg: 0 })).toBeUndefined();
  });

  test('a synthetic charge with stage, dead time and pulses ends within two grams for every flow', () => {
    for (const flow of [0.003, 0.008, 0.015, 0.03]) {
      let given = 0;
      const target = 0.6;
      const stage = Math.max(0.03, 2 * flow);
      given = target - stage;
      let kgPerMs = flow / 1000;
      for (let pulses = 0; pulses < 60; pulses += 1) {
        const ms = nextPulseMs({
          remainingKg: target - given,
          kgPerMs,
          shortestMs: 150,
          longestMs: 300,
          toleranceKg: 0.002,
        });
        if (ms === undefined) break;
        const got = (flow * ms) / 1000;
        given += got;
        kgPerMs += 0.4 * (got / ms - kgPerMs);
      }
      expect(Math.abs(given - target)).toBeLessThan(0.00235);
    }
  });

  test('a pulse that would overshoot by more than it helps is not given', () => {
    const input = { kgPerMs: 3e-5, shortestMs: 150, longestMs: 300, toleranceKg: 0.002 };
    expect(nextPulseMs({ ...input, remainingKg: 0.0019 })).toBeUndefined();
    expect(nextPulseMs({ ...input, remainingKg: 0.01 })).toBe(300);
    expect(nextPulseMs({ ...input, remainingKg: 0.006 })).toBeCloseTo(200, 6);
    expect(nextPulseMs({ ...input, remainingKg: -0.005 })).toBeUndefined();
  });
});

describe('Hold-up', () => {
  test("at the tank's own pressure nothing flashes and the mixture is liquid", () => {
    expect(flashedShare(R134A, 293.15, 571_710)).toBeCloseTo(0, 6);
    expect(mixtureDensityKgPerM3(R134A, 0, 293.15)).toBeCloseTo(1225.3, 0);
  });
  test('the mixture lies between vapour and liquid and thins as more flashes', () => {
    let before = 1226;
    for (const share of [0.01, 0.05, 0.2, 0.6, 1]) {
      const density = mixtureDensityKgPerM3(R134A, share, 293.15);
      expect(density).toBeLessThan(before);
      before = density;
    }
    expect(before).toBeCloseTo(27.78, 1);
  });
  test('a colder vehicle and a warmer room leave less in the hoses', () => {
    const base = {
      curve: R134A,
      tankTemperatureK: 295.15,
      ambientK: 293.15,
      vehiclePa: 560_000,
      volumeM3: 93e-6,
      lowHose: true,
    };
    const held = predictedHoldupKg(base);
    expect(predictedHoldupKg({ ...base, vehiclePa: 500_000 })).toBeLessThan(held);
    expect(predictedHoldupKg({ ...base, ambientK: 295.15 })).toBeLessThan(held);
  });
  test('stays inside what hoses can hold, however wrong the thermometers', () => {
    for (const curve of [R134A, R1234YF]) {
      for (const tankTemperatureK of [150, 280, 300, 450]) {
        for (const ambientK of [150, 280, 300, 450]) {
          const held = predictedHoldupKg({
            curve,
            tankTemperatureK,
            ambientK,
            vehiclePa: 500_000,
            volumeM3: 93e-6,
            lowHose: true,
          });
          expect(held).toBeGreaterThan(0.01);
          expect(held).toBeLessThan(0.075);
        }
      }
    }
  });
});

describe('The coil', () => {
  const running = {
    curve: R134A,
    running: true,
    suctionPa: 50_000,
    suctionSdShare: 0,
    tankPa: 571_710,
    tankSdPa: 5_000,
    ambientK: 293.15,
    temperatureSdK: 0.3,
    condenserM3: 0.12e-3,
    sweptM3PerS: 0.2417e-3,
    fanStopped: false,
    shownKg: 0,
    hoseGaugePa: 0,
    coilKg: 0,
  };
  const drawnFor = (seconds: number, input: Partial<CountInput>): DrawCount => {
    // What stood higher before the compressor came on, and fell.
    let count = countDraw(startCount(0), { ...running, running: false, suctionPa: 600_000, nowMs: 0 });
    for (let nowMs = 100; nowMs <= seconds * 1000; nowMs += 100)
      count = countDraw(count, { ...running, ...input, nowMs });
    return count;
  };
  const before = { kg: 0.02, sdKg: 0.001, pushes: 0, share: 1 };
  const arrived = (kg: number, sdKg = 0) => ({ kg, sdKg });

  test('is fed by displacement, density and what the dead space expands again', () => {
    const draw = { dischargePa: 571_710, ambientK: 293.15, sweptM3PerS: 0.2417e-3 };
    // Nothing to re-expand at equal pressures: the whole displacement of saturated vapour, 27.78 kg/m³ (REFPROP 10).
    const full = drawKgPerS(R134A, { ...draw, suctionPa: 571_710 });
    expect(full / (0.2417e-3 * 27.78)).toBeCloseTo(1, 2);
    // ps = pd / (1 + 1/c)^n: the dead space alone fills the cylinder.
    expect(drawKgPerS(R134A, { ...draw, suctionPa: 571_710 / 21 ** 1.1 })).toBeCloseTo(0, 6);
  });
  test('is fed through valves and lines: 7 % of the pressure where the cylinder fills, next to nothing in a trickle', () => {
    const share = (suctionPa: number): number => {
      const input = { suctionPa, ambientK: 293.15, dischargePa: 571_710, sweptM3PerS: 0.2417e-3 };
      return drawnFor(60, { suctionPa, tankPa: 571_710 }).totalKg / (60 * drawKgPerS(R134A, input));
    };
    expect(share(500_000)).toBeGreaterThan(0.9);
    expect(share(500_000)).toBeLessThan(0.95);
    expect(share(40_000)).toBeGreaterThan(0.94);
  });
  test('stands against less than the tank while it is cold, and against the tank once it is drowned', () => {
    const beside = { suctionPa: 35_000, tankPa: 770_000 };
    const cold = drawnFor(1200, { ...beside, shownKg: 0.3 }).totalKg;
    const drowned = drawnFor(1200, beside).totalKg;
    expect(drowned).toBeLessThan(0.97 * cold);
  });
  test('keeps what a trickle brought and the scale does not show', () => {
    const count = drawnFor(60, {});
    expect(count.pushedEmpty).toBe(false);
    expect(count.drawnKg).toBeGreaterThan(0.005);
    const kept = keptAfterRun(count, arrived(0.004), before, MACHINE);
    expect(kept.kg).toBeCloseTo(0.02 + count.drawnKg - 0.004, 4);
    expect(kept.sdKg).toBeGreaterThan(before.sdKg);
  });
  test('has given everything up once so much came that it stood warmer than the tank', () => {
    const count = drawnFor(60, { suctionPa: 500_000, shownKg: 0.25 });
    expect(count.pushedEmpty).toBe(true);
    expect(keptAfterRun(count, arrived(0.25), before, MACHINE).kg).toBe(0);
  });
  test('has not, beside a tank that much warmer than the room', () => {
    // Vapour pressure at 57 °C, or at 20 °C with air over it.
    expect(drawnFor(60, { suctionPa: 500_000, tankPa: 1_563_000 }).pushedEmpty).toBe(false);
  });
  test('has without any draw, beside a tank so much colder than the room', () => {
    expect(drawnFor(1, { tankPa: 500_000 }).pushedEmpty).toBe(true);
    expect(drawnFor(1, { tankPa: 500_000, tankSdPa: 30_000 }).pushedEmpty).toBe(false);
  });
  test('counts nothing while the compressor stands or a sensor is silent', () => {
    expect(drawnFor(60, { running: false }).drawnKg).toBe(0);
    expect(drawnFor(60, { tankPa: undefined }).drawnKg).toBe(0);
  });
  test('holds neither less than nothing nor more than fits', () => {
    expect(keptOf(before, 0, 0.1, 0.001, MACHINE).kg).toBe(0);
    expect(keptOf(before, 9, 0, 0.001, MACHINE).kg).toBeLessThan(0.2);
  });
  test('is more drowned, warmer, and so draws less, the more earlier runs have left in it', () => {
    const trickle = { suctionPa: 35_000, tankPa: 770_000, shownKg: 0.01 };
    expect(drawnFor(120, { ...trickle, coilKg: 0.1 }).totalKg).toBeLessThan(
      0.97 * drawnFor(120, trickle).totalKg,
    );
  });
  test('is the less sure, the less the dead space lets through', () => {
    const share = (suctionPa: number): number => {
      const { drawnSdKg, drawnKg } = drawnFor(10, { suctionPa });
      return drawnSdKg / drawnKg;
    };
    expect(share(100_000)).toBeLessThan(0.025);
    expect(share(30_000)).toBeGreaterThan(1.4 * share(100_000));
  });
  test('goes by what was drawn rather than by a scale that the hoses make doubtful', () => {
    const count = drawnFor(60, {});
    const sure = keptAfterRun(count, arrived(0), before, MACHINE);
    expect(sure.kg).toBeCloseTo(before.kg + count.drawnKg, 3);
    // 30 g that cannot have come: 18 g were drawn, and hoses that fall may show 15 g more or less.
    const unsure = keptAfterRun(count, arrived(0.03, 0.015), { ...before, kg: 0.034 }, MACHINE);
    expect(unsure.kg).toBeGreaterThan(0.034 + count.drawnKg - 0.03);
    expect(unsure.sdKg).toBeGreaterThan(sure.sdKg);
    expect(unsure.sdKg).toBeLessThan(0.015);
  });
  test('is empty, and in the doubt of what was there, when more arrives than came and was there', () => {
    const swept = keptAfterRun(
      drawnFor(60, {}),
      arrived(0.2),
      { kg: 0.02, sdKg: 0.01, pushes: 0, share: 1 },
      MACHINE,
    );
    expect(swept).toMatchObject({ kg: 0, pushes: 1 });
    expect(keptChangeSdKg({ kg: 0.02, sdKg: 0.01, pushes: 0, share: 1 }, swept)).toBeGreaterThan(0.01);
  });
  test('cools while the compressor stands, and keeps what comes next', () => {
    const beside = { ...running, tankPa: 600_000 };
    const warm = drawnFor(60, { ...beside, suctionPa: 500_000, shownKg: 0.25 });
    const next = (stoodMs: number): DrawCount => {
      let count = countDraw(warm, { ...beside, running: false, nowMs: 60_000 + stoodMs });
      for (let ms = 100; ms <= 15_000; ms += 100)
        count = countDraw(count, { ...beside, suctionPa: 80_000, shownKg: 0.25, nowMs: count.atMs + 100 });
      return count;
    };
    // 800 J/K and 40 W/K: of any warmth a four-hundredth is left after two minutes.
    expect(next(120_000).coilWarmerK).toBeLessThan(next(100).coilWarmerK);
    expect(next(120_000).drawnKg).toBeGreaterThan(next(100).drawnKg + 0.003);
  });
  test('has got nothing from a run in which the suction never fell and nothing arrived', () => {
    let count = startCount(0);
    for (let nowMs = 100; nowMs <= 60_000; nowMs += 100) count = countDraw(count, { ...running, nowMs });
    expect(count.totalKg).toBeGreaterThan(0.015);
    expect(keptAfterRun(count, arrived(0.001), before, MACHINE).kg).toBe(before.kg);
    // What arrives has been drawn, whatever the gauge says.
    expect(keptAfterRun(count, arrived(0.01), before, MACHINE).kg).toBeGreaterThan(before.kg + 0.005);
  });
  test('has got less from a compressor that the scale has shown to be worn', () => {
    const until = drawnFor(60, { suctionPa: 500_000, shownKg: 0.5 });
    let count = { ...until, shownKg: 0.5 * until.totalKg };
    for (let ms = 60_100; ms <= 180_000; ms += 100)
      count = countDraw(count, { ...running, shownKg: count.shownKg, nowMs: ms });
    const empty = { ...before, kg: 0 };
    const kept = keptAfterRun(count, arrived(count.shownKg), empty, MACHINE);
    expect(kept.share).toBeCloseTo(0.5, 1);
    expect(kept.kg).toBeCloseTo(kept.share * count.drawnKg, 3);
    const sound = keptAfterRun({ ...count, shownKg: until.totalKg }, arrived(until.totalKg), empty, MACHINE);
    expect(sound).toMatchObject({ share: 1 });
    expect(sound.kg).toBeCloseTo(count.drawnKg, 3);
    // And it is still worn in the next run, which shows nothing of it.
    const next = keptAfterRun(drawnFor(60, {}), arrived(0), kept, MACHINE);
    expect(next.kg - kept.kg).toBeCloseTo(kept.share * drawnFor(60, {}).drawnKg, 3);
  });
  test('keeps no more than was drawn when the scale shows less than nothing', () => {
    const count = drawnFor(60, {});
    expect(keptAfterRun(count, arrived(-0.013), before, MACHINE).kg).toBeCloseTo(
      before.kg + count.drawnKg,
      9,
    );
  });
  test('leaves the change uncertain by what was there only where that was pushed out', () => {
    const trickle = drawnFor(60, {});
    const known = { kg: 0.02, sdKg: 0.01, pushes: 0, share: 1 };
    expect(keptChangeSdKg(known, keptAfterRun(trickle, arrived(0), known, MACHINE))).toBeLessThan(0.005);
    const strong = drawnFor(60, { suctionPa: 500_000 });
    expect(keptChangeSdKg(known, keptAfterRun(strong, arrived(0), known, MACHINE))).toBeGreaterThan(0.01);
  });
});
