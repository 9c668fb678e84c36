// The tank's scale as it really reads: span, noise, creep, drift with temperature, hose force, bumps and spikes.
import { NOMINAL } from '../profiles.ts';
import type { Random } from '../random.ts';
import type { Build } from '../spec.ts';

/** Creep is a first-order relaxation that is this far along after the half hour it is specified for. */
const CREEP_TIME_S = 600;
const CREEP_AT_HALF_HOUR = 1 - Math.exp(-1800 / CREEP_TIME_S);
/** The cabinet warms the cell by this much while compressor or pump run, with this time constant (estimates). */
const CABINET_WARMTH_K = 4;
const CABINET_TIME_S = 1200;
/** Bumps: someone leans or knocks, 50 g to 5 kg for 0.1 to 20 s, evenly spread over the decades (estimates). */
const BUMP_KG = [0.05, 5] as const;
const BUMP_S = [0.1, 20] as const;
/** A spurious sample lies anywhere within this of the true one, most often below (estimate). */
const SPIKE_KG = 5;
const SPIKE_BELOW = 0.8;

/** A bridge converter of 24 bits, two's complement. */
const MOST_COUNTS = 2 ** 23 - 1;

export class Scale {
  readonly #build: Build;
  readonly #random: Random;
  #creepKg: number;
  #warmthK = 0;
  #bumpKg = 0;
  #bumpLeftS = 0;

  /** Starts rested under its load. */
  constructor(build: Build, random: Random, loadKg: number) {
    this.#build = build;
    this.#random = random;
    this.#creepKg = this.#creepOf(loadKg);
  }

  /** One sample, `periodS` after the last. Hose pressure is above ambient. */
  sample(loadKg: number, hosePa: number, machineRunning: boolean, periodS: number): number {
    const build = this.#build;
    this.#creepKg += (this.#creepOf(loadKg) - this.#creepKg) * (1 - Math.exp(-periodS / CREEP_TIME_S));
    const warmTo = machineRunning ? CABINET_WARMTH_K : 0;
    this.#warmthK += (warmTo - this.#warmthK) * (1 - Math.exp(-periodS / CABINET_TIME_S));
    const kg =
      loadKg * (1 + build.scaleSpanError) +
      this.#creepKg +
      build.scaleDriftKgPerK * this.#warmthK +
      build.scaleHoseForceKgPerPa * hosePa +
      build.scaleNoiseKg * this.#random.normal() +
      this.#bump(periodS) +
      this.#spike();
    const counts = Math.round(NOMINAL.scaleZeroCounts + kg * NOMINAL.scaleCountsPerKg);
    return Math.max(-MOST_COUNTS - 1, Math.min(MOST_COUNTS, counts));
  }

  #creepOf(loadKg: number): number {
    return (this.#build.scaleCreepFraction / CREEP_AT_HALF_HOUR) * loadKg;
  }

  #bump(periodS: number): number {
    if (this.#bumpLeftS > 0) {
      this.#bumpLeftS -= periodS;
      if (this.#bumpLeftS <= 0) this.#bumpKg = 0;
    } else if (this.#random.uniform() < (this.#build.scaleBumpsPerHour * periodS) / 3600) {
      const sign = this.#random.uniform() < 0.5 ? -1 : 1;
      this.#bumpKg = sign * this.#overDecades(BUMP_KG);
      this.#bumpLeftS = this.#overDecades(BUMP_S);
    }
    return this.#bumpKg;
  }

  #spike(): number {
    if (this.#random.uniform() >= this.#build.scaleSpikesPerSample) return 0;
    const sign = this.#random.uniform() < SPIKE_BELOW ? -1 : 1;
    return sign * SPIKE_KG * this.#random.uniform();
  }

  #overDecades([low, high]: readonly [number, number]): number {
    return low * (high / low) ** this.#random.uniform();
  }
}
