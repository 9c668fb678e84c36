// The sensors of a machine: as its data sheets have them, and as commissioning has corrected them.
import type { FittedSensors } from '../fitted.ts';
import type { PressureSensor, Thermistor } from '../sensors.ts';
import { fittedSensor } from './facts.ts';
import { type EquipmentRecord, type Figures, numberIn } from './record.ts';

/** What was found of a sensor: true = read × gain + offset. */
type Found = { readonly gain: number; readonly offsetPa: number };
const NOTHING_FOUND: Found = { gain: 1, offsetPa: 0 };

export const PRESSURE_SENSORS = ['highSide', 'lowSide', 'tank', 'manifold'] as const;
export type PressureName = (typeof PRESSURE_SENSORS)[number];

const pressureOf = (facts: Figures, name: PressureName | 'barometer', found: Found): PressureSensor => ({
  fromPa: numberIn(facts, `${name}FromPa`),
  toPa: numberIn(facts, `${name}ToPa`),
  ...found,
});

const thermistorOf = (facts: Figures, offsetK: number): Thermistor => ({
  ohmsAt25C: numberIn(facts, 'thermistorOhms'),
  betaK: numberIn(facts, 'thermistorBetaK'),
  pullUpOhms: numberIn(facts, 'pullUpOhms'),
  offsetK,
});

type Corrections = {
  readonly pressure: (name: PressureName | 'barometer') => Found;
  readonly temperature: (name: 'tank' | 'ambient' | 'vent') => number;
  readonly barometerPa: number;
};

/** Until a barometer has been typed: a room at sea level. Nothing that is written down rests on it. */
const SOME_ROOM_PA = 101_325;
const NO_CORRECTIONS: Corrections = {
  pressure: () => NOTHING_FOUND,
  temperature: () => 0,
  barometerPa: SOME_ROOM_PA,
};

function sensorsWith(facts: Figures, { pressure, temperature, barometerPa }: Corrections): FittedSensors {
  return {
    highSide: pressureOf(facts, 'highSide', pressure('highSide')),
    lowSide: pressureOf(facts, 'lowSide', pressure('lowSide')),
    tank: pressureOf(facts, 'tank', pressure('tank')),
    manifold: pressureOf(facts, 'manifold', pressure('manifold')),
    tankTemperature: thermistorOf(facts, temperature('tank')),
    ambientTemperature: thermistorOf(facts, temperature('ambient')),
    ...(fittedSensor(facts, 'ventTemperature')
      ? { ventTemperature: thermistorOf(facts, temperature('vent')) }
      : {}),
    ...(fittedSensor(facts, 'barometer')
      ? { barometer: pressureOf(facts, 'barometer', pressure('barometer')) }
      : {}),
    ...(fittedSensor(facts, 'vehicleVacuum')
      ? {
          vehicleVacuum: {
            voltsAt1Pa: numberIn(facts, 'vacuumVoltsAt1Pa'),
            voltsPerDecade: numberIn(facts, 'vacuumVoltsPerDecade'),
            fromPa: numberIn(facts, 'vacuumFromPa'),
            toPa: numberIn(facts, 'vacuumToPa'),
          },
        }
      : {}),
    typedBarometerPa: barometerPa,
    gasAlarm: fittedSensor(facts, 'gasAlarm'),
  };
}

/** By the data sheets alone, as commissioning reads them. */
export const dataSheetSensors = (facts: Figures): FittedSensors => sensorsWith(facts, NO_CORRECTIONS);

/** A gauge transmitter shows the room as nothing; the absolute sensor's offset is that of a deep vacuum. */
function foundOf(name: PressureName, atmosphere: Figures, secondPoint: Figures): Found {
  const gain = numberIn(secondPoint, `${name}Gain`);
  return name === 'manifold'
    ? { gain, offsetPa: numberIn(secondPoint, 'manifoldOffsetPa') }
    : { gain, offsetPa: -gain * numberIn(atmosphere, `${name}ReadPa`) };
}

/** @throws Error where a line that measures them is missing. */
export function commissionedSensors(record: EquipmentRecord): FittedSensors {
  const of = (line: 'atmosphere' | 'second-point' | 'temperatures'): Figures => record[line]?.figures ?? {};
  return sensorsWith(record.facts?.figures ?? {}, {
    pressure: (name) =>
      name === 'barometer'
        ? { gain: 1, offsetPa: numberIn(of('atmosphere'), 'barometerOffsetPa') }
        : foundOf(name, of('atmosphere'), of('second-point')),
    temperature: (name) => numberIn(of('temperatures'), `${name}OffsetK`),
    barometerPa: numberIn(of('atmosphere'), 'barometerPa'),
  });
}
