// Ways out of the vehicle that should not be: a leak as the trade states it, in grams a year, and a hole.
import { STANDARD_ATMOSPHERE_PA } from '../fluids/air.ts';
import { AIR_VISCOSITY_PA_S, areaOfBore, type Edge, makeEdge, SHARP_EDGE } from '../network/edge.ts';
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

/**
 * A hole in a thin wall, a stone through the condenser: a sharp-edged orifice, choked whenever one side has about twice
 * the pressure of the other, so that air comes in at a steady rate until the vehicle is half full of it.
 */
export function makeHole(diameterM: number, from: Node, surroundings: Node): Edge {
  return makeEdge({
    kind: 'restriction',
    name: 'hole',
    a: from,
    b: surroundings,
    portA: 'vapour',
    portB: 'mixed',
    areaM2: areaOfBore(diameterM, SHARP_EDGE),
    opening: 1,
  });
}
