// What heat lets a cold vehicle give up in a given time: the pool in its accumulator or receiver, boiling as cold as the machine can make it.
import { GAS_CONSTANT_J_PER_MOL_K } from '../../controller/constants.ts';
import { OIL_HEAT_J_PER_KG_K, type OilKind, Solubility } from '../../sim/fluids/oil.ts';
import { newSaturationState, type SaturationState } from '../../sim/fluids/property-state.ts';
import type { FluidTables } from '../../sim/fluids/tables.ts';

export type Pool = {
  /** All refrigerant of the vehicle, and what of it lies in the vessel, in liquid, vapour and oil. */
  readonly vehicleKg: number;
  readonly vesselKg: number;
  readonly vesselOilKg: number;
  /** Room and oil outside the vessel. */
  readonly outsideM3: number;
  readonly outsideOilKg: number;
  readonly oil: OilKind;
  readonly metalJPerK: number;
  readonly uaWPerK: number;
  /** Of the room; pool, metal and oil begin with it. */
  readonly ambientK: number;
  /** Against which the compressor delivers. */
  readonly tankK: number;
  readonly sweptM3PerS: number;
};

/** Clearance and polytropic exponent of a small reciprocating compressor (estimates, as of the simulated one). */
const CLEARANCE = 0.05;
const POLYTROPIC = 1.1;
/** Of the pool's pressure, what hoses, valves and filter cost a trickle (estimate). */
const SUCTION_LOSS = 0.05;
/** Of the liquids of both refrigerants between −50 and 20 °C, within 5 %. */
const LIQUID_J_PER_KG_K = 1300;

const saturated = (tables: FluidTables, temperatureK: number): SaturationState => {
  const state = newSaturationState();
  tables.saturation(temperatureK, state);
  return state;
};

const latentJPerKg = ({ vapourEnthalpyJPerKg, liquidEnthalpyJPerKg }: SaturationState): number =>
  vapourEnthalpyJPerKg - liquidEnthalpyJPerKg;

/** Warmed to the room, as an ideal gas. */
const gasKgPerM3 = ({ fluid }: FluidTables, pressurePa: number, temperatureK: number): number =>
  (pressurePa * fluid.molarMassKgPerMol) / (GAS_CONSTANT_J_PER_MOL_K * temperatureK);

/** Vapour of the pool, carried by a piston with dead space, kg/s. */
function carriedKgPerS(tables: FluidTables, poolPa: number, tankPa: number, pool: Pool): number {
  const suctionPa = (1 - SUCTION_LOSS) * poolPa;
  const efficiency = 1 + CLEARANCE - CLEARANCE * (tankPa / suctionPa) ** (1 / POLYTROPIC);
  return Math.max(0, efficiency) * pool.sweptM3PerS * gasKgPerM3(tables, suctionPa, pool.ambientK);
}

/** As warm as the room, under vapour of the pool: what is spread evenly holds no less (Flory and Huggins, `sim/fluids/oil.ts`). */
function heldByOilKg(
  solubility: Solubility,
  warm: SaturationState,
  { outsideOilKg, ambientK }: Pool,
  poolPa: number,
): number {
  const activity = poolPa / warm.pressurePa;
  return outsideOilKg * solubility.content(activity, ambientK, warm.liquidDensityKgPerM3);
}

/**
 * Of the pool's vapour pressure, what stands over it. Oil gives nothing up to liquid that lies beside it: what it held at
 * the beginning comes last, and no faster than in equilibrium.
 */
function activityOver(
  solubility: Solubility,
  warm: SaturationState,
  pool: Pool,
): (leftKg: number, at: SaturationState, temperatureK: number) => number {
  const oilKg = pool.vesselOilKg;
  const heldKg = oilKg * solubility.content(1, pool.ambientK, warm.liquidDensityKgPerM3);
  return (leftKg, { liquidDensityKgPerM3 }, temperatureK) =>
    leftKg > heldKg
      ? 1
      : Math.min(solubility.activity(leftKg / oilKg, temperatureK, liquidDensityKgPerM3), 1);
}

const STEP_S = 1;

/**
 * Most that can come out of the vehicle in `durationS`, kg. An upper bound: the compressor never waits nor rests; what is
 * outside the vessel comes first, by itself and at the room's vapour pressure; then the pool boils, and while there is
 * some of it, gas of its pressure stays outside the vessel, and in the oil there what it holds under that pressure; at
 * last the vessel's own oil gives up what it held.
 */
export function recoverableKg(tables: FluidTables, pool: Pool, durationS: number): number {
  const warm = saturated(tables, pool.ambientK);
  const tankPa = saturated(tables, pool.tankK).pressurePa;
  const outsideKg = pool.vehicleKg - pool.vesselKg;
  const outsideS = outsideKg / carriedKgPerS(tables, warm.pressurePa, tankPa, pool);
  if (outsideS >= durationS) return (outsideKg * durationS) / outsideS;
  const metalAndOilJPerK = pool.metalJPerK + OIL_HEAT_J_PER_KG_K * pool.vesselOilKg;
  const solubility = new Solubility(pool.oil, tables.fluid);
  const activityOf = activityOver(solubility, warm, pool);
  const state = newSaturationState();
  let temperatureK = pool.ambientK;
  let leftKg = pool.vesselKg;
  let poolPa = warm.pressurePa;
  for (let atS = outsideS; atS < durationS && leftKg > 0; atS += STEP_S) {
    tables.saturation(temperatureK, state);
    poolPa = activityOf(leftKg, state, temperatureK) * state.pressurePa;
    const boiledKg = STEP_S * carriedKgPerS(tables, poolPa, tankPa, pool);
    const inflowJ = STEP_S * pool.uaWPerK * (pool.ambientK - temperatureK);
    temperatureK +=
      (inflowJ - latentJPerKg(state) * boiledKg) / (metalAndOilJPerK + leftKg * LIQUID_J_PER_KG_K);
    leftKg -= boiledKg;
  }
  if (leftKg <= 0) return pool.vehicleKg;
  const gasKg = pool.outsideM3 * gasKgPerM3(tables, poolPa, pool.ambientK);
  return pool.vehicleKg - leftKg - gasKg - heldByOilKg(solubility, warm, pool, poolPa);
}
