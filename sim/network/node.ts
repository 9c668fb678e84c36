// One lump of the network: a volume with refrigerant, air, water vapour and oil, its metal and its surroundings.

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
  readonly wallUaOutWPerK?: number;
};

/**
 * State and what follows from it. Masses and `energyJ` are the state; temperature and pressure are derived by
 * `equilibrate` and never integrated. `energyJ` is the internal energy of the contents and the contact metal.
 */
export type Node = {
  readonly name: string;
  readonly volumeM3: number;
  readonly contactMetalJPerK: number;
  readonly contactUaWPerK: number;
  readonly wallJPerK: number;
  readonly wallUaDryWPerK: number;
  readonly wallUaWetWPerK: number;
  wallUaOutWPerK: number;
  /** Temperature of the surroundings. */
  surroundingsK: number;

  refrigerantKg: number;
  airKg: number;
  waterKg: number;
  oilKg: number;
  energyJ: number;
  wallK: number;
  /** Heat taken from the surroundings since the start, by contents and wall together. */
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
  saturationPa: number;
  /** ∂p/∂m of each species at constant total energy, Pa/kg, and ∂p/∂U at constant mass, Pa/J. */
  pressurePerRefrigerant: number;
  pressurePerAir: number;
  pressurePerWater: number;
  pressurePerEnergy: number;

  /** Place in the running pressure step; −1 keeps the pressure fixed. */
  index: number;
  predictedPa: number;
  /** Heat flowing into the contents at the start of the step, W. */
  heatW: number;
  /** Time since the node was last brought to equilibrium, while nothing flows through it. */
  restS: number;
};

/** Not a whole number: the engine then keeps the fields as plain doubles from the start. `fill` sets them all. */
const UNSET = 0.5;

export function makeNode(spec: NodeSpec, surroundingsK: number): Node {
  return {
    name: spec.name,
    volumeM3: spec.volumeM3,
    contactMetalJPerK: spec.contactMetalJPerK ?? 0,
    contactUaWPerK: spec.contactUaWPerK ?? 0,
    wallJPerK: spec.wallJPerK ?? 0,
    wallUaDryWPerK: spec.wallUaDryWPerK ?? 0,
    wallUaWetWPerK: spec.wallUaWetWPerK ?? 0,
    wallUaOutWPerK: spec.wallUaOutWPerK ?? 0,
    surroundingsK,
    refrigerantKg: UNSET,
    airKg: UNSET,
    waterKg: UNSET,
    oilKg: UNSET,
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
    index: -1,
    predictedPa: UNSET,
    heatW: UNSET,
    restS: UNSET,
  };
}
