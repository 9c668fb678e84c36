// One linearised implicit pressure step: mean flows of all open edges over a time step, solved together.
import type { Edge } from './edge.ts';
import { fittedWeight } from './fitted-weight.ts';
import { type FlowContext, turnRound } from './flow.ts';
import type { Node } from './node.ts';
import { heatFlowW } from './wall.ts';

/** What a kilogram of the edge's stream does to the pressure of a node that receives it, Pa/kg. */
function pressurePerStream(node: Node, edge: Edge, turned: boolean): number {
  const workJPerKg = node === edge.b ? edge.workJPerKg : 0;
  return (
    edge.streamRefrigerant * (turned ? node.turnedPerRefrigerant : node.pressurePerRefrigerant) +
    edge.streamAir * node.pressurePerAir +
    edge.streamWater * node.pressurePerWater +
    (edge.streamEnthalpy + workJPerKg) * (turned ? node.turnedPerEnergy : node.pressurePerEnergy)
  );
}

/** The rise of pressure that does not come through edges. */
function riseOfItself(node: Node, turned: boolean, stepS: number): number {
  const perEnergy = turned ? node.turnedPerEnergy : node.pressurePerEnergy;
  return (turned ? node.turnOffsetPa : 0) + perEnergy * heatFlowW(node, stepS) * stepS + node.sourcePa;
}

/** As often as a node may change sides within one step; each change is towards the answer, so few are ever needed. */
const MOST_TURNS = 6;

/** Solves for `meanKgPerS` of every edge and `predictedPa` of every node; nodes with index −1 keep their pressure. */
export class PressureStep {
  #matrix = new Float64Array(0);
  #right = new Float64Array(0);

  solve(nodes: readonly Node[], edges: readonly Edge[], stepS: number, context: FlowContext): void {
    const size = nodes.length;
    if (this.#matrix.length < size * size) {
      this.#matrix = new Float64Array(size * size);
      this.#right = new Float64Array(size);
    }
    for (let i = 0; i < size; i++) nodes[i]!.turned = false;
    for (let turns = 0; ; turns++) {
      this.#assemble(nodes, edges, stepS);
      eliminate(this.#matrix, this.#right, size);
      for (let i = 0; i < size; i++) nodes[i]!.predictedPa = nodes[i]!.pressurePa + this.#right[i]!;
      for (let i = 0; i < edges.length; i++) edges[i]!.meanKgPerS = this.#mean(edges[i]!);
      if (turns === MOST_TURNS) break;
      const nodesTurned = turnNodes(nodes, edges, stepS);
      if (!turnEdges(edges, context) && !nodesTurned) break;
    }
    for (let i = 0; i < edges.length; i++) if (isAgainst(edges[i]!)) edges[i]!.meanKgPerS = 0;
  }

  #mean(edge: Edge): number {
    const change = this.#right;
    const changeA = edge.a.index < 0 ? 0 : change[edge.a.index]!;
    const changeB = edge.b.index < 0 ? 0 : change[edge.b.index]!;
    return edge.flowKgPerS + edge.slopeA * changeA - edge.slopeB * changeB;
  }

  #assemble(nodes: readonly Node[], edges: readonly Edge[], stepS: number): void {
    const size = nodes.length;
    const matrix = this.#matrix.fill(0, 0, size * size);
    const right = this.#right;
    for (let i = 0; i < size; i++) {
      const node = nodes[i]!;
      matrix[i * size + i] = 1 + node.sourceSlope;
      right[i] = riseOfItself(node, node.turned, stepS);
    }
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i]!;
      const { a, b } = edge;
      const streamA = a.index < 0 ? 0 : stepS * pressurePerStream(a, edge, a.turned);
      const streamB = b.index < 0 ? 0 : stepS * pressurePerStream(b, edge, b.turned);
      // Cold liquid may lower the pressure it runs into: that counts, but its flow must not feed on its own effect.
      const responseA = Math.max(streamA, 0);
      const responseB = Math.max(streamB, 0);
      if (!edge.turned) fitSlopes(edge, responseA, responseB);
      if (a.index >= 0) {
        right[a.index]! -= streamA * edge.flowKgPerS;
        matrix[a.index * size + a.index]! += responseA * edge.slopeA;
        if (b.index >= 0) matrix[a.index * size + b.index]! -= responseA * edge.slopeB;
      }
      if (b.index >= 0) {
        right[b.index]! += streamB * edge.flowKgPerS;
        matrix[b.index * size + b.index]! += responseB * edge.slopeB;
        if (a.index >= 0) matrix[b.index * size + a.index]! -= responseB * edge.slopeA;
      }
    }
  }
}

/** The flow that was found does not come from the end whose stream it was reckoned with. */
function isAgainst(edge: Edge): boolean {
  return edge.forward ? edge.meanKgPerS < 0 : edge.meanKgPerS > 0;
}

/** Lets the other end give where the flow turns, once in a step; answers whether one has turned. */
function turnEdges(edges: readonly Edge[], context: FlowContext): boolean {
  let changed = false;
  for (let i = 0; i < edges.length; i++) {
    const edge = edges[i]!;
    if (edge.turned || !isAgainst(edge)) continue;
    if (turnRound(edge, predictedPa(edge.a), predictedPa(edge.b), context)) changed = true;
  }
  return changed;
}

const predictedPa = (node: Node): number => (node.index < 0 ? node.pressurePa : node.predictedPa);

/**
 * The pressure over what came in bends upwards where a node fills up with liquid, hardly rising before and by some
 * hundred bar per kilogram beyond: of the two straight lines the higher one holds. Puts every node on its side and
 * answers whether one has changed.
 */
function turnNodes(nodes: readonly Node[], edges: readonly Edge[], stepS: number): boolean {
  let changed = false;
  for (let i = 0; i < nodes.length; i++) {
    const node = nodes[i]!;
    if (node.turnOffsetPa === Number.NEGATIVE_INFINITY) continue;
    let onwards = riseOfItself(node, false, stepS);
    let beyond = riseOfItself(node, true, stepS);
    for (let k = 0; k < edges.length; k++) {
      const edge = edges[k]!;
      if (edge.a !== node && edge.b !== node) continue;
      const kg = stepS * (edge.b === node ? edge.meanKgPerS : -edge.meanKgPerS);
      onwards += kg * pressurePerStream(node, edge, false);
      beyond += kg * pressurePerStream(node, edge, true);
    }
    const turned = beyond > onwards;
    changed = changed || turned !== node.turned;
    node.turned = turned;
  }
  return changed;
}

/** Between tangent (soft) and secant (stiff), so that a stiff pair of nodes meets without overshoot. */
function fitSlopes(edge: Edge, responseA: number, responseB: number): void {
  const { tangent, secant, upstreamSlope } = edge;
  const donorResponse = edge.forward ? responseA : responseB;
  const weight = fittedWeight(tangent * (responseA + responseB) + upstreamSlope * donorResponse);
  const slope = weight * (tangent + (2 * weight - 1) * (secant - tangent));
  const upstream = weight * upstreamSlope;
  edge.slopeA = slope + (edge.forward ? upstream : 0);
  edge.slopeB = slope + (edge.forward ? 0 : upstream);
}

/** Gaussian elimination in place; the matrix is diagonally dominant, so no pivoting. */
function eliminate(matrix: Float64Array, right: Float64Array, size: number): void {
  for (let k = 0; k < size; k++) {
    const rowK = k * size;
    const pivot = matrix[rowK + k]!;
    for (let i = k + 1; i < size; i++) {
      const rowI = i * size;
      const factor = matrix[rowI + k]! / pivot;
      if (factor === 0) continue;
      for (let j = k + 1; j < size; j++) matrix[rowI + j]! -= factor * matrix[rowK + j]!;
      right[i]! -= factor * right[k]!;
    }
  }
  for (let i = size - 1; i >= 0; i--) {
    const rowI = i * size;
    let sum = right[i]!;
    for (let j = i + 1; j < size; j++) sum -= matrix[rowI + j]! * right[j]!;
    right[i] = sum / matrix[rowI + i]!;
  }
}
