// Small networks for tests: nodes that stay at room temperature, boundaries, and stepping until something happens.
import { AIR } from '../../../sim/fluids/air.ts';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { FluidTables } from '../../../sim/fluids/tables.ts';
import { makeEdge, type Restriction } from '../../../sim/network/edge.ts';
import { Equilibrium } from '../../../sim/network/equilibrium.ts';
import type { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';

export const ROOM_K = 293.15;

export const equilibriumOf = (refrigerant: string): Equilibrium =>
  new Equilibrium(new FluidTables(findFluid(refrigerant)!));

/** So much metal at the contents' temperature that nothing warms or cools. */
export const isothermalNode = (name: string, volumeM3: number): Node =>
  makeNode({ name, volumeM3, contactMetalJPerK: 1e9 }, ROOM_K);

export const adiabaticNode = (name: string, volumeM3: number, metalJPerK = 0): Node =>
  makeNode({ name, volumeM3, contactMetalJPerK: metalJPerK }, ROOM_K);

export const airKgAt = (pressurePa: number, volumeM3: number): number =>
  (pressurePa * volumeM3) / (AIR.gasConstantJPerKgK * ROOM_K);

/** A volume too large to change, full of air at a pressure; not to be listed among a network's nodes. */
export function boundary(equilibrium: Equilibrium, pressurePa: number): Node {
  const node = makeNode({ name: 'boundary', volumeM3: 1e6 }, ROOM_K);
  equilibrium.fill(node, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(pressurePa, 1e6) });
  return node;
}

/** Vapour of the refrigerant at a pressure, by fixed-point on the mass. */
export function fillWithVapour(equilibrium: Equilibrium, node: Node, pressurePa: number): void {
  let kg = pressurePa * node.volumeM3 * 1e-5;
  for (let i = 0; i < 60; i++) {
    equilibrium.fill(node, ROOM_K, { refrigerantKg: kg });
    kg *= pressurePa / node.pressurePa;
  }
}

/** Time at which a falling pressure passes a mark, interpolated in ln p within the step. */
export function timeToFall(network: Network, node: Node, toPa: number, stepS = 0.1, atMostS = 7200): number {
  let timeS = 0;
  while (timeS < atMostS) {
    const beforePa = node.pressurePa;
    network.advance(stepS);
    timeS += stepS;
    if (node.pressurePa <= toPa) {
      return timeS - stepS * (Math.log(toPa / node.pressurePa) / Math.log(beforePa / node.pressurePa));
    }
  }
  throw new Error(`${node.name} still at ${node.pressurePa} Pa after ${atMostS} s`);
}

/** An open path of an effective area from a to b, vapour ports unless said otherwise. */
export const restriction = (a: Node, b: Node, areaM2: number, more: Partial<Restriction> = {}) =>
  makeEdge({
    kind: 'restriction',
    name: 'path',
    a,
    b,
    portA: 'vapour',
    portB: 'vapour',
    areaM2,
    opening: 1,
    ...more,
  });
