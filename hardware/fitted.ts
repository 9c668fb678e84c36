// Which sensors a rig has, with the transfer of each, and the readings that a SEEN line becomes with them.
import { MEASURED, type NoReading, type Reading, type Readings } from '../controller/signals.ts';
import {
  ANALOG_INPUTS,
  type AnalogInput,
  type BoardLine,
  CONVERTER_INPUTS,
  type ConverterInput,
  SWITCH_BITS,
} from './protocol.ts';
import {
  type PressureSensor,
  pressureFromChip,
  pressureFromConverter,
  type Sensed,
  type Thermistor,
  temperatureFromChip,
  temperatureFromConverter,
  type VacuumSensor,
  vacuumFromConverter,
} from './sensors.ts';

/** The sensors of one rig. Optional ones may be left out; the bridge needs nothing here: its counts go to the scale. */
export type FittedSensors = {
  /** Gauge transmitters. */
  readonly highSide: PressureSensor;
  readonly lowSide: PressureSensor;
  readonly tank: PressureSensor;
  /** Absolute. */
  readonly manifold: PressureSensor;
  readonly tankTemperature: Thermistor;
  readonly ambientTemperature: Thermistor;
  readonly vehicleVacuum?: VacuumSensor | undefined;
  readonly ventTemperature?: Thermistor | undefined;
  /** Absolute; without one the barometer is typed. */
  readonly barometer?: PressureSensor | undefined;
  /** What a gauge transmitter's reading is added to where no barometer is fitted. */
  readonly typedBarometerPa: number;
  readonly gasAlarm: boolean;
};

export type SeenLine = Extract<BoardLine, { kind: 'SEEN' }>;

const nothing = (reason: NoReading) => Object.freeze({ ok: false as const, reason });
const NOT_FITTED = nothing('not-fitted');
const NOT_READ_YET = nothing('not-read-yet');

/** Before the first line has come. */
export const NOTHING_SEEN: Readings = Object.freeze(
  Object.fromEntries(
    [...MEASURED, 'emergencyStop', 'highPressureSwitch', 'fanFlow', 'gasAlarm'].map((sensor) => [
      sensor,
      NOT_READ_YET,
    ]),
  ),
) as Readings;

const reading = (measured: Sensed, atMs: number, addedPa = 0): Reading =>
  measured.ok ? { ok: true, value: measured.value + addedPa, atMs } : measured;

/**
 * The firmware takes the four inputs of the 16-bit converter in turn, 5 ms each: when a line is written, a value is 4 to
 * 24 ms old.
 */
const CONVERTED_BEFORE_MS = 14;

/** @param timeMsOf the host's time for a time of the board's clock. */
export function readingsOf(
  seen: SeenLine,
  sensors: FittedSensors,
  timeMsOf: (boardMs: number) => number,
): Readings {
  const atMs = timeMsOf(seen.timeMs);
  const chip = (input: AnalogInput) => seen.analog[ANALOG_INPUTS.indexOf(input)]!;
  function converted<S>(
    input: ConverterInput,
    sensor: S | undefined,
    measure: (sensor: S, counts: number) => Sensed,
  ): Reading {
    if (sensor === undefined) return NOT_FITTED;
    const counts = seen.converter[CONVERTER_INPUTS.indexOf(input)];
    return counts === undefined ? NOT_READ_YET : reading(measure(sensor, counts), atMs - CONVERTED_BEFORE_MS);
  }
  const barometer = converted('barometer', sensors.barometer, pressureFromConverter);
  const roomPa = barometer.ok ? barometer.value : sensors.typedBarometerPa;
  const gauge = (input: 'highSide' | 'lowSide' | 'tank') =>
    reading(pressureFromChip(sensors[input], chip(input)), atMs, roomPa);
  const switched = (name: (typeof SWITCH_BITS)[number]): Reading<boolean> => ({
    ok: true,
    value: ((seen.switches >> SWITCH_BITS.indexOf(name)) & 1) === 1,
    atMs,
  });
  return {
    highSidePressurePa: gauge('highSide'),
    lowSidePressurePa: gauge('lowSide'),
    tankPressurePa: gauge('tank'),
    manifoldPressurePa: converted('manifold', sensors.manifold, pressureFromConverter),
    vehicleVacuumPa: converted('vehicleVacuum', sensors.vehicleVacuum, vacuumFromConverter),
    barometerPa: barometer,
    tankTemperatureK: reading(temperatureFromChip(sensors.tankTemperature, chip('tankTemperature')), atMs),
    ambientTemperatureK: reading(
      temperatureFromChip(sensors.ambientTemperature, chip('ambientTemperature')),
      atMs,
    ),
    ventTemperatureK: converted('ventTemperature', sensors.ventTemperature, temperatureFromConverter),
    scaleCounts:
      seen.bridge === undefined
        ? NOT_READ_YET
        : { ok: true, value: seen.bridge.counts, atMs: atMs - seen.bridge.ageMs },
    emergencyStop: switched('emergencyStop'),
    highPressureSwitch: switched('highPressureSwitch'),
    fanFlow: switched('fanFlow'),
    gasAlarm: sensors.gasAlarm ? switched('gasAlarm') : NOT_FITTED,
  };
}
