// How wide an expansion device is made for a refrigerant, so that every one gives the same cooling.
import { ZERO_CELSIUS_K } from '../celsius.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import { flashRatio, LIQUID_RECOVERY } from '../network/flow.ts';
import type { VehicleSpec } from '../spec.ts';

/**
 * Cooling that the open device passes the liquid for, W (estimates). With R-134a that is a fixed orifice of 1.7 mm (tubes
 * have 1.2 to 1.8 mm) and an expansion valve of 2.2 mm. R-1234yf brings a quarter less cooling for each kilogram and
 * needs some 2.0 and 2.6 mm: in a tube sized for R-134a its liquid stands back in the condenser, from 35 °C up.
 */
const CAPACITY_W = { 'orifice-tube': 5050, 'expansion-valve': 8450 } as const;
/** On a hot day: condensing, the liquid ahead of the device, evaporating. */
const CONDENSING_K = ZERO_CELSIUS_K + 55;
const LIQUID_K = ZERO_CELSIUS_K + 45;
const EVAPORATING_K = ZERO_CELSIUS_K + 2;

/** Effective area of the device, fully open. */
export function expansionAreaM2(device: VehicleSpec['expansionDevice'], equilibrium: Equilibrium): number {
  const liquidJPerKg = equilibrium.saturationAt(LIQUID_K).liquidEnthalpyJPerKg;
  const coolingJPerKg = equilibrium.saturationAt(EVAPORATING_K).vapourEnthalpyJPerKg - liquidJPerKg;
  const { pressurePa, liquidDensityKgPerM3 } = equilibrium.saturationAt(CONDENSING_K);
  const { criticalPressurePa } = equilibrium.tables.fluid;
  const choked = LIQUID_RECOVERY * (1 - flashRatio(pressurePa, criticalPressurePa)) * pressurePa;
  return CAPACITY_W[device] / coolingJPerKg / Math.sqrt(2 * liquidDensityKgPerM3 * choked);
}
