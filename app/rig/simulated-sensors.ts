// The sensors of a simulated build as a rig has them: their transfer, and what its readings put on the wires.
import type { Reading, Readings } from '../../controller/signals.ts';
import type { BoardInputs } from '../../hardware/emulator/board.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import {
  type PressureSensor,
  SUPPLY_V,
  type Thermistor,
  type VacuumSensor,
  voltsOfPressure,
  voltsOfTemperature,
  voltsOfVacuum,
} from '../../hardware/sensors.ts';
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import { LOW_SIDE_FROM_PA, SPANS } from '../../sim/profiles.ts';
import type { AnySpec } from '../../sim/spec.ts';

/** The bench's own readings hold every error of the build already: what carries them on is exact. */
const transmitter = (fromPa: number, toPa: number): PressureSensor => ({
  fromPa,
  toPa,
  gain: 1,
  offsetPa: 0,
});
/** The usual clip-on type. */
const THERMISTOR: Thermistor = { ohmsAt25C: 10_000, betaK: 3_950, pullUpOhms: 10_000, offsetK: 0 };
/** One volt a decade over the range of the bench's thermal sensor. */
const THERMAL: VacuumSensor = { voltsAt1Pa: 1, voltsPerDecade: 1, fromPa: 1, toPa: 2_500 };
const BAROMETER = transmitter(50_000, 115_000);

/** What a commissioning without any error would say of a simulated build. */
export function sensorsOfBuild(
  { build, typedBarometerPa }: Pick<AnySpec, 'build' | 'typedBarometerPa'>,
  gasAlarm: boolean,
): FittedSensors {
  return {
    highSide: transmitter(0, SPANS.highSidePa),
    lowSide: transmitter(LOW_SIDE_FROM_PA, LOW_SIDE_FROM_PA + SPANS.lowSidePa),
    tank: transmitter(0, SPANS.tankPa),
    manifold: transmitter(0, SPANS.manifoldPa),
    tankTemperature: THERMISTOR,
    ambientTemperature: THERMISTOR,
    vehicleVacuum: build.vehicleVacuumFitted ? THERMAL : undefined,
    ventTemperature: build.ventThermometerFitted ? THERMISTOR : undefined,
    barometer: build.barometerFitted ? BAROMETER : undefined,
    typedBarometerPa: typedBarometerPa ?? STANDARD_ATMOSPHERE_PA,
    gasAlarm,
  };
}

/** What is on a wire whose sensor has no value; a transmitter is pulled down, a thermistor up. */
const FAULTY_V = {
  transmitter: { 'open-circuit': 0, 'short-circuit': SUPPLY_V, 'out-of-range': 4.7 },
  thermistor: { 'open-circuit': SUPPLY_V, 'short-circuit': 0, 'out-of-range': SUPPLY_V },
} as const;

function volts(reading: Reading, kind: keyof typeof FAULTY_V, voltsOf: (value: number) => number): number {
  if (reading.ok) return Math.min(Math.max(voltsOf(reading.value), 0), SUPPLY_V);
  const faulty: { readonly [reason: string]: number } = FAULTY_V[kind];
  return faulty[reading.reason] ?? 0;
}

/** Puts the bench's readings on the wires of a board. */
export function wiresOf(readings: Readings, sensors: FittedSensors): BoardInputs {
  const { barometerPa } = readings;
  const roomPa = barometerPa.ok ? barometerPa.value : sensors.typedBarometerPa;
  const gauge = (reading: Reading, sensor: PressureSensor): number =>
    volts(reading, 'transmitter', (pressurePa) => voltsOfPressure(sensor, pressurePa - roomPa));
  const absolute = (reading: Reading, sensor: PressureSensor): number =>
    volts(reading, 'transmitter', (pressurePa) => voltsOfPressure(sensor, pressurePa));
  const thermistor = (reading: Reading): number =>
    volts(reading, 'thermistor', (temperatureK) => voltsOfTemperature(THERMISTOR, temperatureK));
  const tripped = (reading: Reading<boolean>): boolean => reading.ok && reading.value;
  return {
    analogVolts: [
      gauge(readings.highSidePressurePa, sensors.highSide),
      gauge(readings.lowSidePressurePa, sensors.lowSide),
      gauge(readings.tankPressurePa, sensors.tank),
      thermistor(readings.tankTemperatureK),
      thermistor(readings.ambientTemperatureK),
    ],
    converterVolts: [
      absolute(readings.manifoldPressurePa, sensors.manifold),
      volts(readings.vehicleVacuumPa, 'transmitter', (pressurePa) => voltsOfVacuum(THERMAL, pressurePa)),
      thermistor(readings.ventTemperatureK),
      absolute(barometerPa, BAROMETER),
    ],
    bridgeCounts: readings.scaleCounts.ok ? readings.scaleCounts.value : undefined,
    closed: {
      emergencyStop: !tripped(readings.emergencyStop),
      highPressureSwitch: !tripped(readings.highPressureSwitch),
      gasAlarm: !tripped(readings.gasAlarm),
      fanFlow: tripped(readings.fanFlow),
    },
  };
}
