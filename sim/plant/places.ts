// Where every gram is: the truth's places, which sum to what was there at the start.
import type { Edge } from '../network/edge.ts';
import type { Node } from '../network/node.ts';
import { oilVolumeM3 } from '../network/oil.ts';
import type { Truth, TruthWithin } from '../spec.ts';
import type { Machine } from './machine.ts';
import type { Paths } from './paths.ts';
import type { MachineServices } from './services.ts';
import type { Source } from './vehicle.ts';

const sum = (nodes: readonly Node[], of: (node: Node) => number): number =>
  nodes.reduce((total, node) => total + of(node), 0);

const passed = (edges: readonly Edge[]): number =>
  edges.reduce((total, edge) => total + edge.passedRefrigerantKg, 0);

export type Lost = ReturnType<Places['lost']>;

export class Places {
  readonly #source: Source;
  readonly #isVehicle: boolean;
  readonly #machine: Machine;
  readonly #paths: Paths;
  readonly #leaks: readonly Edge[];
  readonly #services: MachineServices;
  readonly #initialKg: number;

  constructor(
    source: Source,
    isVehicle: boolean,
    machine: Machine,
    paths: Paths,
    leaks: readonly Edge[],
    services: MachineServices,
  ) {
    this.#source = source;
    this.#isVehicle = isVehicle;
    this.#machine = machine;
    this.#paths = paths;
    this.#leaks = leaks;
    this.#services = services;
    this.#initialKg = this.#heldKg();
  }

  truth(): Truth {
    const { nodes } = this.#source;
    const sourceKg = sum(nodes, heldIn);
    const { highHose, lowHose, manifold, separator, condenser, tank } = this.#machine;
    const away = this.lost();
    return {
      initialKg: this.#initialKg,
      vehicleRefrigerantKg: this.#isVehicle ? sourceKg : 0,
      cylinderRefrigerantKg: this.#isVehicle ? 0 : sourceKg,
      hoseRefrigerantKg: sum([highHose, lowHose], heldIn),
      machineRefrigerantKg:
        sum([manifold, separator, condenser], heldIn) + this.#services.oil.caughtRefrigerantKg,
      tankRefrigerantKg: heldIn(tank),
      ...away,
      tankAirKg: tank.airKg,
      vehicleWaterKg: sum(nodes, (node) => node.waterKg + node.filmKg + node.sorbedWaterKg),
      vehicleOilKg: sum(nodes, (node) => node.oilKg),
      vehicleDyeKg: this.#services.oil.vehicleDyeKg,
      massDriftKg:
        this.#heldKg() + Object.values(away).reduce((total, kg) => total + kg, 0) - this.#initialKg,
    };
  }

  within(): TruthWithin {
    const { nodes, high, low } = this.#source;
    const vessels = nodes.filter((node) => node !== high && node !== low);
    return {
      vehicleDissolvedKg: sum(nodes, (node) => node.dissolvedKg),
      vehicleLiquidKg: this.#isVehicle ? sum(nodes, liquidIn) : 0,
      vesselRefrigerantKg: this.#isVehicle ? sum(vessels, heldIn) : 0,
      cabinetGasKg: this.#services.enclosure.gasKg,
      swallowedLiquidKg: this.#services.motor.swallowedLiquidKg,
    };
  }

  vehicleKg(): number {
    return this.#isVehicle ? sum(this.#source.nodes, heldIn) : 0;
  }

  /** What has left the plant, by the way it took. */
  lost() {
    const {
      vacuumPump,
      restingPump,
      separatorDrain,
      oilBottle,
      dyeBottle,
      openHighHose,
      openLowHose,
      cabinetLeak,
    } = this.#paths;
    const { tank, hoses } = this.#services;
    return {
      pumpExhaustKg: passed([vacuumPump, restingPump]),
      leakedKg: passed(this.#leaks),
      purgedKg: tank.purgedKg,
      spilledKg: passed([openHighHose, openLowHose, cabinetLeak]) + hoses.spilledKg,
      ventedKg: passed([separatorDrain]) - passed([oilBottle, dyeBottle]),
    };
  }

  #heldKg(): number {
    const nodes = [...this.#source.nodes, ...this.#machine.nodes];
    return sum(nodes, heldIn) + this.#services.oil.caughtRefrigerantKg;
  }
}

/** Free and dissolved refrigerant of a node. */
const heldIn = (node: Node): number => node.refrigerantKg + node.dissolvedKg;

const liquidIn = (node: Node): number =>
  Math.max(0, node.liquidFraction * node.volumeM3 - oilVolumeM3(node)) * node.liquidDensityKgPerM3;
