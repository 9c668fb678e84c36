// A leak as the trade states it, in grams a year, made into the capillary that loses them.
import { STANDARD_ATMOSPHERE_PA } from '../fluids/air.ts';
import { AIR_VISCOSITY_PA_S, type Edge, makeEdge } from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import type { Node } from '../network/node.ts';

const YEAR_S = 365.25 * 86_400;
/** The rate is stated for vapour saturated at this temperature against one standard atmosphere. */
const STATED_K = 293.15;
/** Wide enough that the capillary alone resists. */
const NO_ORIFICE_M2 = 1e-3;

/**
 * Laminar flow in both directions: refrigerant out under pressure, air in under vacuum (Poiseuille for a compressible
 * gas). Small leaks are of this kind, cracks and porous seals of micrometres; a hole would choke instead.
 */
export function makeLeak(kgPerYear: number, from: Node, surroundings: Node, equilibrium: Equilibrium): Edge {
  const { tables } = equilibrium;
  const { pressurePa } = equilibrium.saturationAt(STATED_K);
  const meanPa = (pressurePa + STANDARD_ATMOSPHERE_PA) / 2;
  const vapour = tables.vapourViscosityPaS(STATED_K);
  const kgPerSPerUnit =
    meanPa *
    (AIR_VISCOSITY_PA_S / vapour) *
    ((pressurePa - STANDARD_ATMOSPHERE_PA) / (tables.fluid.gasConstantJPerKgK * STATED_K));
  return makeEdge({
    kind: 'restriction',
    name: 'leak',
    a: from,
    b: surroundings,
    portA: 'vapour',
    portB: 'mixed',
    areaM2: NO_ORIFICE_M2,
    opening: 1,
    tube: { laminarM3PerSPa: kgPerYear / YEAR_S / kgPerSPerUnit, molecularM3PerS: 0 },
  });
}
