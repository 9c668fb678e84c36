// Display units at the edge: everything inside is SI and absolute, this turns it into what people read.
import { ZERO_CELSIUS_K } from '../sim/celsius.ts';

/** Exact by definition (international yard and pound agreement, 1959). */
const POUND_KG = 0.45359237;
const OUNCE_KG = POUND_KG / 16;
/** NIST SP 811 (2008), appendix B: pound-force per square inch, and inch of mercury at 0 °C. */
const PSI_PA = 6894.757;
const INCH_OF_MERCURY_PA = 3386.389;
/** NIST SP 811 (2008), appendix B: the torr is 101325/760 Pa; a micron of vacuum is a thousandth of it. */
const MICRON_PA = 101_325 / 760 / 1000;
/** Fixed places without the sign of a zero. */
const fixed = (value: number, places: number): string =>
  value.toFixed(places).replace(/^-(0(?:\.0*)?)$/, '$1');

const BAR_PA = 100_000;

export const UNIT_SYSTEMS = ['si', 'us'] as const;
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];

export const toCelsius = (temperatureK: number): number => temperatureK - ZERO_CELSIUS_K;
export const toFahrenheit = (temperatureK: number): number => toCelsius(temperatureK) * 1.8 + 32;
export const toOunces = (massKg: number): number => massKg / OUNCE_KG;
export const toPounds = (massKg: number): number => massKg / POUND_KG;
export const toPsi = (pressurePa: number): number => pressurePa / PSI_PA;
export const toInchesOfMercury = (pressurePa: number): number => pressurePa / INCH_OF_MERCURY_PA;
export const toMicrons = (pressurePa: number): number => pressurePa / MICRON_PA;

/** Below this an absolute figure says more than a gauge one. */
const VACUUM_FROM_PA = 5000;

/** Texts for people, each with its unit. */
export type Units = {
  readonly system: UnitSystem;
  temperature(temperatureK: number): string;
  /** A pressure against the surroundings; deep vacuum is shown absolute. */
  pressure(pressurePa: number): string;
  /** A small absolute pressure or a change of one. */
  vacuum(pressurePa: number): string;
  /** How far two pressures are apart. */
  pressureDifference(pressurePa: number): string;
  temperatureDifference(temperatureK: number): string;
  /** A mass in the vehicle's range, to the gram. */
  charge(massKg: number): string;
  /** A mass in the tank's range. */
  content(massKg: number): string;
  flow(flowKgPerS: number): string;
};

/** @param ambientPa the barometer, from which gauge pressures count. */
function siUnits(ambientPa: number): Units {
  const vacuum = (pressurePa: number) => `${fixed(pressurePa, Math.abs(pressurePa) < 10 ? 1 : 0)} Pa`;
  return {
    system: 'si',
    temperature: (temperatureK) => `${fixed(toCelsius(temperatureK), 1)} °C`,
    pressure: (pressurePa) =>
      pressurePa < VACUUM_FROM_PA
        ? `${vacuum(pressurePa)} abs`
        : `${fixed((pressurePa - ambientPa) / BAR_PA, 2)} bar g`,
    vacuum,
    pressureDifference: (pressurePa) => `${fixed(pressurePa / 1000, 0)} kPa`,
    temperatureDifference: (temperatureK) => `${fixed(temperatureK, 1)} K`,
    charge: (massKg) => `${fixed(massKg * 1000, Math.abs(massKg) < 0.01 ? 1 : 0)} g`,
    content: (massKg) => `${fixed(massKg, 2)} kg`,
    flow: (flowKgPerS) => `${fixed(flowKgPerS * 1000, 1)} g/s`,
  };
}

/** @param ambientPa the barometer, from which gauge pressures count. */
function usUnits(ambientPa: number): Units {
  const vacuum = (pressurePa: number) =>
    pressurePa < VACUUM_FROM_PA
      ? `${fixed(toMicrons(pressurePa), 0)} micron`
      : `${fixed(toPsi(pressurePa), 2)} psi abs`;
  return {
    system: 'us',
    temperature: (temperatureK) => `${fixed(toFahrenheit(temperatureK), 1)} °F`,
    pressure: (pressurePa) => {
      if (pressurePa < VACUUM_FROM_PA) return vacuum(pressurePa);
      if (pressurePa < ambientPa) return `${fixed(toInchesOfMercury(ambientPa - pressurePa), 1)} inHg vac`;
      return `${fixed(toPsi(pressurePa - ambientPa), 1)} psig`;
    },
    vacuum,
    pressureDifference: (pressurePa) => `${fixed(toPsi(pressurePa), 1)} psi`,
    temperatureDifference: (temperatureK) => `${fixed(1.8 * temperatureK, 1)} °F`,
    charge: (massKg) => `${fixed(toOunces(massKg), 2)} oz`,
    content: (massKg) => `${fixed(toPounds(massKg), 2)} lb`,
    flow: (flowKgPerS) => `${fixed(toOunces(flowKgPerS) * 60, 1)} oz/min`,
  };
}

export const unitsFor = (system: UnitSystem, ambientPa: number): Units =>
  system === 'us' ? usUnits(ambientPa) : siUnits(ambientPa);

/** 83 s → '1:23', 3723 s → '1:02:03'. */
export function clock(timeMs: number): string {
  const seconds = Math.max(0, Math.round(timeMs / 1000));
  const two = (value: number) => String(value).padStart(2, '0');
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes}:${two(seconds % 60)}`;
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(seconds % 60)}`;
}
