// What the compressor draws and the scale does not show: when it is called a blocked way to the tank, and when it may be in the coil.
import { describe, expect, test } from 'vitest';

import { startCount } from '../../../controller/estimates/condenser.ts';
import { liquidDensityKgPerM3, saturationK, saturationPa } from '../../../controller/estimates/saturation.ts';
import {
  type DeliveryInput,
  type DeliveryWatch,
  openDeliveryWatch,
  watchDelivery,
} from '../../../controller/interlocks/delivery-watch.ts';
import { R134A } from '../support/machine.ts';

const ROOM_K = 293.15;
const START_MS = 700_000;

/** A room of 20 °C, its tank at `tankK`, and a vehicle at `suctionPa`. */
type Draw = {
  readonly tankK: number | undefined;
  readonly suctionPa: number;
  /** What arrives of what is drawn, kg in kg; by displacement. */
  readonly arrives: (drawnKg: number) => number;
  readonly over?: (s: number) => Partial<DeliveryInput>;
  readonly from?: DeliveryWatch;
};

const inputOf = (tankK: number | undefined, suctionPa: number): DeliveryInput => ({
  curve: R134A,
  running: true,
  suctionPa,
  suctionSdShare: 0,
  tankPa: tankK === undefined ? undefined : saturationPa(R134A, tankK),
  tankSdPa: 5_000,
  ambientK: ROOM_K,
  temperatureSdK: 0.3,
  condenserM3: CONDENSER_M3,
  sweptM3PerS: 0.2417e-3,
  fanStopped: false,
  hoseGaugePa: 0,
  tankKg: 8,
});

type Drawn = { readonly watch: DeliveryWatch; readonly blockedAtKg: number | undefined; readonly s: number };

/** Draws until it is called blocked. */
function draw(
  { tankK, suctionPa, arrives, over = () => ({}), from = openDeliveryWatch() }: Draw,
  untilS = 300,
): Drawn {
  let watch = from;
  let drawnKg = 0;
  for (let ms = 0; ms <= untilS * 1000; ms += 100) {
    const input = { ...inputOf(tankK, suctionPa), tankKg: 8 + arrives(drawnKg), ...over(ms / 1000) };
    watch = watchDelivery(watch, input, START_MS + ms);
    drawnKg = watch.count?.totalKg ?? drawnKg;
    if (watch.blocked && !from.blocked) return { watch, blockedAtKg: drawnKg, s: ms / 1000 };
  }
  return { watch, blockedAtKg: undefined, s: untilS };
}

const nothing = (): number => 0;
const share = (part: number) => (drawnKg: number) => part * drawnKg;
/** Cold liquid in the tank: the coil is warmer and passes everything on. */
const COLD_K = ROOM_K - 8;
/** Full coil at 20 °C: nine tenths of 0.12 L at 1225.3 kg/m³. */
/** Of the machine in these tests. */
const CONDENSER_M3 = 0.12e-3;
const FULL_KG = 0.9 * CONDENSER_M3 * 1225.3;

describe('Into a tank colder than the room, which the coil passes everything on to,', () => {
  const cold = { tankK: COLD_K, suctionPa: 300_000 };

  test('nothing that arrives of 10 g or more is a blocked way after five seconds, and NOT before', () => {
    expect(draw({ ...cold, arrives: nothing }).s).toBe(5);
    const { s, blockedAtKg } = draw({ ...cold, suctionPa: 40_000, arrives: nothing });
    expect(s).toBeGreaterThan(30);
    expect(blockedAtKg).toBeCloseTo(0.01, 4);
  });

  test('less than 15 % of it is one, and more is NOT', () => {
    expect(draw({ ...cold, arrives: share(0.14) }).watch.blocked).toBe(true);
    expect(draw({ ...cold, arrives: share(0.16) }).watch.blocked).toBe(false);
    expect(draw({ ...cold, arrives: share(1) }).watch).toMatchObject({ blocked: false, keptKg: 0 });
  });

  test('a tank that seems to lose as much has a scale that was moved, and the next 10 g are looked at afresh', () => {
    const leant = (drawnKg: number): number => (drawnKg < 0.05 ? drawnKg : drawnKg - 0.03);
    expect(draw({ ...cold, arrives: leant }).watch.blocked).toBe(false);
    const leantAndShut = (drawnKg: number): number => (drawnKg < 0.05 ? drawnKg : 0.02);
    const { blockedAtKg } = draw({ ...cold, arrives: leantAndShut });
    expect(blockedAtKg! - 0.05).toBeLessThan(0.06);
  });

  test('a scale that runs away downwards hides a blocked way for no more than 10 g longer', () => {
    const still = draw({ ...cold, arrives: nothing }).blockedAtKg!;
    const { blockedAtKg } = draw({ ...cold, arrives: (drawnKg) => -drawnKg });
    expect(blockedAtKg! - still).toBeLessThan(2 * still);
    expect(blockedAtKg!).toBeLessThan(0.04);
  });

  test('a way that is shut in the middle of a run is seen as soon as what arrived before is left aside', () => {
    const shutAt = (shutKg: number) => draw({ ...cold, arrives: (drawnKg) => Math.min(drawnKg, shutKg) });
    const { s, blockedAtKg } = shutAt(0.06);
    expect(blockedAtKg! - 0.06).toBeLessThan(0.03);
    expect(s).toBe(25);
  });

  test('a scale or a thermometer that is lost for a moment begins the comparison anew', () => {
    const lost = (over: Partial<DeliveryInput>) =>
      draw({ ...cold, arrives: nothing, over: (s) => (Math.abs(s - 3) < 0.05 ? over : {}) }).s;
    expect(lost({ tankKg: undefined })).toBe(8.1);
    expect(lost({ ambientK: undefined })).toBe(8.1);
  });

  test('a scale that is never trusted says nothing', () => {
    expect(draw({ ...cold, arrives: nothing, over: () => ({ tankKg: undefined }) }).watch.blocked).toBe(
      false,
    );
  });

  test('the limits themselves: 10 g drawn is enough to tell, and 15 % of it arrives', () => {
    const count = { ...startCount(START_MS), pushedEmpty: true, totalKg: 0.01 };
    const from = { atMs: START_MS - 5_000, drawnKg: 0, tankKg: 0 };
    const arrived = (tankKg: number, totalKg = 0.01, atMs = from.atMs) => {
      const watch = {
        ...openDeliveryWatch(),
        count: { ...count, totalKg },
        startKg: 0,
        from: { ...from, atMs },
      };
      return watchDelivery(watch, { ...inputOf(COLD_K, 300_000), tankKg }, START_MS).blocked;
    };
    expect(arrived(0)).toBe(true);
    expect(arrived(0.15 * 0.01)).toBe(false);
    expect(arrived(0.149 * 0.01)).toBe(true);
    expect(arrived(0, 0.009_999)).toBe(false);
    expect(arrived(0, 0.01, from.atMs + 1)).toBe(false);
    // Half of it lost, exact in binary, is a scale that was moved; less is nothing that arrived.
    expect(arrived(-(2 ** -7), 2 ** -6)).toBe(false);
    expect(arrived(0.000_001 - 2 ** -7, 2 ** -6)).toBe(true);
  });
});

describe('Into a tank a little warmer than the room, the coil keeps what comes until it is full:', () => {
  const warm = { tankK: ROOM_K + 2.85, suctionPa: 60_000 };
  const blockedAtKg = (parts: Partial<Draw>) =>
    draw({ ...warm, arrives: nothing, ...parts }, 450).blockedAtKg;

  test('nothing that arrives is a blocked way once nine tenths of it are liquid', () => {
    expect(blockedAtKg({})).toBeCloseTo(FULL_KG, 4);
  });

  test('what arrived, 15 % or more of it, was never missing', () => {
    expect(blockedAtKg({ arrives: share(0.16) })).toBeUndefined();
    expect(blockedAtKg({ arrives: share(0.14) })).toBeCloseTo(FULL_KG / 0.86, 3);
  });

  test('what earlier runs left in it counts, and what arrived of them does NOT', () => {
    const first = draw({ ...warm, arrives: nothing }, 150).watch;
    const stood = watchDelivery(
      first,
      { ...inputOf(warm.tankK, 60_000), running: false },
      START_MS + 151_000,
    );
    expect(stood).toEqual({ ...openDeliveryWatch(), leftKg: first.keptKg });
    expect(first.keptKg).toBeGreaterThan(0.05);
    expect(blockedAtKg({ from: stood })).toBeCloseTo(FULL_KG - first.keptKg, 4);
    const brought = draw({ ...warm, arrives: share(1) }, 150).watch;
    expect(brought.keptKg).toBe(0);
  });

  test('what earlier runs left in it is gone once the coil has pushed it out', () => {
    const from = { ...openDeliveryWatch(), leftKg: 0.12 };
    const pushed = draw({ tankK: ROOM_K, suctionPa: 300_000, arrives: share(1), from }, 20).watch;
    expect(pushed.count?.pushedEmpty).toBe(true);
    // A vehicle that gives little more: the coil cools, and keeps what comes again.
    let watch = pushed;
    let keptKg = 0;
    for (let ms = 20_100; ms < 120_000; ms += 100) {
      const input = { ...inputOf(ROOM_K + 2.85, 60_000), tankKg: pushed.lastKg };
      watch = watchDelivery(watch, input, START_MS + ms);
      keptKg = Math.max(keptKg, watch.keptKg);
    }
    expect(keptKg).toBeGreaterThan(0.01);
    expect(keptKg).toBeLessThan(0.06);
    expect(watch.blocked).toBe(false);
  });

  test('nothing is said where the tank is warmer by more than 4 K, or its pressure is not read: there it fills anyway', () => {
    const tankK = ROOM_K + 4;
    const tankPa = saturationPa(R134A, tankK);
    const ambientK = saturationK(R134A, tankPa) - 4;
    const full = (over: Partial<DeliveryInput>, keptKg = 0.14) => {
      const count = { ...startCount(START_MS), drawnKg: 0.01 };
      const watch = { ...openDeliveryWatch(), count, startKg: 8, leftKg: keptKg - 0.01 };
      return watchDelivery(watch, { ...inputOf(tankK, 60_000), ambientK, ...over }, START_MS).blocked;
    };
    expect(full({ tankPa })).toBe(true);
    expect(full({ tankPa, ambientK: ambientK - 0.001 })).toBe(false);
    expect(full({ tankPa: undefined })).toBe(false);
    expect(full({ tankPa }, 0.12)).toBe(false);
  });

  test('the limits themselves: nine tenths are NOT full, and 15 % that arrives is something', () => {
    // Exact in binary.
    const drawnKg = 2 ** -5;
    const fullKg = 0.9 * CONDENSER_M3 * liquidDensityKgPerM3(R134A, ROOM_K);
    const full = (leftKg: number, arrivedKg = 0) => {
      const count = { ...startCount(START_MS), drawnKg };
      const watch = { ...openDeliveryWatch(), count, startKg: 0, leftKg };
      return watchDelivery(watch, { ...inputOf(ROOM_K + 2, 60_000), tankKg: arrivedKg }, START_MS).blocked;
    };
    expect(full(fullKg - drawnKg)).toBe(false);
    expect(full(fullKg - drawnKg + 1e-9)).toBe(true);
    expect(full(fullKg, 0.15 * drawnKg)).toBe(false);
    expect(full(fullKg, 0.149 * drawnKg)).toBe(true);
  });

  test('a scale that is lost for a moment, even as the coil is pushed out, hides nothing of what is missing', () => {
    const over = (s: number) => (s > 40 && s < 42 ? { tankKg: undefined } : {});
    expect(blockedAtKg({ over })).toBeCloseTo(FULL_KG, 3);
    const unread = { ...inputOf(COLD_K, 300_000), tankKg: undefined };
    const pushed = watchDelivery(
      draw({ tankK: COLD_K, suctionPa: 300_000, arrives: share(1) }, 10).watch,
      unread,
      START_MS + 10_100,
    );
    expect(pushed.count?.pushedEmpty).toBe(true);
    expect(pushed.count?.shownKg).toBeCloseTo(0.03, 2);
  });
});

describe('The watch', () => {
  test('stays blocked for the run, whatever arrives then, and is free again for the next', () => {
    const { watch } = draw({ tankK: COLD_K, suctionPa: 300_000, arrives: nothing });
    expect(watch.blocked).toBe(true);
    const later = (from: DeliveryWatch, over: Partial<DeliveryInput>) =>
      watchDelivery(from, { ...inputOf(COLD_K, 300_000), tankKg: 8.5, ...over }, START_MS + 60_000);
    expect(later(watch, {}).blocked).toBe(true);
    expect(later(watch, { tankPa: saturationPa(R134A, ROOM_K + 10) }).blocked).toBe(true);
    expect(later(watch, { tankKg: undefined }).blocked).toBe(true);
    expect(later(watch, { running: false })).toEqual(openDeliveryWatch());
  });

  test('of a compressor that stands is the very same', () => {
    const stands = { ...openDeliveryWatch(), leftKg: 0.05 };
    expect(watchDelivery(stands, { ...inputOf(COLD_K, 300_000), running: false }, START_MS)).toBe(stands);
  });
});
