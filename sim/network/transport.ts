// Moves masses and energy along the edges of one step: one flux an edge, never more than the donor holds.
import type { Edge } from './edge.ts';
import type { Node } from './node.ts';

/** At most this share of what a donor holds and receives leaves it within a step. */
const MOST_SHARE = 0.98;

/** What moved along an edge in the running step, from a to b; kept apart until the step is accepted. */
export type Passage = { refrigerantKg: number; airKg: number; waterKg: number };

export class Transport {
  readonly #order: Node[] = [];
  /** Composition and enthalpy of what the node being worked gives to a following stream. */
  readonly #mixture = { refrigerant: 0.5, air: 0.5, water: 0.5, enthalpyJPerKg: 0.5 };

  /**
   * Applies `meanKgPerS` of every edge over the step. Nodes are worked downhill, each filled by its inflows before it
   * is drawn from, so that a step may carry several times what a small node holds.
   */
  move(nodes: readonly Node[], edges: readonly Edge[], passages: readonly Passage[], stepS: number): void {
    for (let i = 0; i < edges.length; i++) {
      const passage = passages[i]!;
      passage.refrigerantKg = 0;
      passage.airKg = 0;
      passage.waterKg = 0;
    }
    for (const node of this.#downhill(nodes, edges)) {
      this.#mix(node);
      const share = this.#grantedShare(node, edges, stepS);
      for (let i = 0; i < edges.length; i++) {
        const edge = edges[i]!;
        const kg = edge.meanKgPerS * stepS;
        if (kg > 0 && edge.a === node) this.#carry(edge, node, edge.b, kg * share, passages[i]!);
        else if (kg < 0 && edge.b === node) this.#carry(edge, node, edge.a, -kg * share, passages[i]!);
      }
    }
  }

  /** By falling pressure at the end of the step, but the delivery side of a compressor after everything else. */
  #downhill(nodes: readonly Node[], edges: readonly Edge[]): readonly Node[] {
    const order = this.#order;
    order.length = 0;
    for (const node of nodes) {
      let at = order.length;
      order.push(node);
      while (at > 0 && order[at - 1]!.predictedPa < node.predictedPa) {
        order[at] = order[at - 1]!;
        at--;
      }
      order[at] = node;
    }
    for (const edge of edges) {
      if (edge.kind !== 'compressor' || edge.b.index < 0) continue;
      order.splice(order.indexOf(edge.b), 1);
      order.push(edge.b);
    }
    return order;
  }

  #mix(node: Node): void {
    const total = node.refrigerantKg + node.airKg + node.waterKg;
    const mixture = this.#mixture;
    const per = total > 0 ? 1 / total : 0;
    mixture.refrigerant = node.refrigerantKg * per;
    mixture.air = node.airKg * per;
    mixture.water = node.waterKg * per;
    mixture.enthalpyJPerKg = (node.energyJ + node.pressurePa * node.volumeM3) * per;
  }

  /** The share of the wished outflow that the node can give, so that no species goes below zero. */
  #grantedShare(node: Node, edges: readonly Edge[], stepS: number): number {
    let refrigerant = 0;
    let air = 0;
    let water = 0;
    for (const edge of edges) {
      const kg = edge.a === node ? edge.meanKgPerS * stepS : edge.b === node ? -edge.meanKgPerS * stepS : 0;
      if (kg <= 0) continue;
      const from = edge.streamFollows ? this.#mixture : undefined;
      refrigerant += kg * (from?.refrigerant ?? edge.streamRefrigerant);
      air += kg * (from?.air ?? edge.streamAir);
      water += kg * (from?.water ?? edge.streamWater);
    }
    return Math.min(
      1,
      refrigerant > 0 ? (MOST_SHARE * node.refrigerantKg) / refrigerant : 1,
      air > 0 ? (MOST_SHARE * node.airKg) / air : 1,
      water > 0 ? (MOST_SHARE * node.waterKg) / water : 1,
    );
  }

  #carry(edge: Edge, donor: Node, receiver: Node, kg: number, passage: Passage): void {
    const mixture = this.#mixture;
    const follows = edge.streamFollows;
    const refrigerant = kg * (follows ? mixture.refrigerant : edge.streamRefrigerant);
    const air = kg * (follows ? mixture.air : edge.streamAir);
    const water = kg * (follows ? mixture.water : edge.streamWater);
    // A node whose metal shares its energy gives the enthalpy of its stream, not of its metal.
    const own = follows && donor.contactMetalJPerK === 0 && donor.oilKg === 0;
    const enthalpy = kg * (own ? mixture.enthalpyJPerKg : edge.streamEnthalpy);
    donor.refrigerantKg -= refrigerant;
    donor.airKg -= air;
    donor.waterKg -= water;
    donor.energyJ -= enthalpy;
    receiver.refrigerantKg += refrigerant;
    receiver.airKg += air;
    receiver.waterKg += water;
    receiver.energyJ += enthalpy + kg * edge.workJPerKg;
    const sign = donor === edge.a ? 1 : -1;
    passage.refrigerantKg += sign * refrigerant;
    passage.airKg += sign * air;
    passage.waterKg += sign * water;
  }
}
