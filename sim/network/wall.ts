// The wall between a node's contents and its surroundings, solved together with the contents.
import type { Node } from './node.ts';

/** Share of liquid at which a wall counts as fully wetted (estimate). */
const FULLY_WETTED_FRACTION = 0.05;
/** A film of condensate covers a wall so much colder, with so little of the volume liquid (estimates). */
const CONDENSES_AT_K = 0.5;
const CONDENSATE_FRACTION = 1e-4;

/** The wall seen from the contents over one step, J/K: wall and outside are solved with it. */
export function wallConductance(node: Node, inner: number, outer: number): number {
  const behind = node.wallJPerK + outer;
  return behind === 0 ? 0 : (inner * behind) / (behind + inner);
}

/** The temperature that conductance leads to. */
export function behindWallK(node: Node, outer: number, heaterJ: number): number {
  const behind = node.wallJPerK + outer;
  return behind === 0
    ? node.surroundingsK
    : (node.wallJPerK * node.wallK + outer * node.surroundingsK + heaterJ) / behind;
}

export function settleWall(
  node: Node,
  contentsK: number,
  inner: number,
  outer: number,
  heaterJ: number,
): void {
  if (node.wallJPerK === 0) return;
  node.wallK =
    (node.wallJPerK * node.wallK + inner * contentsK + outer * node.surroundingsK + heaterJ) /
    (node.wallJPerK + inner + outer);
}

/** Liquid wets its share of a wall; saturated vapour condenses all over a wall that is colder. */
export function wallUaWPerK(node: Node): number {
  const dry = node.wallUaDryWPerK;
  const lying = Math.min(1, node.liquidFraction / FULLY_WETTED_FRACTION);
  const wetted = dry + (node.wallUaWetWPerK - dry) * lying;
  const colderK = node.temperatureK - node.wallK;
  if (colderK <= 0) return wetted;
  const condensing =
    Math.min(1, colderK / CONDENSES_AT_K) * Math.min(1, node.liquidFraction / CONDENSATE_FRACTION);
  return Math.max(wetted, dry + (node.wallUaCondensingWPerK - dry) * condensing);
}

/** Heat flowing into the contents at the present state over a step of this length, W. */
export function heatFlowW(node: Node, durationS: number): number {
  const inner = wallUaWPerK(node) * durationS;
  const outer = node.wallUaOutWPerK * durationS;
  return (
    (wallConductance(node, inner, outer) / durationS) *
      (behindWallK(node, outer, node.wallHeatW * durationS) - node.temperatureK) +
    node.contactUaWPerK * (node.surroundingsK - node.temperatureK)
  );
}
