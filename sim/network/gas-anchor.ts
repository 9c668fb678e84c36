// A gas state remembered with its slopes: near it, properties follow along them and the tables need not be asked.
import type { PropertyState } from '../fluids/property-state.ts';
import type { FluidTables } from '../fluids/tables.ts';

/**
 * How far the slopes reach, in temperature and, over the root of density, in density. Pressure is carried as p/ρ, which is
 * straight for an ideal gas, so that only the curvature of the virial terms is left out: less than 2e-7 of the pressure
 * and 0.05 J/kg.
 */
const REACH_K = 0.1;
const REACH_PER_ROOT_DENSITY = 3e-3;

export type GasAnchor = {
  densityKgPerM3: number;
  temperatureK: number;
  /** Negative while there is none. */
  reachKgPerM3: number;
  /** p/ρ, J/kg, and its slopes in density and temperature. */
  pressurePerDensity: number;
  perDensity: number;
  perKelvin: number;
  internalEnergyJPerKg: number;
  dUdT: number;
  dUdRho: number;
};

/** Fractions for the same reason as in a node. */
export const newGasAnchor = (): GasAnchor => ({
  densityKgPerM3: 0.5,
  temperatureK: 0.5,
  reachKgPerM3: -0.5,
  pressurePerDensity: 0.5,
  perDensity: 0.5,
  perKelvin: 0.5,
  internalEnergyJPerKg: 0.5,
  dUdT: 0.5,
  dUdRho: 0.5,
});

/** Fills `out` and answers true where the anchor reaches. */
export function followAnchor(
  anchor: GasAnchor,
  densityKgPerM3: number,
  temperatureK: number,
  out: PropertyState,
): boolean {
  const aside = densityKgPerM3 - anchor.densityKgPerM3;
  const warmer = temperatureK - anchor.temperatureK;
  const { reachKgPerM3 } = anchor;
  if (!(aside <= reachKgPerM3 && aside >= -reachKgPerM3 && warmer <= REACH_K && warmer >= -REACH_K))
    return false;
  const { perDensity, perKelvin, dUdT, dUdRho } = anchor;
  const perRho = anchor.pressurePerDensity + perDensity * aside + perKelvin * warmer;
  out.pressurePa = densityKgPerM3 * perRho;
  out.dPdT = densityKgPerM3 * perKelvin;
  out.dPdRho = perRho + densityKgPerM3 * perDensity;
  out.internalEnergyJPerKg = anchor.internalEnergyJPerKg + dUdT * warmer + dUdRho * aside;
  out.dUdT = dUdT;
  out.dUdRho = dUdRho;
  out.quality = 1;
  return true;
}

/** Remembers a state just found, unless it is not gas or the dome is within reach. */
export function setAnchor(
  anchor: GasAnchor,
  densityKgPerM3: number,
  temperatureK: number,
  found: PropertyState,
  tables: FluidTables,
): void {
  const reach = REACH_PER_ROOT_DENSITY * Math.sqrt(densityKgPerM3);
  const clear =
    densityKgPerM3 > reach &&
    found.quality === 1 &&
    temperatureK - REACH_K >= tables.minimumTemperatureK &&
    temperatureK + REACH_K <= tables.maximumTemperatureK &&
    !tables.isMixture(densityKgPerM3 + reach, temperatureK - REACH_K);
  anchor.reachKgPerM3 = clear ? reach : -1;
  if (!clear) return;
  const perRho = found.pressurePa / densityKgPerM3;
  anchor.densityKgPerM3 = densityKgPerM3;
  anchor.temperatureK = temperatureK;
  anchor.pressurePerDensity = perRho;
  anchor.perDensity = (found.dPdRho - perRho) / densityKgPerM3;
  anchor.perKelvin = found.dPdT / densityKgPerM3;
  anchor.internalEnergyJPerKg = found.internalEnergyJPerKg;
  anchor.dUdT = found.dUdT;
  anchor.dUdRho = found.dUdRho;
}
