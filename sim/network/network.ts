// The network in time: steps of its own choosing, never beyond the time asked for, retried shorter where prediction and result part.
import type { Edge } from './edge.ts';
import type { Equilibrium } from './equilibrium.ts';
import { evaluateFlow, type FlowContext } from './flow.ts';
import type { Node } from './node.ts';
import { PressureStep } from './pressureStep.ts';
import { type Passage, Transport } from './transport.ts';

/** The step rule; times in seconds, errors relative to the mean pressure. */
export type StepRule = {
  readonly longestS: number;
  readonly shortestS: number;
  /** Prediction and result may differ by this much, and this much more in pascal. */
  readonly rejectAbove: number;
  readonly growBelow: number;
  readonly floorPa: number;
  /** A pressure may move by this share in one step longer than `swingS`. */
  readonly swingShare: number;
  readonly swingS: number;
};

export const STEP_RULE: StepRule = {
  longestS: 0.1,
  shortestS: 0.0016,
  rejectAbove: 0.03,
  growBelow: 0.01,
  floorPa: 20,
  swingShare: 0.3,
  swingS: 0.024,
};

/** A node with every path shut is brought to equilibrium this often. */
const ISOLATED_EVERY_S = 1;

type Saved = {
  refrigerantKg: number;
  airKg: number;
  waterKg: number;
  energyJ: number;
  wallK: number;
  temperatureK: number;
};

export class Network {
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
  readonly equilibrium: Equilibrium;
  rejectedSteps = 0;
  steps = 0;
  readonly #rule: StepRule;
  readonly #context: FlowContext;
  readonly #pressureStep = new PressureStep();
  readonly #transport = new Transport();
  readonly #passages: Passage[];
  readonly #saved: Saved[];
  #openEdges: Edge[] = [];
  #activeNodes: Node[] = [];
  #isolatedNodes: Node[] = [];
  #stepS: number;
  #isolatedForS = 0;

  /** Nodes marked as boundaries keep pressure and temperature; they are not in `nodes`. */
  constructor(
    equilibrium: Equilibrium,
    nodes: readonly Node[],
    edges: readonly Edge[],
    rule: StepRule = STEP_RULE,
  ) {
    this.equilibrium = equilibrium;
    this.nodes = nodes;
    this.edges = edges;
    this.#rule = rule;
    this.#stepS = rule.longestS;
    const { tables } = equilibrium;
    this.#context = {
      criticalPa: tables.fluid.criticalPressurePa,
      vapourViscosityPaS: (temperatureK) => tables.vapourViscosityPaS(temperatureK),
    };
    this.#passages = edges.map(() => ({ refrigerantKg: 0, airKg: 0, waterKg: 0 }));
    this.#saved = nodes.map(() => ({
      refrigerantKg: 0,
      airKg: 0,
      waterKg: 0,
      energyJ: 0,
      wallK: 0,
      temperatureK: 0,
    }));
    this.rewire();
  }

  /** To be called after any opening has changed: finds which nodes flow and which stand alone. */
  rewire(): void {
    this.#catchUpIsolated();
    this.#openEdges = this.edges.filter((edge) => edge.opening > 0);
    const flowing = new Set(this.#openEdges.flatMap((edge) => [edge.a, edge.b]));
    this.#activeNodes = this.nodes.filter((node) => flowing.has(node));
    this.#isolatedNodes = this.nodes.filter((node) => !flowing.has(node));
    for (const node of this.nodes) node.index = -1;
    for (const [index, node] of this.#activeNodes.entries()) node.index = index;
  }

  /** Moves the network on by a time with all openings as they are. Throws StateOutOfRange. */
  advance(durationS: number): void {
    let leftS = durationS;
    while (leftS > 1e-9) {
      const wantedS = Math.min(this.#stepS, leftS);
      // Two equal steps rather than a full one and a sliver.
      const stepS = leftS - wantedS < 0.5 * wantedS && leftS > wantedS * (1 + 1e-9) ? leftS / 2 : wantedS;
      leftS -= this.#step(stepS);
    }
    this.#isolatedForS += durationS;
    if (this.#isolatedForS >= ISOLATED_EVERY_S) this.#catchUpIsolated();
  }

  #catchUpIsolated(): void {
    if (this.#isolatedForS > 0) {
      for (const node of this.#isolatedNodes) this.equilibrium.settle(node, this.#isolatedForS);
    }
    this.#isolatedForS = 0;
  }

  /** One accepted step of at most `wantedS`; answers its length. */
  #step(wantedS: number): number {
    this.#save();
    for (let stepS = wantedS; ; ) {
      const error = this.#attempt(stepS);
      if (error <= this.#rule.rejectAbove || stepS <= this.#rule.shortestS) {
        this.#accept(stepS, error, stepS < wantedS);
        return stepS;
      }
      this.rejectedSteps++;
      this.#restore();
      stepS = Math.max(this.#rule.shortestS, stepS / (error > 10 * this.#rule.rejectAbove ? 4 : 2));
    }
  }

  /** Tries a step and answers how far prediction and result parted. */
  #attempt(stepS: number): number {
    for (const edge of this.#openEdges) evaluateFlow(edge, this.#context);
    this.#pressureStep.solve(this.#activeNodes, this.#openEdges, stepS);
    this.#transport.move(this.#activeNodes, this.#openEdges, this.#passages, stepS);
    const { floorPa, swingShare, swingS, rejectAbove } = this.#rule;
    let worst = 0;
    for (const node of this.#activeNodes) {
      const beforePa = node.pressurePa;
      this.equilibrium.settle(node, stepS);
      const scale = 0.5 * (beforePa + node.pressurePa) + floorPa;
      const error = Math.abs(node.pressurePa - node.predictedPa) / scale;
      if (error > worst) worst = error;
      if (stepS > swingS && Math.abs(node.pressurePa - beforePa) > swingShare * scale) {
        worst = Math.max(worst, 2 * rejectAbove);
      }
    }
    return worst;
  }

  #accept(stepS: number, error: number, shortened: boolean): void {
    this.steps++;
    for (const [i, edge] of this.#openEdges.entries()) {
      const passage = this.#passages[i]!;
      edge.passedRefrigerantKg += passage.refrigerantKg;
      edge.passedAirKg += passage.airKg;
      edge.passedWaterKg += passage.waterKg;
    }
    if (shortened) this.#stepS = stepS;
    if (error < this.#rule.growBelow)
      this.#stepS = Math.min(this.#rule.longestS, Math.max(this.#stepS, stepS * 2));
  }

  #save(): void {
    const nodes = this.#activeNodes;
    for (let i = 0; i < nodes.length; i++) copyState(nodes[i]!, this.#saved[i]!);
  }

  /** Back to the start of the step; derived values are found anew, for stale ones make negative masses. */
  #restore(): void {
    const nodes = this.#activeNodes;
    for (let i = 0; i < nodes.length; i++) {
      copyState(this.#saved[i]!, nodes[i]!);
      this.equilibrium.settle(nodes[i]!, 0);
    }
  }
}

function copyState(from: Saved, to: Saved): void {
  to.refrigerantKg = from.refrigerantKg;
  to.airKg = from.airKg;
  to.waterKg = from.waterKg;
  to.energyJ = from.energyJ;
  to.wallK = from.wallK;
  to.temperatureK = from.temperatureK;
}
