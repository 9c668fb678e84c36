// Oil in a node: refrigerant goes into it and comes out of it, from a film at once, from pools in minutes, from the sump in hours.
import { OIL_HEAT_J_PER_KG_K, type OilKind, Solubility } from '../fluids/oil.ts';
import { newSaturationState, type SaturationState } from '../fluids/property-state.ts';
import type { FluidTables } from '../fluids/tables.ts';
import type { Node } from './node.ts';
import { MOST_TAKEN_SHARE, Parts } from './parts.ts';

/**
 * How the dissolved refrigerant is spread, and how fast each part follows the pressure (estimates; diffusion alone,
 * D ≈ 1e-10 to 3e-10 m²/s, gives 200 s for a film of 0.2 mm and a day and a half for a pool of 5 mm).
 */
const SHARES = [0.5, 0.48, 0.02] as const;
const TIMES_S = [60, 600, 18_000] as const;
/**
 * Oil that holds some three times what the pressure allows foams: film and pools then give off five times faster
 * (estimates). It sets in between these, for a foam that came and went at one figure would beat like a heart.
 */
const FOAM_BEGINS = 2;
const FOAM_FULL = 4;
const FOAM_SPEED = 5;
/** Of dissolved refrigerant, as liquid near room temperature: only the room that it takes from the gas. */
export const DISSOLVED_DENSITY_KG_PER_M3 = 1200;
/** Of every oil at room temperature (972 and 957 at 20 °C); its expansion is of no account beside the gas. */
export const OIL_DENSITY_KG_PER_M3 = 970;

/** Energy of dissolved refrigerant as that of its liquid, straight over temperature: `atZeroK + heat·T`, J/kg. */
export type DissolvedEnergy = { readonly atZeroK: number; readonly heatJPerKgK: number };

/** The straight line through the saturated liquid at two temperatures between which the oil of a vehicle mostly is. */
export function dissolvedEnergyOf(tables: FluidTables): DissolvedEnergy {
  const [lowK, highK] = [250, 310];
  const state = newSaturationState();
  tables.saturation(lowK, state);
  const low = state.liquidInternalEnergyJPerKg;
  tables.saturation(highK, state);
  const heatJPerKgK = (state.liquidInternalEnergyJPerKg - low) / (highK - lowK);
  return { atZeroK: low - heatJPerKgK * lowK, heatJPerKgK };
}

/** Room that oil and what it holds take in a node, m³. */
export const oilVolumeM3 = (node: Node): number =>
  node.oilKg / OIL_DENSITY_KG_PER_M3 + node.dissolvedKg / DISSOLVED_DENSITY_KG_PER_M3;

/** The oil of one node, looked at once a second; the network moves the refrigerant at the rate found here. */
export class OilHold {
  readonly node: Node;
  readonly #solubility: Solubility;
  readonly #tables: FluidTables;
  readonly #saturation: SaturationState = newSaturationState();
  readonly #parts = new Parts(TIMES_S);
  readonly #wantedKg = SHARES.map(() => 0);
  readonly #timesS: number[] = [...TIMES_S];
  /** How much it foams, 0 to 1. */
  foam = 0;
  /** Share of the oil that lies in a body with a temperature of its own, as in a compressor; it holds what that allows. */
  apartShare = 0;
  apartK = 0.5;

  constructor(node: Node, kind: OilKind, tables: FluidTables) {
    this.node = node;
    this.#solubility = new Solubility(kind, tables.fluid);
    this.#tables = tables;
  }

  /** Refrigerant that the oil holds in equilibrium at a pressure of the refrigerant, kg. */
  equilibriumKg(oilKg: number, pressurePa: number, temperatureK: number): number {
    const saturation = this.#saturationAt(temperatureK);
    const activity = Math.min(1, pressurePa / saturation.pressurePa);
    return oilKg * this.#solubility.content(activity, temperatureK, saturation.liquidDensityKgPerM3);
  }

  /** Starts rested: what is dissolved is spread over the parts as it will be in equilibrium. */
  start(): void {
    this.#parts.start(SHARES.map((share) => share * this.node.dissolvedKg));
    this.node.desorbKgPerS = 0;
  }

  /** Books what has moved since the last look and sets the rate for the next `periodS`. */
  look(periodS: number): void {
    const { node } = this;
    if (node.oilKg <= 0 && node.dissolvedKg <= 0) return;
    this.#parts.book(node.dissolvedKg);
    const { temperatureK } = node;
    const apartKg = this.apartShare * node.oilKg;
    const wantedApartKg = apartKg === 0 ? 0 : this.equilibriumKg(apartKg, node.saturationPa, this.apartK);
    const { pressurePa, liquidDensityKgPerM3 } = this.#saturationAt(temperatureK);
    const activity = Math.min(1, node.saturationPa / pressurePa);
    const wantedKg =
      wantedApartKg +
      (node.oilKg - apartKg) * this.#solubility.content(activity, temperatureK, liquidDensityKgPerM3);
    const content = node.oilKg > 0 ? node.dissolvedKg / node.oilKg : 0;
    const held = this.#solubility.activity(content, temperatureK, liquidDensityKgPerM3);
    const beyond = (held / activity - FOAM_BEGINS) / (FOAM_FULL - FOAM_BEGINS);
    this.foam = wantedKg < node.dissolvedKg ? Math.min(1, Math.max(0, beyond)) : 0;
    const speed = 1 + (FOAM_SPEED - 1) * this.foam;
    this.#timesS[0] = TIMES_S[0] / speed;
    this.#timesS[1] = TIMES_S[1] / speed;
    for (let i = 0; i < SHARES.length; i++) this.#wantedKg[i] = SHARES[i]! * wantedKg;
    const mostKg = MOST_TAKEN_SHARE * node.refrigerantKg;
    node.desorbKgPerS = -this.#parts.plan(this.#wantedKg, periodS, mostKg, this.#timesS) / periodS;
  }

  save() {
    const { foam, apartShare, apartK } = this;
    return { foam, apartShare, apartK, parts: this.#parts.save() };
  }

  restore({ foam, apartShare, apartK, parts }: ReturnType<OilHold['save']>): void {
    this.foam = foam;
    this.apartShare = apartShare;
    this.apartK = apartK;
    this.#parts.restore(parts);
  }

  #saturationAt(temperatureK: number): SaturationState {
    const { minimumTemperatureK, fluid } = this.#tables;
    const withinK = Math.min(Math.max(temperatureK, minimumTemperatureK), fluid.criticalTemperatureK - 0.1);
    this.#tables.saturation(withinK, this.#saturation);
    return this.#saturation;
  }
}

/** Pours oil without refrigerant into a node. */
export function addOil(node: Node, kg: number, temperatureK: number): void {
  node.oilKg += kg;
  node.energyJ += kg * OIL_HEAT_J_PER_KG_K * temperatureK;
}

/**
 * Takes oil out of a node with the refrigerant that it holds, at most what is there, and answers both masses. The heat
 * goes with them.
 */
export function takeOil(
  node: Node,
  wantedKg: number,
  energy: DissolvedEnergy,
): { oilKg: number; refrigerantKg: number } {
  const oilKg = Math.min(wantedKg, node.oilKg);
  if (oilKg <= 0) return { oilKg: 0, refrigerantKg: 0 };
  const refrigerantKg = (node.dissolvedKg * oilKg) / node.oilKg;
  node.oilKg -= oilKg;
  node.dissolvedKg -= refrigerantKg;
  node.energyJ -= oilKg * OIL_HEAT_J_PER_KG_K * node.temperatureK;
  node.energyJ -= refrigerantKg * (energy.atZeroK + energy.heatJPerKgK * node.temperatureK);
  return { oilKg, refrigerantKg };
}

/** Moves oil with what it holds from one node to another, and answers the oil moved. */
export function moveOil(from: Node, to: Node, wantedKg: number, energy: DissolvedEnergy): number {
  const { temperatureK } = from;
  const { oilKg, refrigerantKg } = takeOil(from, wantedKg, energy);
  addOil(to, oilKg, temperatureK);
  to.dissolvedKg += refrigerantKg;
  to.energyJ += refrigerantKg * (energy.atZeroK + energy.heatJPerKgK * temperatureK);
  return oilKg;
}
