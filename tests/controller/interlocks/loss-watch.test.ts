// When a tank at rest is said to lose: how long it takes, by how much and how evenly, and what the scale itself may fall by.
import { describe, expect, test } from 'vitest';
import {
  type LossWatch,
  NOT_WEIGHED,
  type RestWeight,
  restFall,
  restMassOf,
  watchLoss,
} from '../../../controller/interlocks/loss-watch.ts';

const NOISE_KG = 4e-4;
const START_MS = 300_000;
const WEIGHT: RestWeight = {
  kg: 8,
  hoseSdKg: 0,
  noiseKg: NOISE_KG,
  creepKgPerS: 0,
  worstOwnKgPerS: 0,
  sealedPa: undefined,
};

type Sight = Partial<RestWeight> | undefined;

function watched(at: (s: number) => Sight, seconds: number, from: LossWatch = NOT_WEIGHED): LossWatch {
  let watch = from;
  for (let ms = 0; ms <= seconds * 1000; ms += 100) {
    const sight = at(ms / 1000);
    watch = watchLoss(watch, sight && { ...WEIGHT, ...sight }, START_MS + ms);
  }
  return watch;
}
const said = (at: (s: number) => Sight, seconds: number, from?: LossWatch) =>
  restMassOf(watched(at, seconds, from));

/** A fall in kg/s, and what else is seen. */
const falls =
  (kgPerS: number, over: (s: number) => Partial<RestWeight> = () => ({})) =>
  (s: number): Partial<RestWeight> => ({ kg: 8 - kgPerS * s, ...over(s) });

describe('A tank that loses 0.05 g/s', () => {
  test('is said to lose after four seconds of settling and four blocks of twelve and a half', () => {
    expect(said(falls(5e-5), 53.9)).toBe('unwatched');
    expect(said(falls(5e-5), 54)).toBe('falling');
    expect(said(falls(0), 54)).toBe('steady');
  });

  test('is NOT judged by what the scale showed while the valves settled, and is from then on', () => {
    const bumped = (fromS: number, toS: number) => (s: number) => ({
      kg: 8 - 5e-5 * s + (s > fromS && s < toS ? 5 : 0),
    });
    expect(said(bumped(-1, 3.95), 54)).toBe('falling');
    expect(said(bumped(3.95, 4.05), 54)).not.toBe('falling');
  });

  test('is unwatched as long as the absolute sensor tells, and counts anew when it no longer does', () => {
    const tells = falls(5e-5, (s) => ({ sealedPa: s < 100 ? 50 : undefined }));
    expect(said(tells, 90)).toBe('unwatched');
    expect(said(tells, 153)).toBe('unwatched');
  });

  test('is forgotten when something opens', () => {
    const opened = (s: number): Sight => (s < 60 ? falls(5e-5)(s) : undefined);
    expect(said(opened, 60)).toBe('unwatched');
    expect(said(falls(5e-5), 53.9, watched(opened, 60))).toBe('unwatched');
    expect(said(falls(5e-5), 54, watched(opened, 60))).toBe('falling');
    expect(watchLoss(NOT_WEIGHED, undefined, 0)).toBe(NOT_WEIGHED);
  });

  test('is seen however much the force of the hoses is in doubt, while their pressure stays', () => {
    expect(
      said(
        falls(5e-5, () => ({ hoseSdKg: 0.02 })),
        60,
      ),
    ).toBe('falling');
  });

  test('is seen while the hoses change by little, and NOT by as much as they might push less', () => {
    const eased = (kgPerS: number, hoseKg: number) =>
      said(
        falls(kgPerS, (s) => ({ hoseSdKg: s < 52 ? 0.02 + hoseKg : 0.02 })),
        60,
      );
    // Two deviations over the 37.5 s from the first block to the last, on top of 1.85e-5 kg/s.
    expect(eased(5e-5, 1e-4)).toBe('falling');
    expect(eased(5.3e-5, 8e-4)).not.toBe('falling');
    expect(eased(5.3e-5, -8e-4)).not.toBe('falling');
    expect(eased(6.5e-5, 8e-4)).toBe('falling');
  });
});

describe('A scale that drifts while the absolute sensor shows the tank tight', () => {
  /** Sealed for so long, then left alone with another fall. */
  const saidAfter = (
    sealedS: number,
    driftKgPerS: number,
    thenKgPerS: number,
    sealedPa: (s: number) => number = () => 300,
  ) => {
    const sealed = watched(
      falls(driftKgPerS, (s) => ({ sealedPa: sealedPa(s) })),
      sealedS,
    );
    return said(falls(thenKgPerS), 60, sealed);
  };

  test('is NOT called a loss when it goes on drifting as it did', () => {
    expect(saidAfter(0, 2.5e-5, 2.5e-5)).toBe('falling');
    expect(saidAfter(60, 2.5e-5, 2.5e-5)).toBe('steady');
    expect(saidAfter(60, 2.5e-5, 5e-5)).toBe('falling');
  });

  test('has shown its drift after four blocks, and NOT after three', () => {
    expect(saidAfter(42, 2.5e-5, 2.5e-5)).toBe('falling');
    expect(saidAfter(54, 2.5e-5, 2.5e-5)).toBe('steady');
  });

  test('is believed up to 0.03 g/s: what falls faster by itself is no scale', () => {
    expect(saidAfter(60, 1e-4, 1e-4)).toBe('falling');
    expect(saidAfter(60, 0, 3e-5)).toBe('falling');
    expect(saidAfter(60, -5e-5, 2.5e-5)).toBe('falling');
  });

  test('may have a manifold that wanders by less than 5 mbar, and NOT one that rises by that', () => {
    const wanders = (pa: number) => (s: number) => 50_000 + (Math.round(s * 10) % 2 === 0 ? 0 : pa);
    expect(saidAfter(60, 2.5e-5, 2.5e-5, wanders(499))).toBe('steady');
    expect(saidAfter(60, 2.5e-5, 2.5e-5, wanders(500))).toBe('falling');
  });
});

describe('Four blocks', () => {
  const ofBlocks = (kilograms: readonly number[], over: Partial<LossWatch> = {}): LossWatch => ({
    ...NOT_WEIGHED,
    noiseKg: NOISE_KG,
    blocks: kilograms.map((kg) => ({ kg, hoseSdKg: 0 })),
    ...over,
  });
  const verdict = (kilograms: readonly number[], over: Partial<LossWatch> = {}) =>
    restMassOf(ofBlocks(kilograms, over));
  /** Per block: what is called a loss, by a scale that is quieter than that. */
  const LOSS_KG = 12.5 * 1.85e-5;

  test('lose from the limit of each on, and NOT below it in one of them', () => {
    expect(verdict([3.4 * LOSS_KG, 2.2 * LOSS_KG, LOSS_KG, 0])).toBe('falling');
    expect(verdict([3.4 * LOSS_KG, 2.2 * LOSS_KG, 0.999 * LOSS_KG, 0])).toBe('doubtful');
  });

  test('must fall by more on a scale with more noise', () => {
    const by = (kgPerS: number) => [3, 2, 1, 0].map((block) => block * 12.5 * kgPerS);
    expect(verdict(by(2.5e-5))).toBe('falling');
    expect(verdict(by(2.5e-5), { noiseKg: 1e-3 })).toBe('doubtful');
    expect(verdict(by(3.1e-5), { noiseKg: 1e-3 })).toBe('falling');
    expect(verdict(by(1.5e-5))).toBe('doubtful');
  });

  test('lose evenly: what falls by more than three times as much in one of them was moved', () => {
    const least = 2 ** -10;
    expect(verdict([5 * least, 2 * least, least, 0])).toBe('falling');
    expect(verdict([5.001 * least, 2 * least, least, 0])).not.toBe('falling');
  });

  test('are in doubt from the limit of their line on, its own drift included', () => {
    const kilograms = [0.000_45, 0.000_3, 0.000_15, 0];
    const { kgPerS } = restFall(ofBlocks(kilograms))!;
    expect(kgPerS).toBeCloseTo(1.2e-5, 9);
    expect(verdict(kilograms, { driftKgPerS: kgPerS - 8e-6 })).toBe('doubtful');
    expect(verdict(kilograms, { driftKgPerS: kgPerS - 7.999e-6 })).toBe('steady');
    expect(verdict([0, 0, 0, 0])).toBe('steady');
  });

  test('with a jump of more than 3 g, down or up, are neither in doubt nor a fall that is known', () => {
    const jumped = [0.0046, 0.0045, 0.0013, 0];
    expect(verdict(jumped)).toBe('steady');
    expect(restFall(ofBlocks(jumped))).toBeUndefined();
    expect(restFall(ofBlocks([0, 0.0031, 0.003, 0.0029]))).toBeUndefined();
    expect(verdict([0.0036, 0.0035, 0.003, 0])).toBe('doubtful');
    expect(verdict([0.0036, 0.0035, 0.003_001, 0])).toBe('steady');
  });

  test('tell what the scale falls by, with one deviation of the noise; fewer, or with a sensor that tells, nothing', () => {
    const kilograms = [0.003, 0.002, 0.001, 0];
    const { kgPerS, sdKgPerS } = restFall(ofBlocks(kilograms))!;
    expect(kgPerS).toBeCloseTo(0.001 / 12.5, 9);
    expect(sdKgPerS).toBeCloseTo(0.0045 * NOISE_KG, 12);
    expect(restFall(ofBlocks(kilograms.slice(1)))).toBeUndefined();
    expect(restFall(ofBlocks(kilograms, { sealedPa: 50 }))).toBeUndefined();
    expect(verdict(kilograms, { sealedPa: 50 })).toBe('unwatched');
    expect(restMassOf(NOT_WEIGHED)).toBe('unwatched');
  });
});
