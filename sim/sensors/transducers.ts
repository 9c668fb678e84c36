// Pressure and temperature sensors: class, offset, resolution and range.
import type { NoReading, Reading } from '../../controller/signals.ts';
import { SPANS } from '../profiles.ts';
import type { Random } from '../random.ts';

/** Ratiometric 0.5–4.5 V out of 5 V: the span is 80 % of the converter's range. */
const SPAN_OF_CONVERTER = 0.8;
/** Electrical noise of a gauge transducer, as a fraction of span (estimate). */
const GAUGE_NOISE = 2e-4;
/** Readings beyond this share of span mean a wiring fault, not a pressure. */
const OVER_RANGE = 1.06;
/** Where a thermal vacuum sensor reads. */
const THERMAL_RANGE_PA = [1, 2500] as const;
const TEMPERATURE_RESOLUTION_K = 0.05;

const good = (value: number, atMs: number): Reading => ({ ok: true, value, atMs });
const none = (reason: NoReading): Reading => ({ ok: false, reason });

const quantised = (value: number, step: number): number => Math.round(value / step) * step;

/** A gauge transducer: measures above ambient; the rig adds the barometer to give an absolute pressure. */
export function gaugeReading(
  truePa: number,
  sensor: { spanPa: number; offsetPa: number; bits: number },
  barometer: { truePa: number; readPa: number },
  random: Random,
  atMs: number,
): Reading {
  const gaugePa = truePa - barometer.truePa + sensor.offsetPa + GAUGE_NOISE * sensor.spanPa * random.normal();
  if (gaugePa > OVER_RANGE * sensor.spanPa) return none('out-of-range');
  const step = sensor.spanPa / SPAN_OF_CONVERTER / 2 ** sensor.bits;
  return good(quantised(gaugePa, step) + barometer.readPa, atMs);
}

/** The manifold's absolute sensor, noise of one step. */
export function absoluteReading(
  truePa: number,
  sensor: { offsetPa: number; resolutionPa: number },
  random: Random,
  atMs: number,
): Reading {
  const readPa = truePa + sensor.offsetPa + sensor.resolutionPa * random.normal();
  if (readPa > SPANS.manifoldPa) return none('out-of-range');
  return good(quantised(readPa, sensor.resolutionPa), atMs);
}

/** A thermal vacuum sensor, gain error constant over its range. */
export function thermalVacuumReading(truePa: number, gain: number, random: Random, atMs: number): Reading {
  const readPa = truePa * gain * (1 + 0.005 * random.normal());
  const [least, most] = THERMAL_RANGE_PA;
  if (readPa < least || readPa > most) return none('out-of-range');
  return good(readPa, atMs);
}

export function temperatureReading(trueK: number, offsetK: number, random: Random, atMs: number): Reading {
  return good(
    quantised(trueK + offsetK + TEMPERATURE_RESOLUTION_K * random.normal(), TEMPERATURE_RESOLUTION_K),
    atMs,
  );
}
