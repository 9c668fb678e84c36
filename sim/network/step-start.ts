// What of a node is kept at the start of a step, to go back to when the step is taken anew.
import type { Node } from './node.ts';

export type StepStart = Pick<
  Node,
  | 'refrigerantKg'
  | 'airKg'
  | 'waterKg'
  | 'dissolvedKg'
  | 'filmKg'
  | 'filmEnergyJ'
  | 'sorbedWaterKg'
  | 'energyJ'
  | 'wallK'
  | 'takenHeatJ'
  | 'temperatureK'
>;

/** Doubles from the first: a field that begins as a whole number changes its shape later. */
export const NOTHING_SAVED: StepStart = {
  refrigerantKg: 0.5,
  airKg: 0.5,
  waterKg: 0.5,
  dissolvedKg: 0.5,
  filmKg: 0.5,
  filmEnergyJ: 0.5,
  sorbedWaterKg: 0.5,
  energyJ: 0.5,
  wallK: 0.5,
  takenHeatJ: 0.5,
  temperatureK: 0.5,
};

export function copyState(from: StepStart, to: StepStart): void {
  to.refrigerantKg = from.refrigerantKg;
  to.airKg = from.airKg;
  to.waterKg = from.waterKg;
  to.dissolvedKg = from.dissolvedKg;
  to.filmKg = from.filmKg;
  to.filmEnergyJ = from.filmEnergyJ;
  to.sorbedWaterKg = from.sorbedWaterKg;
  to.energyJ = from.energyJ;
  to.wallK = from.wallK;
  to.takenHeatJ = from.takenHeatJ;
  to.temperatureK = from.temperatureK;
}
