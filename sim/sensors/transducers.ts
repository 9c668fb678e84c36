// Pressure and temperature sensors: class, offset, resolution and range.
import type { NoReading, Reading } from '../../controller/signals.ts';
import { SPANS } from '../profiles.ts';
import type { Random } from '../random.ts';
import { noise } from './noise.ts';

/** Ratiometric 0.5–4.5 V out of 5 V: the span is 80 % of the converter's range. */
const SPAN_OF_CONVERTER = 0.8;
/** Electrical noise of a gauge transducer, as a fraction of span (estimate). */
const GAUGE_NOISE = 2e-4;
/** Signals outside these shares of span, 4.74 V and 0.1 V, mean a wiring fault or overload, not a pressure. */
const OVER_RANGE = 1.06;
const BROKEN_WIRE = -0.1;
const TEMPERATURE_RESOLUTION_K = 0.05;

export const good = (value: number, atMs: number): Reading => ({ ok: true, value, atMs });

const missing = (reason: NoReading): Extract<Reading, { ok: false }> => Object.freeze({ ok: false, reason });
export const NOT_FITTED = missing('not-fitted');
export const OPEN_CIRCUIT = missing('open-circuit');
export const SHORT_CIRCUIT = missing('short-circuit');
export const OUT_OF_RANGE = missing('out-of-range');

const quantised = (value: number, step: number): number => Math.round(value / step) * step;

/** Measures from `fromPa`, above ambient, over `spanPa`; converted to `bits`. */
export type GaugeKind = {
  readonly fromPa: number;
  readonly spanPa: number;
  readonly offsetPa: number;
  readonly bits: number;
};

/**
 * A gauge transducer with its input of the rig: measures above ambient; the rig adds its barometer to give an absolute
 * pressure. Its own lag, 2–5 ms, is lost in a tenth of a second and left out. The class bounds zero, span and their
 * drift with temperature together, so the offset drawn from it stands for all three.
 */
export class GaugeTransducer {
  readonly #fromPa: number;
  readonly #spanPa: number;
  readonly #zeroPa: number;
  readonly #stepPa: number;
  readonly #addedPa: number;
  readonly #random: Random;

  /** `barometerPa` is the true one, `addedPa` the one the rig believes in. */
  constructor(
    { fromPa, spanPa, offsetPa, bits }: GaugeKind,
    barometer: { readonly truePa: number; readonly readPa: number },
    random: Random,
  ) {
    this.#fromPa = fromPa;
    this.#spanPa = spanPa;
    this.#zeroPa = barometer.truePa + fromPa - offsetPa;
    this.#stepPa = spanPa / SPAN_OF_CONVERTER / 2 ** bits;
    this.#addedPa = barometer.readPa;
    this.#random = random;
  }

  /** What it puts on its wire, as a share of span: 0 is 0.5 V, 1 is 4.5 V. */
  signal(truePa: number): number {
    return (truePa - this.#zeroPa) / this.#spanPa + GAUGE_NOISE * noise(this.#random);
  }

  /** What its input makes of a signal, its own transducer's or another's. */
  reading(signal: number, atMs: number): Reading {
    if (signal > OVER_RANGE) return OUT_OF_RANGE;
    if (signal < BROKEN_WIRE) return OPEN_CIRCUIT;
    return good(quantised(this.#fromPa + signal * this.#spanPa, this.#stepPa) + this.#addedPa, atMs);
  }
}

/** The manifold's absolute sensor, noise of one step. */
export function absoluteReading(
  truePa: number,
  sensor: { readonly offsetPa: number; readonly resolutionPa: number },
  random: Random,
  atMs: number,
): Reading {
  const readPa = truePa + sensor.offsetPa + sensor.resolutionPa * noise(random);
  if (readPa > SPANS.manifoldPa) return OUT_OF_RANGE;
  return good(quantised(readPa, sensor.resolutionPa), atMs);
}

export function temperatureReading(trueK: number, offsetK: number, random: Random, atMs: number): Reading {
  return good(
    quantised(trueK + offsetK + TEMPERATURE_RESOLUTION_K * noise(random), TEMPERATURE_RESOLUTION_K),
    atMs,
  );
}
