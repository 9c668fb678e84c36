// Where every gram is: the truth's places, which sum to what was there at the start.
import type { Edge } from '../network/edge.ts';
import type { Node } from '../network/node.ts';
import type { Truth } from '../spec.ts';
import type { Machine, Paths } from './machine.ts';
import type { Vehicle } from './vehicle.ts';

const sum = (nodes: readonly Node[], of: (node: Node) => number): number =>
  nodes.reduce((total, node) => total + of(node), 0);

const passed = (edges: readonly Edge[]): number =>
  edges.reduce((total, edge) => total + edge.passedRefrigerantKg, 0);

export class Places {
  readonly #vehicle: Vehicle;
  readonly #machine: Machine;
  readonly #paths: Paths;
  readonly #leaks: readonly Edge[];
  readonly #initialKg: number;

  constructor(vehicle: Vehicle, machine: Machine, paths: Paths, leaks: readonly Edge[]) {
    this.#vehicle = vehicle;
    this.#machine = machine;
    this.#paths = paths;
    this.#leaks = leaks;
    this.#initialKg = this.#heldKg();
  }

  truth(): Truth {
    const { nodes } = this.#vehicle;
    const { highHose, lowHose, manifold, separator, condenser, tank } = this.#machine;
    const pumpExhaustKg = passed([this.#paths.vacuumPump, this.#paths.restingPump]);
    const leakedKg = passed(this.#leaks);
    return {
      initialKg: this.#initialKg,
      vehicleRefrigerantKg: sum(nodes, heldIn),
      hoseRefrigerantKg: sum([highHose, lowHose], heldIn),
      machineRefrigerantKg: sum([manifold, separator, condenser], heldIn),
      tankRefrigerantKg: heldIn(tank),
      pumpExhaustKg,
      leakedKg,
      purgedKg: 0,
      spilledKg: 0,
      ventedKg: 0,
      tankAirKg: tank.airKg,
      vehicleWaterKg: sum(nodes, (node) => node.waterKg),
      vehicleOilKg: sum(nodes, (node) => node.oilKg),
      massDriftKg: this.#heldKg() + pumpExhaustKg + leakedKg - this.#initialKg,
    };
  }

  #heldKg(): number {
    return sum([...this.#vehicle.nodes, ...this.#machine.nodes], heldIn);
  }
}

/** Free and dissolved refrigerant of a node. */
const heldIn = (node: Node): number => node.refrigerantKg;
