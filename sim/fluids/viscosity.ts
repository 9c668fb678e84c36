// Viscosity of thin refrigerant vapour.
import type { DiluteGasViscosity } from './fluid.ts';

/**
 * Dilute-gas viscosity, Pa·s: good to a few per cent up to moderate vapour pressure, where viscosity hardly depends
 * on density. Coefficients and their sources are in the fluid's data file; where that has no collision polynomial,
 * Ω is the Lennard-Jones integral fitted by Neufeld, Janzen and Aziz, J. Chem. Phys. 57 (1972) 1100-1102.
 */
export function diluteGasViscosityPaS(data: DiluteGasViscosity, temperatureK: number): number {
  const reduced = temperatureK / data.epsilonK;
  const root = Math.sqrt(data.molarMassGPerMol * temperatureK);
  return (data.prefactor * root) / (data.sigmaNm ** 2 * collisionIntegral(data.logPolynomial, reduced));
}

function collisionIntegral(logPolynomial: readonly number[], reduced: number): number {
  if (logPolynomial.length > 0) {
    const x = Math.log(reduced);
    return Math.exp(logPolynomial.reduceRight((sum, coefficient) => sum * x + coefficient, 0));
  }
  return (
    1.16145 * reduced ** -0.14874 +
    0.52487 * Math.exp(-0.7732 * reduced) +
    2.16178 * Math.exp(-2.43787 * reduced)
  );
}
