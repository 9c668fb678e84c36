// What the sensors say right now, as numbers that can be reckoned with: anything doubtful is absent.
import type { Equipment } from '../equipment.ts';
import type { Reading, Readings } from '../signals.ts';

/** Older than this a reading says nothing about now: several scans and slow telemetry frames (estimate). */
const FRESH_MS = 1_000;

export type Switched = 'clear' | 'tripped' | 'not-fitted' | 'unknown';

/** Absolute pressures in pascal. Absent is unknown, never zero. */
export type Seen = {
  readonly highSidePa: number | undefined;
  readonly lowSidePa: number | undefined;
  readonly tankPa: number | undefined;
  /** Known only inside the absolute sensor's span. */
  readonly manifoldPa: number | undefined;
  /** The absolute sensor is at the end of its span: the manifold is at least there. */
  readonly manifoldOverSpan: boolean;
  readonly vehicleVacuumPa: number | undefined;
  /** Read, else typed. */
  readonly barometerPa: number | undefined;
  readonly tankTemperatureK: number | undefined;
  readonly ambientK: number | undefined;
  readonly ventK: number | undefined;
  readonly scaleCounts: number | undefined;
  readonly scaleAtMs: number | undefined;
  /** When the newest of what is seen here was read. */
  readonly heardAtMs: number | undefined;
  readonly emergencyStop: Switched;
  readonly highPressureSwitch: Switched;
  readonly fanFlow: Switched;
  readonly gasAlarm: Switched;
};

/** Gauge transducers near vacuum may read a little below zero absolute; the rest is nonsense. */
const LOWEST_PA = -200_000;
const HIGHEST_PA = 10_000_000;
/** The last few per cent of a span are saturation, not measurement. */
const SPAN_USED = 0.98;
const ALTITUDE_LOWEST_PA = 50_000;
const WEATHER_HIGHEST_PA = 110_000;
const COLDEST_K = 150;
const HOTTEST_K = 450;
/** A converter of 32 bits at its rail. */
const COUNTS_RAIL = 2 ** 31 - 1;

const fresh = (atMs: number, nowMs: number): boolean => Math.abs(nowMs - atMs) <= FRESH_MS;

function value(
  reading: Reading | undefined,
  nowMs: number,
  lowest: number,
  highest: number,
): number | undefined {
  if (reading?.ok !== true || !fresh(reading.atMs, nowMs)) return undefined;
  const { value } = reading;
  return typeof value === 'number' && value >= lowest && value <= highest ? value : undefined;
}

function switched(reading: Reading<boolean> | undefined, nowMs: number): Switched {
  if (reading?.ok === false && reading.reason === 'not-fitted') return 'not-fitted';
  if (reading?.ok !== true || !fresh(reading.atMs, nowMs)) return 'unknown';
  if (reading.value === true) return 'tripped';
  return reading.value === false ? 'clear' : 'unknown';
}

/** An absolute sensor has only one end that pressure can run past: there is nothing below its zero. */
const pastItsEnd = (reading: Reading | undefined): boolean =>
  reading?.ok === false && reading.reason === 'out-of-range';

const atMs = (reading: Reading<number | boolean> | undefined, nowMs: number): number =>
  reading?.ok === true && fresh(reading.atMs, nowMs) ? reading.atMs : Number.NEGATIVE_INFINITY;

/** Of what every rig has. */
function newestMs(readings: Readings, nowMs: number): number | undefined {
  const newest = Math.max(
    atMs(readings.emergencyStop, nowMs),
    atMs(readings.highPressureSwitch, nowMs),
    atMs(readings.fanFlow, nowMs),
    atMs(readings.scaleCounts, nowMs),
    atMs(readings.manifoldPressurePa, nowMs),
  );
  return Number.isFinite(newest) ? newest : undefined;
}

export function see(readings: Readings, equipment: Equipment, nowMs: number): Seen {
  const spanPa = equipment.pressure.manifoldSpanPa * SPAN_USED;
  const manifoldPa = value(readings.manifoldPressurePa, nowMs, -spanPa / 20, HIGHEST_PA);
  const overSpan = manifoldPa === undefined ? pastItsEnd(readings.manifoldPressurePa) : manifoldPa > spanPa;
  const scaleCounts = value(readings.scaleCounts, nowMs, -COUNTS_RAIL, COUNTS_RAIL);
  return {
    highSidePa: value(readings.highSidePressurePa, nowMs, LOWEST_PA, HIGHEST_PA),
    lowSidePa: value(readings.lowSidePressurePa, nowMs, LOWEST_PA, HIGHEST_PA),
    tankPa: value(readings.tankPressurePa, nowMs, LOWEST_PA, HIGHEST_PA),
    manifoldPa: overSpan ? undefined : manifoldPa,
    manifoldOverSpan: overSpan,
    vehicleVacuumPa: value(readings.vehicleVacuumPa, nowMs, -100, WEATHER_HIGHEST_PA),
    barometerPa:
      value(readings.barometerPa, nowMs, ALTITUDE_LOWEST_PA, WEATHER_HIGHEST_PA) ?? equipment.barometerPa,
    tankTemperatureK: value(readings.tankTemperatureK, nowMs, COLDEST_K, HOTTEST_K),
    ambientK: value(readings.ambientTemperatureK, nowMs, COLDEST_K, HOTTEST_K),
    ventK: value(readings.ventTemperatureK, nowMs, COLDEST_K, HOTTEST_K),
    scaleCounts,
    scaleAtMs: scaleCounts !== undefined && readings.scaleCounts.ok ? readings.scaleCounts.atMs : undefined,
    heardAtMs: newestMs(readings, nowMs),
    emergencyStop: switched(readings.emergencyStop, nowMs),
    highPressureSwitch: switched(readings.highPressureSwitch, nowMs),
    fanFlow: switched(readings.fanFlow, nowMs),
    gasAlarm: switched(readings.gasAlarm, nowMs),
  };
}
