// What the checks share: one equilibrium for each refrigerant, paths between nodes, and the flow through one of them.
import { SaturationLine } from '../../sim/fluids/saturation.ts';
import { areaOfBore, type Edge } from '../../sim/network/edge.ts';
import type { Equilibrium } from '../../sim/network/equilibrium.ts';
import { evaluateFlow } from '../../sim/network/flow.ts';
import { Network } from '../../sim/network/network.ts';
import type { Node } from '../../sim/network/node.ts';
import { boundary, equilibriumOf, restriction, timeToFall } from '../sim/network/kit.ts';
import { once } from './check.ts';

export const ATMOSPHERE_PA = 101_325;
export const CELSIUS_K = 273.15;
export const YEAR_S = 365.25 * 86_400;
/** CODATA 2018, J/(mol·K). */
export const MOLAR_GAS_CONSTANT = 8.314462618;
/** Dry air, ISO 2533, kg/mol. */
export const AIR_MOLAR_MASS = 0.02896442;
/** Handbook value at 20 °C, Pa·s. */
export const AIR_VISCOSITY = 1.82e-5;

export type Refrigerant = 'R-134a' | 'R-1234yf';
export const REFRIGERANTS = ['R-134a', 'R-1234yf'] as const;

const equilibria = {
  'R-134a': once(() => equilibriumOf('R-134a')),
  'R-1234yf': once(() => equilibriumOf('R-1234yf')),
};
export const equilibrium = (refrigerant: Refrigerant): Equilibrium => equilibria[refrigerant]();

const lines = {
  'R-134a': once(() => new SaturationLine(equilibrium('R-134a').tables.fluid)),
  'R-1234yf': once(() => new SaturationLine(equilibrium('R-1234yf').tables.fluid)),
};
export const saturationLine = (refrigerant: Refrigerant): SaturationLine => lines[refrigerant]();

/** An orifice of 1.0 mm with discharge coefficient 1. */
export const ONE_MILLIMETRE_M2 = areaOfBore(1e-3, 1);

/** The flow through a path at the pressures of its ends, kg/s. */
export function flowOf(edge: Edge, of: Equilibrium): number {
  evaluateFlow(edge, new Network(of, [], []).context);
  return edge.flowKgPerS;
}

/** Mass of the liquid in a node, kg. */
export const liquidKg = (node: Node): number =>
  node.liquidFraction * node.volumeM3 * node.liquidDensityKgPerM3;

/** Draws vapour off a node through an orifice until its pressure has fallen so far. */
export function drawVapour(of: Equilibrium, node: Node, toPa: number): void {
  const away = boundary(of, 100);
  timeToFall(new Network(of, [node], [restriction(node, away, 1e-6)]), node, toPa);
}
