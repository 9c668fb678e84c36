// Moves masses and energy along the edges of one step: one flux an edge, never more than the donor holds.
import type { Edge } from './edge.ts';
import { fittedWeight } from './fitted-weight.ts';
import type { Node } from './node.ts';

/** At most this share of what a donor holds and receives leaves it within a step. */
const MOST_SHARE = 0.98;

export class Transport {
  readonly #order: Node[] = [];
  #nodes: readonly Node[] = [];
  /** Which of them a running compressor delivers to. */
  #delivery: readonly boolean[] = [];
  /** Edges to a boundary. */
  #ends: readonly Edge[] = [];
  /** Composition and enthalpy of what the node being worked gives to a following stream. */
  readonly #mixture = { refrigerant: 0.5, air: 0.5, water: 0.5, enthalpyJPerKg: 0.5 };

  /**
   * Applies `meanKgPerS` of every edge over the step. Nodes are worked downhill, each filled by its inflows before it
   * is drawn from, so that a step may carry several times what a small node holds. `incident` lists the edges of each
   * node by its index; nodes without an index are boundaries.
   */
  move(
    nodes: readonly Node[],
    edges: readonly Edge[],
    incident: readonly (readonly Edge[])[],
    stepS: number,
  ): void {
    if (this.#nodes !== nodes) this.#lookAt(nodes, edges, incident);
    for (let i = 0; i < nodes.length; i++) nothingCameIn(nodes[i]!);
    const ends = this.#ends;
    for (let i = 0; i < ends.length; i++) this.#fromBoundary(ends[i]!, stepS);
    const order = this.#downhill(nodes);
    for (let k = 0; k < order.length; k++) {
      const node = order[k]!;
      const own = incident[node.index]!;
      const share = this.#grantedShare(node, own, stepS);
      for (let i = 0; i < own.length; i++) {
        const edge = own[i]!;
        const kg = edge.meanKgPerS * stepS;
        if (kg > 0 && edge.a === node) this.#carry(edge, node, edge.b, kg * share);
        else if (kg < 0 && edge.b === node) this.#carry(edge, node, edge.a, -kg * share);
      }
    }
  }

  /** What stays the same until the network finds other nodes active. */
  #lookAt(nodes: readonly Node[], edges: readonly Edge[], incident: readonly (readonly Edge[])[]): void {
    this.#nodes = nodes;
    this.#delivery = nodes.map((node, i) => receivesFromCompressor(node, incident[i]!));
    this.#ends = edges.filter((edge) => edge.a.index < 0 || edge.b.index < 0);
    this.#order.length = nodes.length;
  }

  /** What comes in from a boundary comes first; a boundary has enough of everything. */
  #fromBoundary(edge: Edge, stepS: number): void {
    const kg = edge.meanKgPerS * stepS;
    const donor = kg > 0 ? edge.a : edge.b;
    if (kg === 0 || donor.index >= 0) return;
    nothingCameIn(donor);
    this.#mix(donor);
    this.#carry(edge, donor, kg > 0 ? edge.b : edge.a, Math.abs(kg));
  }

  /** By falling pressure at the end of the step, but the delivery side of every running compressor after everything else. */
  #downhill(nodes: readonly Node[]): readonly Node[] {
    const order = this.#order;
    const delivery = this.#delivery;
    let count = 0;
    let deliveriesFrom = nodes.length;
    for (let i = 0; i < nodes.length; i++) {
      const node = nodes[i]!;
      if (delivery[i]!) {
        order[--deliveriesFrom] = node;
        continue;
      }
      let at = count++;
      while (at > 0 && order[at - 1]!.predictedPa < node.predictedPa) {
        order[at] = order[at - 1]!;
        at--;
      }
      order[at] = node;
    }
    return order;
  }

  /** The share of the wished outflow that the node can give, so that no species goes below zero. */
  #grantedShare(node: Node, edges: readonly Edge[], stepS: number): number {
    const mixture = this.#mix(node);
    let refrigerant = 0;
    let air = 0;
    let water = 0;
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i]!;
      const kg = edge.a === node ? edge.meanKgPerS * stepS : -edge.meanKgPerS * stepS;
      if (kg <= 0) continue;
      const follows = edge.streamFollows;
      refrigerant += kg * (follows ? mixture.refrigerant : edge.streamRefrigerant);
      air += kg * (follows ? mixture.air : edge.streamAir);
      water += kg * (follows ? mixture.water : edge.streamWater);
    }
    if (refrigerant + air + water === 0) return 1;
    let share = 1;
    if (refrigerant * share > MOST_SHARE * node.refrigerantKg)
      share = (MOST_SHARE * node.refrigerantKg) / refrigerant;
    if (air * share > MOST_SHARE * node.airKg) share = (MOST_SHARE * node.airKg) / air;
    if (water * share > MOST_SHARE * node.waterKg) share = (MOST_SHARE * node.waterKg) / water;
    return share;
  }

  /**
   * What the node gives over the step on average. Its gas is washed out exponentially by what comes in: the weight that
   * makes that exact for a steady stream lies between half (little comes in) and all of it (many times its content).
   */
  #mix(node: Node): { refrigerant: number; air: number; water: number; enthalpyJPerKg: number } {
    const { cameInRefrigerantKg, cameInAirKg, cameInWaterKg } = node;
    const total = node.refrigerantKg + node.airKg + node.waterKg;
    const came = cameInRefrigerantKg + cameInAirKg + cameInWaterKg;
    const left = came > 0 && came < total ? 1 - fittedWeight(came / (total - came)) : 0;
    const mixture = this.#mixture;
    const meanKg = total - left * came;
    const per = meanKg > 0 ? 1 / meanKg : 0;
    mixture.refrigerant = (node.refrigerantKg - left * cameInRefrigerantKg) * per;
    mixture.air = (node.airKg - left * cameInAirKg) * per;
    mixture.water = (node.waterKg - left * cameInWaterKg) * per;
    mixture.enthalpyJPerKg = total > 0 ? (node.energyJ + node.pressurePa * node.volumeM3) / total : 0;
    return mixture;
  }

  #carry(edge: Edge, donor: Node, receiver: Node, kg: number): void {
    const mixture = this.#mixture;
    const follows = edge.streamFollows;
    const refrigerant = kg * (follows ? mixture.refrigerant : edge.streamRefrigerant);
    const air = kg * (follows ? mixture.air : edge.streamAir);
    const water = kg * (follows ? mixture.water : edge.streamWater);
    // A node whose metal shares its energy gives the enthalpy of its stream, not of its metal.
    const own = follows && donor.contactMetalJPerK === 0 && donor.oilKg === 0 && donor.dissolvedKg === 0;
    const enthalpy = kg * (own ? mixture.enthalpyJPerKg : edge.streamEnthalpy);
    donor.refrigerantKg -= refrigerant;
    donor.airKg -= air;
    donor.waterKg -= water;
    donor.energyJ -= enthalpy;
    receiver.refrigerantKg += refrigerant;
    receiver.airKg += air;
    receiver.waterKg += water;
    receiver.cameInRefrigerantKg += refrigerant;
    receiver.cameInAirKg += air;
    receiver.cameInWaterKg += water;
    const work = kg * edge.workJPerKg;
    receiver.energyJ += enthalpy + work;
    edge.movedWorkJ = work;
    const sign = donor === edge.a ? 1 : -1;
    edge.movedRefrigerantKg = sign * refrigerant;
    edge.movedAirKg = sign * air;
    edge.movedWaterKg = sign * water;
  }
}

function receivesFromCompressor(node: Node, edges: readonly Edge[]): boolean {
  for (let i = 0; i < edges.length; i++) {
    if (edges[i]!.kind === 'compressor' && edges[i]!.b === node) return true;
  }
  return false;
}

function nothingCameIn(node: Node): void {
  node.cameInRefrigerantKg = 0;
  node.cameInAirKg = 0;
  node.cameInWaterKg = 0;
}
