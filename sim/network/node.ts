// One lump of the network: a volume with refrigerant, air, water vapour and oil, its metal and its surroundings.
import { type GasAnchor, newGasAnchor } from './gas-anchor.ts';

/** Geometry and thermal parameters. All `Ua` are W/K. */
export type NodeSpec = {
  readonly name: string;
  readonly volumeM3: number;
  /** Metal at the temperature of the contents (the wetted shell of a pool), J/K. */
  readonly contactMetalJPerK?: number;
  /** From that metal straight to the surroundings. */
  readonly contactUaWPerK?: number;
  /** A wall of its own temperature between contents and surroundings, J/K. */
  readonly wallJPerK?: number;
  /** Contents to wall, with vapour only and with the wall wetted by liquid. */
  readonly wallUaDryWPerK?: number;
  readonly wallUaWetWPerK?: number;
  /** With vapour condensing all over a wall that is colder; left out: as wetted. */
  readonly wallUaCondensingWPerK?: number;
  readonly wallUaOutWPerK?: number;
  /** From the wall to a film of water on it; left out: water never condenses here. */
  readonly filmUaWPerK?: number;
};

/**
 * State and what follows from it. Masses and `energyJ` are the state; temperature and pressure are derived by
 * `equilibrate` and never integrated. `energyJ` is the internal energy of the contents and the contact metal.
 */
export type Node = {
  readonly name: string;
  readonly volumeM3: number;
  readonly contactMetalJPerK: number;
  contactUaWPerK: number;
  readonly wallJPerK: number;
  wallUaDryWPerK: number;
  wallUaWetWPerK: number;
  wallUaCondensingWPerK: number;
  wallUaOutWPerK: number;
  readonly filmUaWPerK: number;
  /** Temperature of the surroundings. */
  surroundingsK: number;
  /** Heater in the wall, W. */
  wallHeatW: number;

  refrigerantKg: number;
  airKg: number;
  /** Vapour in the gas. */
  waterKg: number;
  oilKg: number;
  /** Refrigerant in the oil, not part of `refrigerantKg`. */
  dissolvedKg: number;
  /** Water on the wall, liquid and ice, and its energy: 0 as liquid at 0 °C; not part of `waterKg` and `energyJ`. */
  filmKg: number;
  filmEnergyJ: number;
  /** Moisture in oil and desiccant. */
  sorbedWaterKg: number;
  energyJ: number;
  wallK: number;
  /** Heat taken from the surroundings and the heater since the start, by contents and wall together. */
  takenHeatJ: number;

  temperatureK: number;
  pressurePa: number;
  /** Share of the volume that is liquid refrigerant or oil. */
  liquidFraction: number;
  gasVolumeM3: number;
  liquidDensityKgPerM3: number;
  liquidEnthalpyJPerKg: number;
  gasDensityKgPerM3: number;
  gasEnthalpyJPerKg: number;
  /** Mass fractions of the gas. */
  gasRefrigerant: number;
  gasAir: number;
  gasWater: number;
  /** Of the refrigerant alone: its share of the gas' pressure; where there is only liquid, its vapour pressure. */
  saturationPa: number;
  /** ∂p/∂m of each species at constant total energy, Pa/kg, and ∂p/∂U at constant mass, Pa/J. */
  pressurePerRefrigerant: number;
  pressurePerAir: number;
  pressurePerWater: number;
  pressurePerEnergy: number;
  /**
   * The same beyond the point where the node fills up with liquid, or a full one begins to boil: the pressure then rises
   * by this offset and these responses. The offset is −∞ while no such point is near.
   */
  turnOffsetPa: number;
  turnedPerRefrigerant: number;
  turnedPerEnergy: number;
  /** The running step goes beyond that point. */
  turned: boolean;

  /** What has come in within the running step. */
  cameInRefrigerantKg: number;
  cameInAirKg: number;
  cameInWaterKg: number;
  /** Place in the running pressure step; −1 keeps the pressure fixed. */
  index: number;
  predictedPa: number;
  /** Refrigerant that comes out of the oil, and water out of oil and desiccant; negative goes in. */
  desorbKgPerS: number;
  releaseKgPerS: number;
  /** Film over the running step: its temperature, conductance, vapour pressure, and that of the gas over it. */
  filmK: number;
  filmKgPerSPa: number;
  filmPa: number;
  filmVapourPa: number;
  /** Where the vapour pressure of the film was last asked, what it was, and d ln p/dT there. */
  filmAskedK: number;
  filmAskedPa: number;
  filmLogSlope: number;
  /** What the sources do to the pressure in the running step, and how much less per pascal of rise. */
  sourcePa: number;
  sourceSlope: number;
  /** The gas near which properties need no tables. */
  readonly anchor: GasAnchor;
  /** Time since the node was last brought to equilibrium, while nothing flows through it. */
  restS: number;
};

/** Not a whole number: the engine then keeps the fields as plain doubles from the start. `fill` sets them all. */
const UNSET = 0.5;

export function makeNode(spec: NodeSpec, surroundingsK: number): Node {
  const node: Node = {
    name: spec.name,
    volumeM3: spec.volumeM3,
    contactMetalJPerK: spec.contactMetalJPerK ?? 0,
    contactUaWPerK: UNSET,
    wallJPerK: spec.wallJPerK ?? 0,
    wallUaDryWPerK: UNSET,
    wallUaWetWPerK: UNSET,
    wallUaCondensingWPerK: UNSET,
    wallUaOutWPerK: UNSET,
    filmUaWPerK: spec.filmUaWPerK ?? 0,
    surroundingsK: UNSET,
    wallHeatW: UNSET,
    refrigerantKg: UNSET,
    airKg: UNSET,
    waterKg: UNSET,
    oilKg: UNSET,
    dissolvedKg: UNSET,
    filmKg: UNSET,
    filmEnergyJ: UNSET,
    sorbedWaterKg: UNSET,
    energyJ: UNSET,
    wallK: surroundingsK,
    takenHeatJ: UNSET,
    temperatureK: surroundingsK,
    pressurePa: UNSET,
    liquidFraction: UNSET,
    gasVolumeM3: UNSET,
    liquidDensityKgPerM3: UNSET,
    liquidEnthalpyJPerKg: UNSET,
    gasDensityKgPerM3: UNSET,
    gasEnthalpyJPerKg: UNSET,
    gasRefrigerant: UNSET,
    gasAir: UNSET,
    gasWater: UNSET,
    saturationPa: UNSET,
    pressurePerRefrigerant: UNSET,
    pressurePerAir: UNSET,
    pressurePerWater: UNSET,
    pressurePerEnergy: UNSET,
    turnOffsetPa: UNSET,
    turnedPerRefrigerant: UNSET,
    turnedPerEnergy: UNSET,
    turned: false,
    cameInRefrigerantKg: UNSET,
    cameInAirKg: UNSET,
    cameInWaterKg: UNSET,
    index: -1,
    predictedPa: UNSET,
    desorbKgPerS: UNSET,
    releaseKgPerS: UNSET,
    filmK: UNSET,
    filmKgPerSPa: UNSET,
    filmPa: UNSET,
    filmVapourPa: UNSET,
    filmAskedK: UNSET,
    filmAskedPa: UNSET,
    filmLogSlope: UNSET,
    sourcePa: UNSET,
    sourceSlope: UNSET,
    anchor: newGasAnchor(),
    restS: UNSET,
  };
  // Set apart from the rest: a field that is never written again counts as constant, until a vehicle's engine starts.
  node.contactUaWPerK = spec.contactUaWPerK ?? 0;
  node.wallUaDryWPerK = spec.wallUaDryWPerK ?? 0;
  node.wallUaWetWPerK = spec.wallUaWetWPerK ?? 0;
  node.wallUaCondensingWPerK = spec.wallUaCondensingWPerK ?? node.wallUaWetWPerK;
  node.wallUaOutWPerK = spec.wallUaOutWPerK ?? 0;
  node.surroundingsK = surroundingsK;
  return node;
}
