// The network in time: steps of its own choosing, never beyond the time asked for, retried shorter where prediction and result part.
import type { Edge } from './edge.ts';
import { type Equilibrium, StateOutOfRange } from './equilibrium.ts';
import { evaluateFlow, type FlowContext } from './flow.ts';
import type { MoistureHold } from './moisture.ts';
import type { Node } from './node.ts';
import type { OilHold } from './oil.ts';
import { PressureStep } from './pressureStep.ts';
import { restoreFields, restoreNode, saveFields, saveNode } from './saved-fields.ts';
import { Sources } from './sources.ts';
import { STEP_RULE, type StepRule, UNSEEN_KG, UNSEEN_PA, UNSEEN_SHARE } from './step-rule.ts';
import { copyState, NOTHING_SAVED, type StepStart } from './step-start.ts';
import { Transport } from './transport.ts';

/** A node through which nothing flows is brought to equilibrium this often. */
const RESTING_EVERY_S = 1;

/** What the nodes hold besides gas and liquid. */
export type Holds = { readonly oils: readonly OilHold[]; readonly moistures: readonly MoistureHold[] };

const NO_HOLDS: Holds = { oils: [], moistures: [] };

export class Network {
  /** Nodes at the edges' ends that are not listed here are boundaries: they keep pressure and temperature. */
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
  readonly equilibrium: Equilibrium;
  steps = 0;
  rejectedSteps = 0;
  /** As long as nothing is set anew, what happens in this time may be reckoned at its end. */
  quietS = 0;
  readonly #rule: StepRule;
  readonly context: FlowContext;
  readonly #pressureStep = new PressureStep();
  readonly #transport = new Transport();
  readonly #saved: readonly StepStart[];
  /** Boundaries, which gather what leaves. */
  readonly #outside: readonly Node[];
  readonly #savedOutside: readonly StepStart[];
  readonly #sources: Sources;
  /** Active nodes that have sources. */
  #sourced: readonly Node[] = [];
  #open: readonly Edge[] = [];
  #moving: readonly Edge[] = [];
  #active: readonly Node[] = [];
  #incident: readonly (readonly Edge[])[] = [];
  #stepS: number;
  /** How much of what no instrument shows the last step moved. */
  #moved = 0;

  constructor(
    equilibrium: Equilibrium,
    nodes: readonly Node[],
    edges: readonly Edge[],
    rule: StepRule = STEP_RULE,
    holds: Holds = NO_HOLDS,
  ) {
    this.equilibrium = equilibrium;
    this.nodes = nodes;
    this.edges = edges;
    this.#rule = rule;
    this.#stepS = rule.longestS;
    this.#sources = new Sources(nodes, holds.oils, holds.moistures, equilibrium.dissolved);
    const { tables } = equilibrium;
    this.context = {
      gasConstantJPerKgK: tables.fluid.gasConstantJPerKgK,
      criticalPa: tables.fluid.criticalPressurePa,
      vapourViscosityPaS: (temperatureK) => tables.vapourViscosityPaS(temperatureK),
    };
    this.#saved = nodes.map(() => ({ ...NOTHING_SAVED }));
    const listed = new Set(nodes);
    const ends = new Set(edges.flatMap(({ a, b }) => [a, b]));
    this.#outside = [...ends].filter((node) => !listed.has(node));
    this.#savedOutside = this.#outside.map(() => ({ ...NOTHING_SAVED }));
    this.rewire();
  }

  /** To be called after any opening has changed. */
  rewire(): void {
    this.quietS = 0;
    this.#open = this.edges.filter((edge) => edge.opening > 0);
    for (const edge of this.edges) edge.moving = false;
    this.#findMoving();
  }

  /** Moves the network on by a time with all openings as they are. Throws StateOutOfRange. */
  advance(durationS: number): void {
    let leftS = durationS;
    while (leftS > 1e-9) {
      const wantedS = Math.min(this.#stepS, leftS);
      // Two equal steps rather than a full one and a sliver.
      const stepS = leftS > 1.001 * wantedS && leftS < 1.5 * wantedS ? leftS / 2 : Math.min(wantedS, leftS);
      leftS -= this.#step(stepS);
    }
  }

  /** One accepted step of at most `wantedS`; answers its length. */
  #step(wantedS: number): number {
    for (let stepS = wantedS; ; ) {
      this.#evaluateFlows();
      // After the flows, for they decide which nodes take part.
      this.#save();
      const error = this.#attemptOrReject(stepS);
      if (error <= this.#rule.rejectAbove || stepS <= this.#rule.shortestS) {
        this.#accept(stepS, error, stepS < wantedS);
        return stepS;
      }
      this.rejectedSteps++;
      this.#restore();
      stepS = Math.max(this.#rule.shortestS, stepS / (error > 10 * this.#rule.rejectAbove ? 4 : 2));
    }
  }

  #evaluateFlows(): void {
    const open = this.#open;
    let changed = false;
    for (let i = 0; i < open.length; i++) {
      const edge = open[i]!;
      evaluateFlow(edge, this.context);
      const moving = edge.flowKgPerS !== 0 || edge.tangent !== 0;
      changed = changed || moving !== edge.moving;
      edge.moving = moving;
    }
    if (changed) this.#findMoving();
  }

  #findMoving(): void {
    this.#listMoving();
    for (const node of this.#active) if (node.restS > 0) this.#rest(node);
  }

  /** Which edges flow, and the nodes they join; the rest are left in peace. */
  #listMoving(): void {
    const moving = this.#open.filter((edge) => edge.moving);
    const joined = new Set(moving.flatMap((edge) => [edge.a, edge.b]));
    this.#moving = moving;
    this.#active = this.nodes.filter((node) => joined.has(node));
    this.#sourced = this.#sources.nodes.filter((node) => joined.has(node));
    for (const node of this.nodes) node.index = -1;
    for (const [index, node] of this.#active.entries()) node.index = index;
    this.#incident = this.#active.map((node) => moving.filter((edge) => edge.a === node || edge.b === node));
  }

  /** A state that cannot be is a step too long, unless the step is already the shortest. */
  #attemptOrReject(stepS: number): number {
    try {
      return this.#attempt(stepS);
    } catch (error) {
      if (error instanceof StateOutOfRange && stepS > this.#rule.shortestS) return Number.POSITIVE_INFINITY;
      throw error;
    }
  }

  /** Tries a step and answers how far prediction and result parted. */
  #attempt(stepS: number): number {
    const { floorPa, swingShare, swingS, rejectAbove } = this.#rule;
    const active = this.#active;
    const sourced = this.#sourced;
    for (let i = 0; i < sourced.length; i++) this.#sources.prepare(sourced[i]!, stepS);
    this.#pressureStep.solve(active, this.#moving, stepS, this.context);
    for (let i = 0; i < sourced.length; i++) this.#sources.apply(sourced[i]!, stepS);
    this.#transport.move(active, this.#moving, this.#incident, stepS);
    let worst = 0;
    let moved = 0;
    for (let i = 0; i < active.length; i++) {
      const node = active[i]!;
      const beforePa = node.pressurePa;
      this.equilibrium.settle(node, stepS);
      if (Number.isNaN(node.pressurePa)) throw new StateOutOfRange(node, 'its pressure is not a number');
      const scale = 0.5 * (beforePa + node.pressurePa) + floorPa;
      const error = Math.abs(node.pressurePa - node.predictedPa) / scale;
      if (error > worst) worst = error;
      const change = Math.abs(node.pressurePa - beforePa);
      if (change > swingShare * scale && stepS > swingS && worst < 2 * rejectAbove) worst = 2 * rejectAbove;
      const unseen = change / (UNSEEN_PA + UNSEEN_SHARE * beforePa);
      if (unseen > moved) moved = unseen;
    }
    this.#moved = moved;
    return worst;
  }

  #accept(stepS: number, error: number, shortened: boolean): void {
    this.steps++;
    const moving = this.#moving;
    let moved = this.#moved;
    for (let i = 0; i < moving.length; i++) {
      const edge = moving[i]!;
      if (edge.meanKgPerS === 0) continue;
      const unseen = (Math.abs(edge.meanKgPerS) * stepS) / UNSEEN_KG;
      if (unseen > moved) moved = unseen;
      edge.passedRefrigerantKg += edge.movedRefrigerantKg;
      edge.passedAirKg += edge.movedAirKg;
      edge.passedWaterKg += edge.movedWaterKg;
      edge.passedWorkJ += edge.movedWorkJ;
    }
    if (shortened) this.#stepS = stepS;
    const { longestS, growBelow, quietS } = this.#rule;
    this.quietS = Math.min(quietS, stepS / moved);
    if (error < growBelow) {
      this.#stepS = Math.min(this.quietS > longestS ? quietS : longestS, Math.max(this.#stepS, stepS * 2));
    }
    this.#restOthers(stepS);
    this.#sources.pass(stepS);
  }

  #restOthers(stepS: number): void {
    const nodes = this.nodes;
    for (let i = 0; i < nodes.length; i++) {
      const node = nodes[i]!;
      if (node.index >= 0) continue;
      node.restS += stepS;
      if (node.restS >= RESTING_EVERY_S) this.#rest(node);
    }
  }

  #rest(node: Node): void {
    if (this.#sources.nodes.includes(node)) this.#sources.rest(node, node.restS);
    this.equilibrium.settle(node, node.restS);
  }

  save() {
    const { steps, rejectedSteps, quietS } = this;
    return {
      steps,
      rejectedSteps,
      quietS,
      stepS: this.#stepS,
      moved: this.#moved,
      nodes: this.nodes.map(saveNode),
      outside: this.#outside.map(saveNode),
      edges: this.edges.map(saveFields),
      open: this.#open.map((edge) => this.edges.indexOf(edge)),
      sources: this.#sources.save(),
    };
  }

  restore(saved: ReturnType<Network['save']>): void {
    this.steps = saved.steps;
    this.rejectedSteps = saved.rejectedSteps;
    this.quietS = saved.quietS;
    this.#stepS = saved.stepS;
    this.#moved = saved.moved;
    for (const [index, node] of this.nodes.entries()) restoreNode(node, saved.nodes[index]!);
    for (const [index, node] of this.#outside.entries()) restoreNode(node, saved.outside[index]!);
    for (const [index, edge] of this.edges.entries()) restoreFields(edge, saved.edges[index]!);
    this.#open = saved.open.map((index) => this.edges[index]!);
    this.#sources.restore(saved.sources);
    this.#listMoving();
  }

  #save(): void {
    const active = this.#active;
    for (let i = 0; i < active.length; i++) copyState(active[i]!, this.#saved[i]!);
    const outside = this.#outside;
    for (let i = 0; i < outside.length; i++) copyState(outside[i]!, this.#savedOutside[i]!);
  }

  /** Back to the start of the step; derived values are found anew, for stale ones make negative masses. */
  #restore(): void {
    const active = this.#active;
    for (let i = 0; i < active.length; i++) {
      copyState(this.#saved[i]!, active[i]!);
      this.equilibrium.settle(active[i]!, 0);
    }
    const outside = this.#outside;
    for (let i = 0; i < outside.length; i++) copyState(this.#savedOutside[i]!, outside[i]!);
  }
}
