// What gives off or takes up gas inside a node while it flows: oil, a film of water, and moisture in oil and desiccant.
import { VAPOUR_ENERGY_OFFSET_J_PER_KG, WATER_VAPOUR } from '../fluids/water.ts';
import type { MoistureHold } from './moisture.ts';
import type { Node } from './node.ts';
import type { DissolvedEnergy, OilHold } from './oil.ts';
import { applyFilm, prepareFilm } from './water-film.ts';

/** Rates are found this often; in between they are steady. */
const LOOK_EVERY_S = 1;
/** What a step may take from the gas, as a share of what is there. */
const MOST_SHARE = 0.5;

export class Sources {
  /** Nodes that have any. */
  readonly nodes: readonly Node[];
  readonly #oils: readonly OilHold[];
  readonly #moistures: readonly MoistureHold[];
  readonly #dissolved: DissolvedEnergy;
  #sinceLookS = LOOK_EVERY_S;

  constructor(
    nodes: readonly Node[],
    oils: readonly OilHold[],
    moistures: readonly MoistureHold[],
    dissolved: DissolvedEnergy,
  ) {
    const holding = new Set([...oils, ...moistures].map((hold) => hold.node));
    this.nodes = nodes.filter((node) => node.filmUaWPerK > 0 || holding.has(node));
    this.#oils = oils;
    this.#moistures = moistures;
    this.#dissolved = dissolved;
  }

  /** Finds new rates once a second. */
  pass(stepS: number): void {
    this.#sinceLookS += stepS;
    // Ten tenths do not quite make one.
    if (this.#sinceLookS < LOOK_EVERY_S - 1e-6) return;
    this.#sinceLookS = 0;
    for (const oil of this.#oils) oil.look(LOOK_EVERY_S);
    for (const moisture of this.#moistures) moisture.look(LOOK_EVERY_S);
  }

  /**
   * What the sources of a node do to its pressure over a step: `sourcePa` at the present pressure, less `sourceSlope`
   * of whatever it rises.
   */
  prepare(node: Node, stepS: number): void {
    let risePa = 0;
    let slope = 0;
    if (node.desorbKgPerS !== 0) {
      const freed = this.#dissolved.atZeroK + this.#dissolved.heatJPerKgK * node.temperatureK;
      risePa += stepS * node.desorbKgPerS * (node.pressurePerRefrigerant + freed * node.pressurePerEnergy);
    }
    if (node.releaseKgPerS !== 0) {
      const perKg = node.pressurePerWater - VAPOUR_ENERGY_OFFSET_J_PER_KG * node.pressurePerEnergy;
      risePa += stepS * node.releaseKgPerS * perKg;
    }
    node.filmKgPerSPa = 0;
    if (node.filmUaWPerK > 0 && (node.filmKg > 0 || node.waterKg > 0)) {
      const response = stepS * this.#prepareFilm(node, stepS);
      risePa += response * (node.filmPa - node.filmVapourPa);
      slope = response * vapourShare(node);
    }
    node.sourcePa = risePa;
    node.sourceSlope = slope;
  }

  /**
   * Answers the rise of pressure per second and pascal of drive. The part of the vapour pressure that goes with the
   * pressure of the node is solved with it; the rest, which the film raises against itself, is taken care of here.
   */
  #prepareFilm(node: Node, stepS: number): number {
    prepareFilm(node, stepS);
    const perKg = Math.max(
      0,
      node.pressurePerWater + WATER_VAPOUR.cpJPerKgK * node.filmK * node.pressurePerEnergy,
    );
    const ownPerKg = (WATER_VAPOUR.gasConstantJPerKgK * node.temperatureK) / node.gasVolumeM3;
    const alone = Math.max(0, ownPerKg - vapourShare(node) * perKg);
    node.filmKgPerSPa /= 1 + stepS * node.filmKgPerSPa * alone;
    return node.filmKgPerSPa * perKg;
  }

  /** Moves the masses, once the pressure at the end of the step is known. */
  apply(node: Node, stepS: number): void {
    if (node.desorbKgPerS !== 0) {
      const wished = stepS * node.desorbKgPerS;
      const kg = Math.max(-MOST_SHARE * node.refrigerantKg, Math.min(node.dissolvedKg, wished));
      node.refrigerantKg += kg;
      node.dissolvedKg -= kg;
    }
    if (node.filmKgPerSPa !== 0) {
      applyFilm(node, stepS, vapourShare(node) * (node.predictedPa - node.pressurePa));
    }
    if (node.releaseKgPerS !== 0) {
      const wished = stepS * node.releaseKgPerS;
      const kg = Math.max(-MOST_SHARE * node.waterKg, Math.min(node.sorbedWaterKg, wished));
      node.waterKg += kg;
      node.sorbedWaterKg -= kg;
      node.energyJ -= kg * VAPOUR_ENERGY_OFFSET_J_PER_KG;
    }
  }

  /** For a node at rest, where nothing else moves. */
  rest(node: Node, durationS: number): void {
    this.prepare(node, durationS);
    node.predictedPa = node.pressurePa + node.sourcePa / (1 + node.sourceSlope);
    this.apply(node, durationS);
  }

  save() {
    return {
      sinceLookS: this.#sinceLookS,
      oils: this.#oils.map((oil) => oil.save()),
      moistures: this.#moistures.map((moisture) => moisture.save()),
    };
  }

  restore({ sinceLookS, oils, moistures }: ReturnType<Sources['save']>): void {
    this.#sinceLookS = sinceLookS;
    for (const [index, oil] of this.#oils.entries()) oil.restore(oils[index]!);
    for (const [index, moisture] of this.#moistures.entries()) moisture.restore(moistures[index]!);
  }
}

/** Share of water vapour in the pressure over a film. */
const vapourShare = (node: Node): number => (node.pressurePa > 0 ? node.filmVapourPa / node.pressurePa : 0);
