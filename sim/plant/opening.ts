// The vehicle opened for a repair: a line taken off, moist air and refrigerant changing places through it, closed again.
import type { Edge } from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import type { Node } from '../network/node.ts';
import type { RepairSpec } from '../spec.ts';
import { makeHole } from './leak.ts';
import type { Vehicle } from './vehicle.ts';

const GRAVITY_M_PER_S2 = 9.80665;
/**
 * Exchange of a heavy and a light fluid through an opening in a thin wall with no difference of pressure:
 * Q = 0.055·√(g·Δρ/ρ̄·D⁵) (M. Epstein, J. Heat Transfer 110 (1988) 885, for openings in horizontal walls; from memory).
 */
const EXCHANGE = 0.055;
/** At most this share of a node's gas in one look. */
const MOST_SHARE = 0.5;

export class Opening {
  /** Shut while the vehicle is closed. What leaves by exchange is booked here too. */
  readonly edge: Edge;
  readonly #vehicle: Vehicle;
  readonly #surroundings: Node;
  readonly #diameterM: number;
  readonly #leaks: readonly Edge[];
  readonly #stopsLeak: boolean;
  readonly #equilibrium: Equilibrium;

  /** `leaks` are the ways out that the repair may stop. */
  constructor(
    { openDiameterM, stopsLeak }: RepairSpec,
    vehicle: Vehicle,
    surroundings: Node,
    leaks: readonly Edge[],
    equilibrium: Equilibrium,
  ) {
    this.#vehicle = vehicle;
    this.#surroundings = surroundings;
    this.#diameterM = openDiameterM;
    this.#leaks = leaks;
    this.#stopsLeak = stopsLeak;
    this.#equilibrium = equilibrium;
    this.edge = makeHole(openDiameterM, vehicle.high, surroundings);
    this.edge.opening = 0;
  }

  get isOpen(): boolean {
    return this.edge.opening > 0;
  }

  open(): void {
    this.edge.opening = 1;
  }

  /** Closed again; a repair that stops the leak has mended what it came through. */
  close(): void {
    this.edge.opening = 0;
    if (this.#stopsLeak) for (const leak of this.#leaks) leak.opening = 0;
  }

  /**
   * Once a second while it is open. A repair opens lines on more than one side: every node exchanges by its share of the
   * volume (estimate), as if the gas of the whole vehicle were one.
   */
  exchange(durationS: number): void {
    const { nodes } = this.#vehicle;
    const volumeM3 = nodes.reduce((sum, node) => sum + node.volumeM3, 0);
    for (const node of nodes) {
      const outside = this.#surroundings;
      const meanDensity = (node.gasDensityKgPerM3 + outside.gasDensityKgPerM3) / 2;
      const buoyancy = Math.abs(node.gasDensityKgPerM3 - outside.gasDensityKgPerM3) / meanDensity;
      const flowM3PerS = EXCHANGE * Math.sqrt(GRAVITY_M_PER_S2 * buoyancy * this.#diameterM ** 5);
      const swappedM3 = Math.min(
        (flowM3PerS * durationS * node.volumeM3) / volumeM3,
        MOST_SHARE * node.gasVolumeM3,
      );
      this.#swap(node, swappedM3);
    }
  }

  /** So much gas of the node for as much of the air outside, each with its own energy. */
  #swap(node: Node, volumeM3: number): void {
    const outside = this.#surroundings;
    const outKg = volumeM3 * node.gasDensityKgPerM3;
    const inKg = volumeM3 * outside.gasDensityKgPerM3;
    const refrigerantKg = outKg * node.gasRefrigerant - inKg * outside.gasRefrigerant;
    node.refrigerantKg -= refrigerantKg;
    node.airKg += inKg * outside.gasAir - outKg * node.gasAir;
    node.waterKg += inKg * outside.gasWater - outKg * node.gasWater;
    node.energyJ +=
      inKg * outside.gasEnthalpyJPerKg -
      outKg * node.gasEnthalpyJPerKg +
      volumeM3 * (node.pressurePa - outside.pressurePa);
    this.edge.passedRefrigerantKg += refrigerantKg;
    this.#equilibrium.settle(node, node.restS);
  }
}
