// A shut manifold that rises and a tank that loses: what is called a valve that leaks through, and what is not.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import {
  type LossWatch,
  NOT_WEIGHED,
  restMassOf,
  watchLoss,
} from '../../../controller/interlocks/loss-watch.ts';
import { noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { watchWeights } from '../../../controller/interlocks/memory-watches.ts';
import {
  NOT_SHUT,
  type SeatWatch,
  seatsOf,
  shutSince,
  watchSeats,
} from '../../../controller/interlocks/seat-watch.ts';
import { type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { none, readingsAt } from '../support/readings.ts';
import { NOTHING_TOLD } from '../support/watches.ts';

const SCAN_MS = 100;
const SPAN_PA = 160_000;
const BARE = { withoutBarometer: false, dry: true, on: [] as readonly Output[] };

/** When a leak is seen, s after the valves shut; undefined when it is not. */
function seenAfterS(pressurePa: (s: number) => number, untilS: number, over: Partial<typeof BARE> = {}) {
  const { withoutBarometer, dry, on } = { ...BARE, ...over };
  const commands = on.length === 0 ? SAFE_COMMANDS : want(...on);
  let watch: SeatWatch = NOT_SHUT;
  for (let nowMs = 0; nowMs <= untilS * 1000; nowMs += SCAN_MS) {
    const pa = pressurePa(nowMs / 1000);
    const readings = readingsAt(nowMs, {
      manifoldPressurePa: pa > SPAN_PA ? none('out-of-range') : pa,
      ...(withoutBarometer ? { barometerPa: none('not-fitted') } : {}),
    });
    watch = shutSince(watchSeats(watch, see(readings, EQUIPMENT, nowMs), dry, nowMs), commands, nowMs);
    if (seatsOf(watch, nowMs) === 'leaks') return nowMs / 1000;
  }
  return undefined;
}

describe('A closed manifold', () => {
  // 0.05 g/s of R-134a into 0.04 L at 20 °C by the gas law: 30 kPa/s.
  const leaking = (s: number): number => 45_000 + 30_000 * s;

  test('that rises as 0.05 g/s make it is seen within seconds, with a barometer and without', () => {
    expect(seenAfterS(leaking, 60)).toBeLessThan(6);
    expect(seenAfterS(leaking, 60, { withoutBarometer: true })).toBeLessThan(6);
  });

  test('and from a vacuum as well, up to beyond the span of the sensor', () => {
    expect(seenAfterS((s) => 50 + 30_000 * s, 60)).toBeLessThan(8);
  });

  test.each([
    { what: 'warms by 20 K in ten minutes', pa: (s: number) => 45_000 * (1 + (20 / 293) * (s / 600)) },
    { what: 'takes what oil gives off', pa: (s: number) => 44_000 + 900 * (1 - Math.exp(-s / 40)) },
    { what: 'fills with air up to the atmosphere', pa: (s: number) => 101_325 - 60_000 * Math.exp(-s / 5) },
    { what: 'creeps up slower than any leak that matters', pa: (s: number) => 60_000 + 150 * s },
    { what: 'stands beyond the span from the start', pa: () => 500_000 },
    { what: 'falls', pa: (s: number) => Math.max(300_000 - 20_000 * s, 40_000) },
  ])('that $what is NOT called a leak', ({ pa }) => {
    expect(seenAfterS(pa, 600)).toBeUndefined();
  });

  test('is NOT judged while a valve is open, or while liquid may boil in it', () => {
    expect(seenAfterS(leaking, 60, { on: ['lowSideValve'] })).toBeUndefined();
    expect(seenAfterS(leaking, 60, { dry: false })).toBeUndefined();
  });
});

type Rest = {
  readonly atRest?: boolean;
  /** Until then the absolute sensor tells that nothing comes, at this pressure. */
  readonly sealedUntilS?: number;
  readonly sealedPa?: (s: number) => number;
  readonly hoseSdKg?: (s: number) => number;
  readonly creepKgPerS?: number;
  readonly worstOwnKgPerS?: (s: number) => number;
};

/** When a loss is seen, s after the valves shut, by a scale that waves within its noise. */
function lossSeenAfterS(massKg: (s: number) => number, untilS: number, noiseKg: number, rest: Rest = {}) {
  const { atRest = true, sealedUntilS = 0, sealedPa = () => 50, hoseSdKg = () => 0 } = rest;
  const { creepKgPerS = 0, worstOwnKgPerS = () => 0 } = rest;
  let watch: LossWatch = NOT_WEIGHED;
  for (let nowMs = 0; nowMs <= untilS * 1000; nowMs += SCAN_MS) {
    const s = nowMs / 1000;
    const kg = massKg(s) + noiseKg * Math.sin(nowMs * 0.7);
    const weight = {
      kg,
      noiseKg,
      hoseSdKg: hoseSdKg(s),
      creepKgPerS,
      worstOwnKgPerS: worstOwnKgPerS(s),
      sealedPa: s < sealedUntilS ? sealedPa(s) : undefined,
    };
    watch = watchLoss(watch, atRest ? weight : undefined, nowMs);
    if (restMassOf(watch) === 'falling') return s;
  }
  return undefined;
}

/** When the scale leaves it open whether a tank that loses so much is tight. */
function doubtedAfterS(lossKgPerS: number, noiseKg: number): number {
  let watch: LossWatch = NOT_WEIGHED;
  for (let nowMs = 0; nowMs <= 60_000; nowMs += SCAN_MS) {
    const kg = 8 - (lossKgPerS * nowMs) / 1000 + noiseKg * Math.sin(nowMs * 0.7);
    watch = watchLoss(
      watch,
      { kg, noiseKg, hoseSdKg: 0, creepKgPerS: 0, worstOwnKgPerS: 0, sealedPa: undefined },
      nowMs,
    );
    if (restMassOf(watch) === 'doubtful') return nowMs / 1000;
  }
  return Number.POSITIVE_INFINITY;
}

describe.each([0.0004, 0.001])('A tank at rest on a scale with %d kg of noise', (noiseKg) => {
  test('that loses 0.05 g/s is seen within a minute', () => {
    expect(lossSeenAfterS((s) => 8 - 5e-5 * s, 120, noiseKg)).toBeLessThan(60);
  });

  test('that loses less, as through half a bar, is put in doubt as soon, and a tight one is NOT', () => {
    const doubted = (lossKgPerS: number): boolean => doubtedAfterS(lossKgPerS, noiseKg) < 60;
    const limit = Math.max(8e-6, 0.016 * noiseKg);
    expect(doubted(1.2 * limit)).toBe(true);
    expect(doubted(0.7 * limit)).toBe(false);
    expect(lossSeenAfterS((s) => 8 - 1.2 * limit * s, 600, noiseKg)).toBeUndefined();
  });

  test('whose scale may creep so fast by its class is NOT called losing', () => {
    const creeps = (s: number): number => 8 - 0.02 * (1 - Math.exp(-s / 600));
    expect(lossSeenAfterS(creeps, 600, noiseKg, { creepKgPerS: 0.017e-3 })).toBeUndefined();
  });

  test('on a scale far beyond its class is NOT called losing just after a charge; 0.06 g/s is, and 0.05 g/s at any other time', () => {
    const creeps = (s: number): number => 8 - 0.018 * (1 - Math.exp(-s / 600));
    const charged = { worstOwnKgPerS: () => 0.02 / 600 };
    expect(lossSeenAfterS(creeps, 600, noiseKg, charged)).toBeUndefined();
    expect(lossSeenAfterS((s) => 8 - 6e-5 * s, 120, noiseKg, charged)).toBeLessThan(60);
    expect(lossSeenAfterS((s) => 8 - 5e-5 * s, 120, noiseKg)).toBeLessThan(60);
  });

  test('is NOT called losing by the dew that its heater dries off from now on; 0.15 g/s are', () => {
    const heated = { worstOwnKgPerS: (s: number) => (s < 40 ? 0 : 6.2e-5) };
    const loses = (kgPerS: number) => (s: number) => 8 - kgPerS * Math.max(s - 40, 0);
    expect(lossSeenAfterS(loses(5.5e-5), 600, noiseKg, heated)).toBeUndefined();
    expect(lossSeenAfterS(loses(1.5e-4), 600, noiseKg, heated)).toBeLessThan(110);
  });

  test('on a scale that drifts by a gram a minute is NOT called losing where the drift was seen before', () => {
    const drifts = (s: number): number => 8 - (0.001 / 60) * s;
    expect(lossSeenAfterS(drifts, 600, noiseKg, { sealedUntilS: 120 })).toBeUndefined();
    const leaksAsWell = (s: number): number => drifts(s) - 5e-5 * Math.max(s - 200, 0);
    expect(lossSeenAfterS(leaksAsWell, 600, noiseKg, { sealedUntilS: 120 })).toBeLessThan(260);
  });

  test('whose manifold rose meanwhile has NOT shown a drift of its scale', () => {
    const loses = (s: number): number => 8 - 5e-5 * s;
    const rest = { sealedUntilS: 120, sealedPa: (s: number) => 50 + 400 * s };
    expect(lossSeenAfterS(loses, 600, noiseKg, rest)).toBeLessThan(180);
  });

  test('is NOT called losing by a fall that an unknown force of falling hoses may make', () => {
    const falls = (s: number): number => 8 - 2e-3 * (1 - Math.exp(-s / 60));
    const hoseSdKg = (s: number): number => 0.02 - 2e-3 * (1 - Math.exp(-s / 60));
    expect(lossSeenAfterS(falls, 300, noiseKg, { hoseSdKg })).toBeUndefined();
  });

  test.each([
    { what: 'creeps by 0.6 g', kg: (s: number) => 8 - 6e-4 * (1 - Math.exp(-s / 60)) },
    { what: 'was relieved of 3 g by a hand', kg: (s: number) => (s < 40 ? 8 : 7.997) },
    { what: 'gains what the condenser gives back', kg: (s: number) => 8 + 1e-4 * s },
  ])('that $what is NOT called losing', ({ kg }) => {
    expect(lossSeenAfterS(kg, 600, noiseKg)).toBeUndefined();
  });

  test('is NOT judged while anything is open', () => {
    expect(lossSeenAfterS((s) => 8 - 5e-5 * s, 120, noiseKg, { atRest: false })).toBeUndefined();
  });
});

describe('A tank that is weighed for what leaves it', () => {
  const weighedWith = (...on: readonly Output[]): boolean => {
    const commands = on.length === 0 ? SAFE_COMMANDS : want(...on);
    let asked = false;
    const rest = () => {
      asked = true;
      return undefined;
    };
    const memory = noteCommands(openMemory(0), commands, undefined, 100);
    watchWeights(memory, memory, { ...NOTHING_TOLD, rest }, 200);
    return asked;
  };

  test('is so with every path shut, and with the high side open behind a shut charge valve', () => {
    expect(weighedWith()).toBe(true);
    expect(weighedWith('highSideValve')).toBe(true);
  });

  test.each([
    'lowSideValve',
    'recoveryValve',
    'vacuumValve',
    'chargeValve',
    'oilValve',
    'dyeValve',
    'separatorDrainValve',
    'airPurgeValve',
    'compressor',
    'vacuumPump',
  ] as const)('is NOT while %s is on', (output) => {
    expect(weighedWith('highSideValve', output)).toBe(false);
  });
});
