// What has left the vehicle and is not in the tank yet: hoses and machine that stand under pressure hold it.
import { ROOM_K, SURE } from '../constants.ts';
import { circuitPa } from '../estimates/pressures.ts';
import {
  liquidDensityKgPerM3,
  saturationK,
  saturationPa,
  vapourDensityKgPerM3,
} from '../estimates/saturation.ts';
import type { StageInput } from './stage.ts';

type Held = { readonly kg: number; readonly sdKg: number };

/** A draw that has come to its end leaves less than this, about as much as stood there before (estimate). */
const DRAWN_PA = 150_000;
/** And this is what stands there then, roughly. */
const LEFT_KG_PER_M3 = 2;
/** Volumes, temperatures and a pressure for all of it (estimate). */
const VAPOUR_SD_SHARE = 0.15;

/**
 * Vapour in what is joined to the vehicle's side, beyond what a finished draw leaves. A hose that stands above saturation at
 * the room's temperature is fed by a running engine: between nothing and all of it is liquid.
 */
export function underPressure({
  equipment,
  plan,
  seen,
}: Pick<StageInput, 'equipment' | 'plan' | 'seen'>): Held {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const { ports } = plan.ticket;
  const ambientK = seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K;
  const warmK = ambientK + SURE * equipment.temperatureSdK;
  const hose = (volumeM3: number, pressurePa: number | undefined, sdPa: number): Held => {
    const liquid = pressurePa !== undefined && pressurePa > saturationPa(plan.curve, warmK) + SURE * sdPa;
    const halfKg = (volumeM3 * liquidDensityKgPerM3(plan.curve, ambientK)) / 2;
    return liquid ? { kg: halfKg, sdKg: halfKg } : vapour(volumeM3, pressurePa, plan.curve);
  };
  const { highSideSdPa, lowSideSdPa } = equipment.pressure;
  const parts = [
    hose(highVolumeM3, seen.highSidePa, highSideSdPa),
    ports === 2 ? hose(lowVolumeM3, seen.lowSidePa, lowSideSdPa) : NOTHING,
    vapour(manifoldVolumeM3, circuitPa(seen, ports), plan.curve),
    perhaps(vapour(equipment.separatorM3, circuitPa(seen, ports), plan.curve)),
  ];
  return {
    kg: parts.reduce((sum, { kg }) => sum + kg, 0),
    sdKg: Math.hypot(...parts.map(({ sdKg }) => sdKg)),
  };
}

/** Behind the recovery valve, which may have been held shut all the time: between nothing and all of it. */
const perhaps = ({ kg }: Held): Held => ({ kg: kg / 2, sdKg: kg / 4 });

const NOTHING: Held = { kg: 0, sdKg: 0 };

function vapour(volumeM3: number, pressurePa: number | undefined, curve: StageInput['plan']['curve']): Held {
  if (pressurePa === undefined || pressurePa <= DRAWN_PA) return NOTHING;
  const kg = volumeM3 * (vapourDensityKgPerM3(curve, saturationK(curve, pressurePa)) - LEFT_KG_PER_M3);
  return { kg, sdKg: VAPOUR_SD_SHARE * kg };
}
