// What the controller says, in the units of whoever reads it: its texts are written in SI, and stay so in documents.
import { ZERO_CELSIUS_K } from '../sim/celsius.ts';
import type { Units } from './units.ts';

const SHOWN: { readonly [unit: string]: (figure: number, units: Units) => string } = {
  'kPa absolute': (figure, units) => units.pressure(1000 * figure),
  kPa: (figure, units) => units.pressureDifference(1000 * figure),
  'Pa/s': (figure, units) => `${units.vacuum(figure)}/s`,
  Pa: (figure, units) => units.vacuum(figure),
  'g/s': (figure, units) => units.flow(figure / 1000),
  kg: (figure, units) => units.content(figure),
  g: (figure, units) => units.charge(figure / 1000),
  '°C': (figure, units) => units.temperature(figure + ZERO_CELSIUS_K),
  K: (figure, units) => units.temperatureDifference(figure),
};

const FIGURES = new RegExp(
  `(?<![\\w.-])(-?\\d+(?:\\.\\d+)?) (${Object.keys(SHOWN).join('|')})(?![\\w/])`,
  'g',
);

/** Figures that have the reader's unit already stay as they were written; absolute pressures become gauge ones, as on the dials, and hyphens minus signs. */
export function toldIn(units: Units, text: string): string {
  return text.replace(FIGURES, (written: string, figure: string, unit: string) => {
    const shown = SHOWN[unit]!(Number(figure), units);
    return shown.endsWith(` ${unit}`) ? written : shown.replace(/^-/, '−');
  });
}
