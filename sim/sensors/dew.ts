// Dew and frost on the tank: what a wall colder than the room's dew point adds to the scale.
import { AIR, STANDARD_ATMOSPHERE_PA } from '../fluids/air.ts';
import { WATER_VAPOUR, waterVapourPressurePa } from '../fluids/water.ts';

/** Outside of a 22 L tank that is cold with its contents (estimate). */
export const TANK_SURFACE_M2 = 0.45;
/** Free convection alone: radiation brings heat to the wall but no water (estimate). */
const CONVECTION_W_PER_M2K = 3;
/** Lewis number of water vapour in air, 0.86, to the power two thirds: heat and mass transfer by analogy. */
const LEWIS = 0.9;
/** More than this drips off (estimate). Its latent heat is left out of the tank's balance: a tenth of the wall's own. */
export const MOST_DEW_KG = 0.01;

/** Water vapour to the wall, kg/(m²·s), negative when the film dries. Air and film at one pressure. */
export function condensingKgPerM2S(vapourPa: number, wallPa: number, roomK: number, wallK: number): number {
  const meanK = (roomK + wallK) / 2;
  // β = h / (ρ·cp·Le^⅔), with ρ·cp of air at one atmosphere; altitude changes it by less than the estimate of h.
  const airHeat = (STANDARD_ATMOSPHERE_PA / (AIR.gasConstantJPerKgK * meanK)) * AIR.cpJPerKgK;
  const transferMPerS = CONVECTION_W_PER_M2K / (airHeat * LEWIS);
  return (transferMPerS * (vapourPa - wallPa)) / (WATER_VAPOUR.gasConstantJPerKgK * meanK);
}

export class Dew {
  readonly #roomK: number;
  readonly #vapourPa: number;
  /** The tank starts dry: it has just been brought in, or wiped. */
  #kg = 0;

  constructor(roomK: number, relativeHumidity: number) {
    this.#roomK = roomK;
    this.#vapourPa = relativeHumidity * waterVapourPressurePa(roomK);
  }

  /** Mass of the film after `periodS` more under a wall of this temperature. */
  advance(wallK: number, periodS: number): number {
    const wallPa = waterVapourPressurePa(wallK);
    if (this.#kg === 0 && wallPa >= this.#vapourPa) return 0;
    const flow = condensingKgPerM2S(this.#vapourPa, wallPa, this.#roomK, wallK) * TANK_SURFACE_M2;
    this.#kg = Math.min(MOST_DEW_KG, Math.max(0, this.#kg + flow * periodS));
    return this.#kg;
  }
  save(): number {
    return this.#kg;
  }

  restore(kg: number): void {
    this.#kg = kg;
  }
}
