// What follows from a node's masses once its temperature is known: pressure, phases, streams, and what each kilogram would do.
import { AIR } from '../fluids/air.ts';
import type { PropertyState, SaturationState } from '../fluids/property-state.ts';
import type { FluidTables } from '../fluids/tables.ts';
import { WATER_VAPOUR } from '../fluids/water.ts';
import type { Node } from './node.ts';
import { oilVolumeM3 } from './oil.ts';

/** A liquid-full volume keeps this share for gas, so that a trace of air stays finite. */
const GAS_VOLUME_FLOOR = 1e-3;
/** From this share of liquid up, a node may fill up within a step. */
const NEARLY_FULL = 0.8;
/** As far beyond saturated liquid, in density, as its properties are asked for. */
const TURN_SHARE = 1e-6;

/** Properties and the objects they are written into, each overwritten by the next node. */
export type Workspace = {
  readonly tables: FluidTables;
  /** The refrigerant of the node at hand. */
  readonly state: PropertyState;
  readonly saturation: SaturationState;
  /** Where it turns from two phases to liquid alone, or back. */
  readonly beyond: PropertyState;
};

/** Room that the oil leaves for gas and liquid. */
export function freeVolumeM3(node: Node): number {
  return node.volumeM3 - oilVolumeM3(node);
}

/** Sets all derived fields. `capacityJPerK`: of contents, contact metal, and walls as far as they follow. */
export function derive(
  node: Node,
  densityKgPerM3: number,
  capacityJPerK: number,
  workspace: Workspace,
): void {
  const { tables, state, saturation } = workspace;
  const freeM3 = freeVolumeM3(node);
  const { quality } = state;
  const twoPhase = quality > 0 && quality < 1;
  let liquidM3 = 0;
  let vapourDensity = densityKgPerM3;
  const flowWork =
    densityKgPerM3 > 0
      ? state.pressurePa / densityKgPerM3
      : tables.fluid.gasConstantJPerKgK * node.temperatureK;
  let vapourEnthalpy = state.internalEnergyJPerKg + flowWork;
  let saturationPa = state.pressurePa;
  // Less room for the gas for each kilogram that becomes liquid.
  let gasRoomLostM3PerKg = 0;
  if (twoPhase) {
    tables.saturation(Math.max(node.temperatureK, tables.minimumTemperatureK), saturation);
    const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = saturation;
    gasRoomLostM3PerKg = 1 / (liquidDensityKgPerM3 - vapourDensityKgPerM3);
    liquidM3 = Math.max(0, (node.refrigerantKg - vapourDensityKgPerM3 * freeM3) * gasRoomLostM3PerKg);
    vapourDensity = vapourDensityKgPerM3;
    vapourEnthalpy = saturation.vapourEnthalpyJPerKg;
    node.liquidDensityKgPerM3 = liquidDensityKgPerM3;
    node.liquidEnthalpyJPerKg = saturation.liquidEnthalpyJPerKg;
  } else if (quality === 0) {
    liquidM3 = freeM3;
    node.liquidDensityKgPerM3 = densityKgPerM3;
    node.liquidEnthalpyJPerKg = vapourEnthalpy;
    saturationPa = vapourPressureOfLiquid(node.temperatureK, workspace);
  } else {
    node.liquidDensityKgPerM3 = 0;
  }
  const gasM3 = Math.max(freeM3 - liquidM3, GAS_VOLUME_FLOOR * node.volumeM3);
  const gasConstantSum = node.airKg * AIR.gasConstantJPerKgK + node.waterKg * WATER_VAPOUR.gasConstantJPerKgK;
  const carriedPa = (gasConstantSum * node.temperatureK) / gasM3;
  node.gasVolumeM3 = gasM3;
  node.liquidFraction = (liquidM3 + node.volumeM3 - freeM3) / node.volumeM3;
  node.saturationPa = saturationPa;
  node.pressurePa = state.pressurePa + carriedPa;
  deriveGas(node, vapourDensity, vapourEnthalpy);

  const pressurePerK = state.dPdT + gasConstantSum / gasM3;
  const perEnergy = capacityJPerK > 0 ? pressurePerK / capacityJPerK : 0;
  const energyPerKg = state.internalEnergyJPerKg + state.dUdRho * densityKgPerM3;
  node.pressurePerEnergy = perEnergy;
  node.pressurePerRefrigerant =
    state.dPdRho / freeM3 - perEnergy * energyPerKg + (carriedPa / gasM3) * gasRoomLostM3PerKg;
  node.pressurePerAir =
    (AIR.gasConstantJPerKgK * node.temperatureK) / gasM3 - perEnergy * AIR.cvJPerKgK * node.temperatureK;
  node.pressurePerWater =
    (WATER_VAPOUR.gasConstantJPerKgK * node.temperatureK) / gasM3 -
    perEnergy * WATER_VAPOUR.cvJPerKgK * node.temperatureK;
  node.turnOffsetPa = Number.NEGATIVE_INFINITY;
  if (quality === 0) turn(node, densityKgPerM3, capacityJPerK, saturationPa - state.pressurePa, 0, workspace);
  else if (twoPhase && liquidM3 > NEARLY_FULL * freeM3)
    turn(node, densityKgPerM3, capacityJPerK, 0, (freeM3 - liquidM3) / gasRoomLostM3PerKg, workspace);
}

/** What lies beyond the point where the node has filled up, `roomKg` from here, or begins to boil, `offsetPa` from here. */
function turn(
  node: Node,
  densityKgPerM3: number,
  capacityJPerK: number,
  offsetPa: number,
  roomKg: number,
  workspace: Workspace,
): void {
  const { tables, state, beyond } = workspace;
  const saturatedKgPerM3 = workspace.saturation.liquidDensityKgPerM3;
  const temperatureK = Math.max(node.temperatureK, tables.minimumTemperatureK);
  if (temperatureK >= tables.fluid.criticalTemperatureK) return;
  tables.evaluate(saturatedKgPerM3 * (roomKg > 0 ? 1 + TURN_SHARE : 1 - TURN_SHARE), temperatureK, beyond);
  const capacity = capacityJPerK + node.refrigerantKg * (beyond.dUdT - state.dUdT);
  const perEnergy = beyond.dPdT / capacity;
  const energyPerKg = beyond.internalEnergyJPerKg + beyond.dUdRho * densityKgPerM3;
  node.turnedPerEnergy = perEnergy;
  node.turnedPerRefrigerant = beyond.dPdRho / freeVolumeM3(node) - perEnergy * energyPerKg;
  const perLiquid = node.turnedPerRefrigerant + perEnergy * node.liquidEnthalpyJPerKg;
  node.turnOffsetPa = offsetPa - roomKg * perLiquid;
}

/** Compressed liquid boils at the vapour pressure of its temperature, not at its own pressure. */
function vapourPressureOfLiquid(temperatureK: number, { tables, saturation }: Workspace): number {
  const { criticalTemperatureK, criticalPressurePa } = tables.fluid;
  if (temperatureK >= criticalTemperatureK) return criticalPressurePa;
  tables.saturation(Math.max(temperatureK, tables.minimumTemperatureK), saturation);
  return saturation.pressurePa;
}

function deriveGas(node: Node, vapourDensity: number, vapourEnthalpy: number): void {
  const airDensity = node.airKg / node.gasVolumeM3;
  const waterDensity = node.waterKg / node.gasVolumeM3;
  const density = vapourDensity + airDensity + waterDensity;
  node.gasDensityKgPerM3 = density;
  node.gasAir = density > 0 ? airDensity / density : 0;
  node.gasWater = density > 0 ? waterDensity / density : 0;
  node.gasRefrigerant = 1 - node.gasAir - node.gasWater;
  node.gasEnthalpyJPerKg =
    node.gasRefrigerant * vapourEnthalpy +
    (node.gasAir * AIR.cpJPerKgK + node.gasWater * WATER_VAPOUR.cpJPerKgK) * node.temperatureK;
}
