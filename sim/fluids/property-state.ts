// The plain objects into which the property tables write their answers.

/** One equilibrium state. The caller owns it and hands it in; every field is overwritten by each call. */
export type PropertyState = {
  pressurePa: number;
  internalEnergyJPerKg: number;
  /**
   * Vapour mass fraction: 1 in gas, 0 in liquid, between in the dome. Above the critical temperature 1 below the
   * critical density and 0 above it.
   */
  quality: number;
  /** ∂p/∂T at constant density, Pa/K; in the dome the slope of the vapour-pressure curve. */
  dPdT: number;
  /** ∂p/∂ρ at constant temperature, Pa·m³/kg; 0 in the dome. */
  dPdRho: number;
  /** ∂u/∂T at constant density, J/(kg·K); in the dome with the evaporation that goes with it. */
  dUdT: number;
  /** ∂u/∂ρ at constant temperature, J·m³/kg². */
  dUdRho: number;
};

/** Saturated liquid and vapour of one temperature. */
export type SaturationState = {
  pressurePa: number;
  /** Slope of the vapour-pressure curve, Pa/K. */
  dPdT: number;
  liquidDensityKgPerM3: number;
  vapourDensityKgPerM3: number;
  liquidInternalEnergyJPerKg: number;
  vapourInternalEnergyJPerKg: number;
  liquidEnthalpyJPerKg: number;
  vapourEnthalpyJPerKg: number;
  liquidEntropyJPerKgK: number;
  vapourEntropyJPerKgK: number;
};

// The fractions make the engine keep the fields as unboxed doubles from the start; whole numbers would not.
const UNSET = 0.5;

export const newPropertyState = (): PropertyState => ({
  pressurePa: UNSET,
  internalEnergyJPerKg: UNSET,
  quality: UNSET,
  dPdT: UNSET,
  dPdRho: UNSET,
  dUdT: UNSET,
  dUdRho: UNSET,
});

export const newSaturationState = (): SaturationState => ({
  pressurePa: UNSET,
  dPdT: UNSET,
  liquidDensityKgPerM3: UNSET,
  vapourDensityKgPerM3: UNSET,
  liquidInternalEnergyJPerKg: UNSET,
  vapourInternalEnergyJPerKg: UNSET,
  liquidEnthalpyJPerKg: UNSET,
  vapourEnthalpyJPerKg: UNSET,
  liquidEntropyJPerKgK: UNSET,
  vapourEntropyJPerKgK: UNSET,
});
