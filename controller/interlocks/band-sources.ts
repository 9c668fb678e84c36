// What each class of readings is told from: readings, figures of the equipment, and what else. A test holds it to that.
import type { Seen } from '../estimates/seen.ts';
import type { BandInput, BandName } from './bands.ts';

export type BandSource = {
  readonly seen: readonly (keyof Seen)[];
  /** Figures of the equipment, by their path. */
  readonly equipment: readonly string[];
  readonly other: readonly Exclude<keyof BandInput, 'seen' | 'equipment'>[];
};

const from = (
  seen: BandSource['seen'],
  equipment: readonly string[] = [],
  other: BandSource['other'] = [],
): BandSource => ({ seen, equipment, other });

const TANK_MASS = ['tank.fillLimitKg', 'compressor.condenserM3', 'scale.countsPerKg', 'scale.zeroCounts'];

export const BAND_SOURCES: { readonly [B in BandName]: BandSource } = {
  emergencyStop: from(['emergencyStop']),
  highPressureSwitch: from(['highPressureSwitch']),
  gasAlarm: from(['gasAlarm']),
  fanFlow: from(['fanFlow']),
  flammability: from([], ['tank.refrigerant', 'tank.contaminated']),
  tankUse: from([], ['tank.contaminated']),
  tankAir: from(
    ['tankPa', 'tankTemperatureK', 'ambientK'],
    ['tank.refrigerant', 'tank.contaminated', 'pressure.tankSdPa', 'temperatureSdK'],
    ['curve', 'purges'],
  ),
  bottleOil: from([], ['oil.kind'], ['ticket']),
  bottleDye: from([], ['dye.bottleM3'], ['ticket']),
  tankPressure: from(['tankPa'], ['compressor.cutOutPa', 'pressure.tankSpanPa']),
  tankMass: from([], TANK_MASS, ['scaleCounts', 'scaleMassKg']),
  tankLiquid: from(
    ['tankTemperatureK'],
    [
      'tank.refrigerant',
      'tank.waterCapacityM3',
      'tank.reserveKg',
      'tank.temperatureLimitK',
      'scale.countsPerKg',
      'scale.zeroCounts',
    ],
    ['scaleCounts', 'scaleMassKg', 'curve'],
  ),
  tankTemperature: from(['tankTemperatureK'], ['tank.temperatureLimitK']),
  scale: from([], [], ['scaleTrust', 'scaleCounts']),
  manifold: from(['manifoldPa', 'manifoldOverSpan', 'barometerPa'], ['vacuumPump.openLimitPa']),
  drainPressure: from(['manifoldPa', 'barometerPa'], ['pressure.manifoldSdPa']),
  highHose: from(['highSidePa'], ['pressure.highSideSdPa']),
  lowHose: from(['lowSidePa'], ['pressure.lowSideSdPa']),
  chargeDirection: from(['highSidePa', 'tankPa'], ['pressure.highSideSdPa', 'pressure.tankSdPa']),
  runningSides: from(['highSidePa', 'lowSidePa', 'barometerPa']),
};
