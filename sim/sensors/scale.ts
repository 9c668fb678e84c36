// The tank's scale as it really reads: span, noise, creep, drift with temperature, hose force, vibration, bumps and spikes.
import { NOMINAL } from '../profiles.ts';
import { Random } from '../random.ts';
import type { Build } from '../spec.ts';
import { Lag } from './lag.ts';
import { Vibration } from './vibration.ts';

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

/** What stands on the platform and acts on it at the time of a sample. */
export type OnTheScale = {
  loadKg: number;
  /** Mean pressure in the hoses, above ambient. */
  hosePa: number;
  /** The room around the machine. */
  airK: number;
  compressorTurns: boolean;
  pumpTurns: boolean;
};

/** What is wrong with it now. */
export type ScaleFault = { stuck: boolean; spikesPerSample: number };

export class Scale {
  readonly #build: Build;
  readonly #periodS: number;
  readonly #bumpsPerSample: number;
  readonly #creepPerKg: number;
  readonly #startK: number;
  readonly #random: Random;
  /** A stream of its own: what a fault draws shifts nothing else. */
  readonly #faultChance: Random;
  readonly #vibration: Vibration;
  readonly #creepKg: Lag;
  /** How much warmer than at the start the cell is. */
  readonly #warmthK: Lag;
  /** Of the bump under way, or of the last; doubles from the start, for a sample compiled once. */
  #bumpKg: number = BUMP_KG[0];
  #bumpLeftS = -0.5;
  #lastCounts = 0;

  /** Starts rested under its load, at the room's temperature. Sampled every `periodS`. */
  constructor(build: Build, seed: number, periodS: number, start: Readonly<OnTheScale>) {
    this.#build = build;
    this.#periodS = periodS;
    this.#bumpsPerSample = (build.scaleBumpsPerHour * periodS) / 3600;
    this.#creepPerKg = build.scaleCreepFraction / CREEP_AT_HALF_HOUR;
    this.#startK = start.airK;
    this.#random = new Random(seed, 'scale');
    this.#faultChance = new Random(seed, 'scale fault');
    this.#vibration = new Vibration(build.scaleVibrationKg, periodS, new Random(seed, 'vibration'));
    this.#creepKg = new Lag(CREEP_TIME_S, periodS, this.#creepPerKg * start.loadKg);
    this.#warmthK = new Lag(CABINET_TIME_S, periodS, 0);
  }

  /** Counts of one sample, one period after the last. */
  sample(on: Readonly<OnTheScale>, fault: Readonly<ScaleFault>): number {
    const build = this.#build;
    const cabinetK = on.compressorTurns || on.pumpTurns ? CABINET_WARMTH_K : 0;
    const kg =
      on.loadKg * (1 + build.scaleSpanError) +
      this.#creepKg.follow(this.#creepPerKg * on.loadKg) +
      build.scaleDriftKgPerK * this.#warmthK.follow(cabinetK + on.airK - this.#startK) +
      build.scaleHoseForceKgPerPa * on.hosePa +
      build.scaleNoiseKg * this.#random.normal() +
      this.#vibration.sample(on.compressorTurns, on.pumpTurns) +
      this.#bump() +
      spike(build.scaleSpikesPerSample, this.#random) +
      (fault.spikesPerSample > 0 ? spike(fault.spikesPerSample, this.#faultChance) : 0);
    if (fault.stuck) return this.#lastCounts;
    const counts = Math.round(NOMINAL.scaleZeroCounts + kg * NOMINAL.scaleCountsPerKg);
    this.#lastCounts = Math.max(-MOST_COUNTS - 1, Math.min(MOST_COUNTS, counts));
    return this.#lastCounts;
  }

  save() {
    return {
      chance: this.#random.save(),
      faultChance: this.#faultChance.save(),
      vibration: this.#vibration.save(),
      creepKg: this.#creepKg.value,
      warmthK: this.#warmthK.value,
      bumpKg: this.#bumpKg,
      bumpLeftS: this.#bumpLeftS,
      lastCounts: this.#lastCounts,
    };
  }

  restore(saved: ReturnType<Scale['save']>): void {
    this.#random.restore(saved.chance);
    this.#faultChance.restore(saved.faultChance);
    this.#vibration.restore(saved.vibration);
    this.#creepKg.value = saved.creepKg;
    this.#warmthK.value = saved.warmthK;
    this.#bumpKg = saved.bumpKg;
    this.#bumpLeftS = saved.bumpLeftS;
    this.#lastCounts = saved.lastCounts;
  }

  #bump(): number {
    if (this.#bumpLeftS > 0) {
      this.#bumpLeftS -= this.#periodS;
    } else if (this.#random.uniform() < this.#bumpsPerSample) {
      const sign = this.#random.uniform() < 0.5 ? -1 : 1;
      this.#bumpKg = sign * overDecades(BUMP_KG, this.#random);
      this.#bumpLeftS = overDecades(BUMP_S, this.#random);
    }
    return this.#bumpLeftS > 0 ? this.#bumpKg : 0;
  }
}

function spike(perSample: number, random: Random): number {
  if (random.uniform() >= perSample) return 0;
  const sign = random.uniform() < SPIKE_BELOW ? -1 : 1;
  return sign * SPIKE_KG * random.uniform();
}

const overDecades = ([low, high]: readonly [number, number], random: Random): number =>
  low * (high / low) ** random.uniform();
