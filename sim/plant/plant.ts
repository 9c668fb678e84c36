// Vehicle and machine joined: the whole plant in time, driven by what valves and drives really do.
import type { Commands, Output } from '../../controller/signals.ts';
import { ActiveFaults } from '../faults.ts';
import { AIR } from '../fluids/air.ts';
import type { FluidTables } from '../fluids/tables.ts';
import type { Edge } from '../network/edge.ts';
import { Equilibrium, StateOutOfRange } from '../network/equilibrium.ts';
import { Network, type StepRule } from '../network/network.ts';
import { makeNode, type Node } from '../network/node.ts';
import { NOMINAL } from '../profiles.ts';
import { Random } from '../random.ts';
import type { BenchSpec, HandAction, Truth } from '../spec.ts';
import { Actuators } from './actuators.ts';
import { makeLeak } from './leak.ts';
import { type Machine, makeMachine, makePaths, type Paths } from './machine.ts';
import { Places } from './places.ts';
import { makeVehicle, type Vehicle } from './vehicle.ts';
import { wire } from './wiring.ts';

/** Large enough that nothing the plant gives off changes the air around it. */
const SURROUNDINGS_M3 = 1e6;

export class Plant {
  readonly vehicle: Vehicle;
  readonly machine: Machine;
  readonly network: Network;
  readonly #actuators: Actuators;
  readonly #paths: Paths;
  readonly #leaks: readonly Edge[];
  readonly #faults: ActiveFaults;
  #faultChanges = 0;
  readonly #oneSided: boolean;
  readonly #places: Places;
  #couplersOpen = false;
  /** The hard-wired pressure switch has cut the compressor; it stays out until power is cycled. */
  #highPressureSwitch = false;
  #nowMs = 0;

  constructor(spec: BenchSpec, tables: FluidTables, faults = new ActiveFaults(), rule?: StepRule) {
    this.#faults = faults;
    const equilibrium = new Equilibrium(tables);
    const { ambientK, barometerPa } = spec.weather;
    this.vehicle = makeVehicle(spec.vehicle, equilibrium, ambientK);
    this.machine = makeMachine(spec.tank, spec.build, equilibrium, ambientK);
    const surroundings = makeSurroundings(equilibrium, ambientK, barometerPa);
    this.#paths = makePaths(this.machine, spec.build, this.vehicle, surroundings);
    this.#actuators = new Actuators(spec.build, new Random(spec.seed, 'valves'));
    this.#oneSided = spec.vehicle.ports === 1;
    const { leakKgPerYear } = spec.vehicle;
    this.#leaks =
      leakKgPerYear > 0 ? [makeLeak(leakKgPerYear, this.vehicle.high, surroundings, equilibrium)] : [];
    this.network = new Network(
      equilibrium,
      [...this.vehicle.nodes, ...this.machine.nodes],
      [...this.vehicle.edges, ...Object.values(this.#paths), ...this.#leaks],
      rule,
    );
    this.#places = new Places(this.vehicle, this.machine, this.#paths, this.#leaks);
    this.#rewire();
  }

  get nowMs(): number {
    return this.#nowMs;
  }

  get highPressureSwitch(): boolean {
    return this.#highPressureSwitch;
  }

  isOn(output: Output): boolean {
    return this.#actuators.isOn(output);
  }

  command(commands: Commands): void {
    this.#actuators.command(commands, this.#nowMs);
  }

  /** A person's hand on hoses and couplers. */
  operate(action: HandAction): void {
    this.#couplersOpen = action === 'connect-hoses';
    this.#rewire();
  }

  /** Moves the plant to a time, split only where something really moves. */
  advanceTo(timeMs: number): void {
    if (this.#faults.changes !== this.#faultChanges) {
      this.#faultChanges = this.#faults.changes;
      this.#rewire();
    }
    while (this.#nowMs < timeMs) {
      if (this.#actuators.advance(this.#nowMs)) this.#rewire();
      const untilMs = Math.min(timeMs, Math.max(this.#actuators.nextChangeMs, this.#nowMs + 1));
      this.#advanceNetwork(untilMs);
      this.#nowMs = untilMs;
      this.#watchHighPressure();
    }
    if (this.#actuators.advance(this.#nowMs)) this.#rewire();
  }

  #advanceNetwork(untilMs: number): void {
    try {
      this.network.advance((untilMs - this.#nowMs) / 1000);
    } catch (error) {
      if (error instanceof StateOutOfRange)
        error.message = `at ${(this.#nowMs / 1000).toFixed(1)} s, ${error.message}`;
      throw error;
    }
  }

  truth(): Truth {
    return this.#places.truth();
  }

  #watchHighPressure(): void {
    if (this.#highPressureSwitch || this.machine.condenser.pressurePa < NOMINAL.compressorCutOutPa) return;
    this.#highPressureSwitch = true;
    this.#rewire();
  }

  #rewire(): void {
    wire(this.#paths, this.machine, {
      isOn: (output) => this.#actuators.isOn(output),
      couplersOpen: this.#couplersOpen,
      oneSided: this.#oneSided,
      compressorCut: this.#highPressureSwitch,
      faults: this.#faults,
    });
    this.network.rewire();
  }
}

function makeSurroundings(equilibrium: Equilibrium, ambientK: number, barometerPa: number): Node {
  const node = makeNode({ name: 'surroundings', volumeM3: SURROUNDINGS_M3 }, ambientK);
  const airKg = (barometerPa * SURROUNDINGS_M3) / (AIR.gasConstantJPerKgK * ambientK);
  equilibrium.fill(node, ambientK, { refrigerantKg: 0, airKg });
  return node;
}
