// What the documents of a job and of work by hand share: how figures are written, truth, notices and faults.
import type { Notice } from '../../controller/notice.ts';
import type { Truth } from '../../sim/spec.ts';
import { toCelsius } from '../units.ts';
import type { RunDocument, TruthDocument, TruthOilDocument } from './document-type.ts';
import type { FaultHistory } from './faults.ts';

/** Nine figures: a microgram of a kilogram, and no tail of binary digits. */
export const rounded = (value: number): number => Number(value.toPrecision(9));
export const grams = (massKg: number): number => rounded(massKg * 1000);
/** Air that is drawn in brings traces with it, backwards past a place where something could be lost: below a microgram it is nothing. */
const lostGrams = (massKg: number): number => (Math.abs(massKg) < 1e-9 ? 0 : grams(massKg));
export const seconds = (timeMs: number): number => rounded(timeMs / 1000);
export const celsius = (temperatureK: number): number => rounded(toCelsius(temperatureK));

type Given<T, K extends string> = { readonly [N in K]?: T };

/** `{[key]: convert(value)}`, or nothing when there is no value. */
export function given<T, K extends string, R>(
  key: K,
  value: T | undefined,
  convert: (value: T) => R,
): Given<R, K> {
  return (value === undefined ? {} : { [key]: convert(value) }) as Given<R, K>;
}

export function truthDocument(truth: Truth): TruthDocument {
  return {
    initialG: grams(truth.initialKg),
    vehicleRefrigerantG: grams(truth.vehicleRefrigerantKg),
    cylinderRefrigerantG: grams(truth.cylinderRefrigerantKg),
    hoseRefrigerantG: grams(truth.hoseRefrigerantKg),
    machineRefrigerantG: grams(truth.machineRefrigerantKg),
    tankRefrigerantG: grams(truth.tankRefrigerantKg),
    pumpExhaustG: lostGrams(truth.pumpExhaustKg),
    leakedG: lostGrams(truth.leakedKg),
    purgedG: lostGrams(truth.purgedKg),
    spilledG: lostGrams(truth.spilledKg),
    ventedG: lostGrams(truth.ventedKg),
    tankAirG: grams(truth.tankAirKg),
    vehicleWaterG: grams(truth.vehicleWaterKg),
    massDriftG: grams(truth.massDriftKg),
  };
}

export const truthOilDocument = ({ vehicleOilKg, vehicleDyeKg }: Truth): TruthOilDocument => ({
  vehicleG: grams(vehicleOilKg),
  vehicleDyeG: grams(vehicleDyeKg),
});

export const noticesOf = (notices: readonly Notice[]): RunDocument['notices'] =>
  notices.map(({ code, text, remedy, atMs }) => ({ code, text, remedy, atS: seconds(atMs) }));

export function faultsOf(histories: readonly FaultHistory[]): Pick<RunDocument, 'faults'> {
  if (histories.length === 0) return {};
  const faults = histories.map(({ planned, onAtMs, offAtMs }) => ({
    ...planned.fault,
    ...given('onAtS', onAtMs, seconds),
    ...given('offAtS', offAtMs, seconds),
  }));
  return { faults };
}
