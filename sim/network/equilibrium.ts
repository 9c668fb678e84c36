// Thermodynamic equilibrium of one node: temperature, pressure and phases from its masses and total energy.
import { AIR } from '../fluids/air.ts';
import { OIL_HEAT_J_PER_KG_K } from '../fluids/oil.ts';
import {
  newPropertyState,
  newSaturationState,
  type PropertyState,
  type SaturationState,
} from '../fluids/property-state.ts';
import type { FluidTables } from '../fluids/tables.ts';
import { WATER_VAPOUR } from '../fluids/water.ts';
import { derive, freeVolumeM3, type Workspace } from './derive.ts';
import { fittedWeight } from './fitted-weight.ts';
import { followAnchor, setAnchor } from './gas-anchor.ts';
import type { Node } from './node.ts';
import { type DissolvedEnergy, dissolvedEnergyOf } from './oil.ts';
import { behindWallK, settleWall, wallConductance, wallUaWPerK } from './wall.ts';

/** Newton stops here; the pressure is carried along the tangent for the rest. */
const TEMPERATURE_TOLERANCE_K = 1e-3;
const MAXIMUM_ITERATIONS = 40;
/**
 * The reach of the extensions. Air that rushes into an evacuated hose heats up to κ times its temperature, 466 K from 60 °C
 * (adiabatic filling).
 */
const MOST_BELOW_TABLES_K = 60;
const MOST_ABOVE_TABLES_K = 60;
/**
 * Gas that is colder still condenses: its latent heat there (some 0.22 to 0.26 MJ/kg) over the next tens of kelvin. Without
 * it no temperature would be found for a trace of liquid that flashes into a good vacuum.
 */
const CONDENSING_BELOW_TABLES_J_PER_KG_K = 6000;

/** A state outside the range of the fluid: names the node and the values, so that a run stops with a reason. */
export class StateOutOfRange extends Error {
  override readonly name = 'StateOutOfRange';
  constructor(node: Node, why: string) {
    super(
      `${node.name}: ${why} (refrigerant ${(node.refrigerantKg * 1000).toFixed(3)} g in ` +
        `${(node.volumeM3 * 1000).toFixed(3)} L, energy ${node.energyJ.toFixed(1)} J, last ${node.temperatureK.toFixed(1)} K)`,
    );
  }
}

/** What a node is filled with; `refrigerantKg` does not count what the oil holds. */
export type Filling = {
  readonly refrigerantKg: number;
  readonly airKg?: number;
  /** As vapour. */
  readonly waterKg?: number;
  readonly oilKg?: number;
  readonly dissolvedKg?: number;
};

export class Equilibrium {
  readonly tables: FluidTables;
  readonly dissolved: DissolvedEnergy;
  readonly #workspace: Workspace;
  readonly #state: PropertyState = newPropertyState();
  readonly #saturation: SaturationState = newSaturationState();

  constructor(tables: FluidTables) {
    this.tables = tables;
    this.dissolved = dissolvedEnergyOf(tables);
    this.#workspace = {
      tables,
      state: this.#state,
      saturation: this.#saturation,
      beyond: newPropertyState(),
    };
  }

  /** Puts masses into a node at a temperature and derives everything from them. */
  fill(node: Node, temperatureK: number, masses: Filling): void {
    node.refrigerantKg = masses.refrigerantKg;
    node.airKg = masses.airKg ?? 0;
    node.waterKg = masses.waterKg ?? 0;
    node.oilKg = masses.oilKg ?? 0;
    node.dissolvedKg = masses.dissolvedKg ?? 0;
    node.filmKg = 0;
    node.filmEnergyJ = 0;
    node.sorbedWaterKg = 0;
    node.desorbKgPerS = 0;
    node.releaseKgPerS = 0;
    node.sourcePa = 0;
    node.cameInRefrigerantKg = 0;
    node.cameInAirKg = 0;
    node.cameInWaterKg = 0;
    node.sourceSlope = 0;
    node.wallHeatW = 0;
    node.takenHeatJ = 0;
    node.temperatureK = temperatureK;
    this.tables.evaluate(this.#density(node), temperatureK, this.#state);
    node.energyJ = this.#energyAt(node, temperatureK);
    this.settle(node, 0);
  }

  /** Room that the oil leaves for gas and liquid. */
  freeVolumeM3(node: Node): number {
    return freeVolumeM3(node);
  }

  /** Saturated liquid and vapour at a temperature; the answer is overwritten by the next call. */
  saturationAt(temperatureK: number): Readonly<SaturationState> {
    this.tables.saturation(temperatureK, this.#saturation);
    return this.#saturation;
  }

  /**
   * Finds the equilibrium after `durationS` of heat exchange with wall and surroundings, which is solved together
   * with the temperature, and books that heat. The contents exchange it at their mean temperature between the last time
   * and now, fitted to an exponential approach. Throws StateOutOfRange.
   */
  settle(node: Node, durationS: number): void {
    const inner = wallUaWPerK(node) * durationS;
    const outer = node.wallUaOutWPerK * durationS;
    const wallJPerK = wallConductance(node, inner, outer);
    const heaterJ = node.wallHeatW * durationS;
    const wallK = behindWallK(node, outer, heaterJ);
    const contactJPerK = node.contactUaWPerK * durationS;
    const heatable = this.#heatableJPerK(node);
    const dissolvedJ = node.dissolvedKg * this.dissolved.atZeroK;
    const density = this.#density(node);
    const state = this.#state;
    const beforeK = node.temperatureK;
    let temperatureK = beforeK;
    let capacity = 1;
    let weight = 1;
    let lowK = this.tables.minimumTemperatureK - MOST_BELOW_TABLES_K;
    let highK = this.tables.maximumTemperatureK + MOST_ABOVE_TABLES_K;
    for (let iteration = 0; ; iteration++) {
      if (iteration === MAXIMUM_ITERATIONS) throw new StateOutOfRange(node, 'no equilibrium found');
      if (!followAnchor(node.anchor, density, temperatureK, state))
        this.#evaluate(node, density, temperatureK);
      capacity = node.refrigerantKg * state.dUdT + heatable;
      if (iteration === 0 && capacity > 0) weight = fittedWeight((wallJPerK + contactJPerK) / capacity);
      capacity += weight * (wallJPerK + contactJPerK);
      const exchangingK = beforeK + weight * (temperatureK - beforeK);
      const excess =
        node.refrigerantKg * state.internalEnergyJPerKg +
        heatable * temperatureK +
        wallJPerK * (exchangingK - wallK) +
        contactJPerK * (exchangingK - node.surroundingsK) +
        dissolvedJ -
        node.energyJ;
      // Perfect vacuum without metal has no temperature of its own: it keeps the last one.
      const step = capacity > 0 ? -excess / capacity : 0;
      if (Math.abs(step) < TEMPERATURE_TOLERANCE_K) {
        temperatureK += step;
        state.pressurePa += state.dPdT * step;
        state.internalEnergyJPerKg += state.dUdT * step;
        break;
      }
      // The energy rises with temperature but has a kink at the dome, across which Newton may jump: keep a bracket.
      if (step > 0) lowK = temperatureK;
      else highK = temperatureK;
      temperatureK += step;
      if (!(temperatureK > lowK && temperatureK < highK)) temperatureK = (lowK + highK) / 2;
    }
    const meanK = beforeK + weight * (temperatureK - beforeK);
    const fromOutsideJ = contactJPerK * (node.surroundingsK - meanK);
    node.energyJ += wallJPerK * (wallK - meanK) + fromOutsideJ;
    settleWall(node, meanK, inner, outer, heaterJ);
    node.takenHeatJ += fromOutsideJ + heaterJ + outer * (node.surroundingsK - node.wallK);
    node.restS = 0;
    node.temperatureK = temperatureK;
    derive(node, density, capacity, this.#workspace);
  }

  /**
   * Property tables at one state. Below their lowest temperature energy and ln p go on along their slopes: a flash into
   * vacuum passes there for milliseconds, and what matters then is that no energy is lost. Above the highest, where only
   * traces of refrigerant among hot air come, energy and pressure go on straight.
   */
  #evaluate(node: Node, densityKgPerM3: number, temperatureK: number): void {
    const { tables } = this;
    const state = this.#state;
    const shortK = tables.minimumTemperatureK - temperatureK;
    if (shortK > MOST_BELOW_TABLES_K)
      throw new StateOutOfRange(node, `colder than the properties of the fluid reach`);
    const overK = temperatureK - tables.maximumTemperatureK;
    const withinK =
      shortK > 0 ? tables.minimumTemperatureK : overK > 0 ? tables.maximumTemperatureK : temperatureK;
    try {
      tables.evaluate(densityKgPerM3, withinK, state);
    } catch (error) {
      if (error instanceof RangeError) throw new StateOutOfRange(node, error.message);
      throw error;
    }
    if (overK > 0) {
      state.internalEnergyJPerKg += state.dUdT * overK;
      state.pressurePa += state.dPdT * overK;
      state.dPdRho *= temperatureK / tables.maximumTemperatureK;
      return;
    }
    if (shortK <= 0) {
      setAnchor(node.anchor, densityKgPerM3, temperatureK, state, tables);
      return;
    }
    if (state.quality >= 1) state.dUdT += CONDENSING_BELOW_TABLES_J_PER_KG_K;
    state.internalEnergyJPerKg -= state.dUdT * shortK;
    if (state.pressurePa > 0) {
      const shrink = Math.exp((-state.dPdT * shortK) / state.pressurePa);
      state.pressurePa *= shrink;
      state.dPdT *= shrink;
      state.dPdRho *= shrink;
    }
  }

  #density(node: Node): number {
    return node.refrigerantKg / freeVolumeM3(node);
  }

  #energyAt(node: Node, temperatureK: number): number {
    return (
      node.refrigerantKg * this.#state.internalEnergyJPerKg +
      this.#heatableJPerK(node) * temperatureK +
      node.dissolvedKg * this.dissolved.atZeroK
    );
  }

  /** Everything but the refrigerant that shares the contents' temperature. */
  #heatableJPerK(node: Node): number {
    return (
      node.airKg * AIR.cvJPerKgK +
      node.waterKg * WATER_VAPOUR.cvJPerKgK +
      node.oilKg * OIL_HEAT_J_PER_KG_K +
      node.dissolvedKg * this.dissolved.heatJPerKgK +
      node.contactMetalJPerK
    );
  }
}
