// Readings of a calm machine, overridden where a test says so.
import type { NoReading, Reading, Readings } from '../../../controller/signals.ts';

export const none = (reason: NoReading) => ({ ok: false, reason }) as const;

export type Values = Partial<{ [S in keyof Readings]: number | boolean | { ok: false; reason: NoReading } }>;

const CALM = {
  highSidePressurePa: 60_000,
  lowSidePressurePa: 60_000,
  tankPressurePa: 571_710,
  manifoldPressurePa: 60_000,
  vehicleVacuumPa: none('out-of-range'),
  barometerPa: 101_325,
  tankTemperatureK: 293.15,
  ambientTemperatureK: 293.15,
  ventTemperatureK: none('not-fitted'),
  scaleCounts: 2_100_000,
  emergencyStop: false,
  highPressureSwitch: false,
  fanFlow: true,
  gasAlarm: none('not-fitted'),
} as const;

export function readingsAt(nowMs: number, values: Values = {}): Readings {
  const all: Values = { ...CALM, ...values };
  return Object.fromEntries(
    Object.entries(all).map(([sensor, value]) => [
      sensor,
      typeof value === 'object' ? value : ({ ok: true, value, atMs: nowMs } as Reading<number | boolean>),
    ]),
  ) as Readings;
}

/** What every rig has says nothing any more. */
export const SILENT: Values = {
  emergencyStop: none('stale'),
  highPressureSwitch: none('stale'),
  fanFlow: none('stale'),
  scaleCounts: none('stale'),
  manifoldPressurePa: none('stale'),
};
