// Whether liquid can still boil between the valves and the compressor: at a suction that the room's heat would not allow, it cannot.
import type { SaturationCurve } from '../saturation.ts';
import { drawKgPerS } from './condenser.ts';
import { evaporationJPerKg, saturationK } from './saturation.ts';

export type Suction = {
  readonly manifoldPa: number | undefined;
  readonly tankPa: number | undefined;
  readonly ambientK: number | undefined;
  readonly sweptM3PerS: number;
  /** What the separator surely takes up from the room, W/K. */
  readonly boilingWPerK: number;
};

/**
 * Low pressure alone proves nothing: cold liquid stands low as well. But liquid at saturation is colder than the room, heat
 * flows in and boils it, and where that gives more than the compressor draws at this suction the pressure could not have
 * fallen so far. Unknown is not dry.
 */
export function isDry(curve: SaturationCurve, suction: Suction): boolean {
  const { manifoldPa, tankPa, ambientK, sweptM3PerS, boilingWPerK } = suction;
  if (manifoldPa === undefined || tankPa === undefined || ambientK === undefined) return false;
  const boilsAtK = saturationK(curve, manifoldPa);
  const drawn = { suctionPa: manifoldPa, dischargePa: tankPa, ambientK: boilsAtK, sweptM3PerS };
  const drawnW = drawKgPerS(curve, drawn) * evaporationJPerKg(curve, boilsAtK);
  return drawnW < boilingWPerK * (ambientK - boilsAtK);
}
