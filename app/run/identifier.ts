// The operator's refrigerant identifier: what it shows of a sample of vapour.
import { vapourDensityKgPerM3 } from '../../controller/estimates/saturation.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';
import type { VehicleSpec } from '../../sim/spec.ts';
import type { IdentifierSpec, Scenario } from '../scenario/scenario.ts';
import type { Identified } from './operator.ts';

/** What the sample is taken from; without a charge it is taken to have pressure, and without air to have none. */
export type Sampled = Pick<VehicleSpec, 'refrigerant'> &
  Partial<Pick<VehicleSpec, 'chargeKg' | 'airKg' | 'volumeM3' | 'temperatureK'>>;

/** An identifier reads purity without the air, which it reports apart. */
const PURITY_PERCENT = 99.9;
/** Less refrigerant than this gives no sample (estimate). */
const LEAST_KG = 0.001;
/** It shows tenths of a per cent. */
const STEP_PERCENT = 0.1;

/** What the scenario says that it shows, else what the untouched vapour is made of. */
export function identify(sampled: Sampled, shows: IdentifierSpec, curve: SaturationCurve): Identified {
  const { elsewhere, airPercent, hydrocarbonPercent } = shows;
  if (elsewhere !== undefined) return { why: 'identified-elsewhere', reason: elsewhere };
  const isGiven = shows.refrigerant !== undefined || shows.purityPercent !== undefined;
  if ((sampled.chargeKg ?? LEAST_KG) < LEAST_KG && !isGiven) {
    return { why: 'no-pressure', reason: 'the vehicle gives no sample: there is no pressure at its ports' };
  }
  return {
    reading: {
      refrigerant: shows.refrigerant ?? sampled.refrigerant,
      purityPercent: shows.purityPercent ?? PURITY_PERCENT,
      airPercent: airPercent ?? airOf(sampled, curve),
      ...(hydrocarbonPercent === undefined ? {} : { hydrocarbonPercent }),
    },
  };
}

/** Share of air in the vapour by mass; what lies below it as liquid is not sampled. */
function airOf({ airKg, chargeKg, volumeM3, temperatureK }: Sampled, curve: SaturationCurve): number {
  if (!airKg || chargeKg === undefined || volumeM3 === undefined || temperatureK === undefined) return 0;
  const vapourKg = Math.min(chargeKg, vapourDensityKgPerM3(curve, temperatureK) * volumeM3);
  const percent = (100 * airKg) / (airKg + vapourKg);
  return Number((STEP_PERCENT * Math.round(percent / STEP_PERCENT)).toFixed(1));
}

/** A cylinder is sampled as a vehicle is. */
export function sampledIn({ vehicle, cylinder }: Scenario): Sampled {
  if (vehicle !== undefined || cylinder === undefined) return vehicle!;
  const { refrigerant, contentKg, waterCapacityM3, temperatureK, airKg } = cylinder;
  return { refrigerant, chargeKg: contentKg, volumeM3: waterCapacityM3, temperatureK, airKg };
}
