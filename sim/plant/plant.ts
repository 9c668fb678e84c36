// Vehicle and machine joined: the whole plant in time, driven by what valves and drives really do.
import type { Commands, Output } from '../../controller/signals.ts';
import { ActiveFaults } from '../faults.ts';
import type { FluidTables } from '../fluids/tables.ts';
import { Equilibrium, StateOutOfRange } from '../network/equilibrium.ts';
import { Network } from '../network/network.ts';
import { OilHold } from '../network/oil.ts';
import type { StepRule } from '../network/step-rule.ts';
import { NOMINAL } from '../profiles.ts';
import { Random } from '../random.ts';
import type { AnySpec, HandAction, Truth, TruthWithin } from '../spec.ts';
import { Actuators } from './actuators.ts';
import { Cabin } from './cabin.ts';
import { makeCylinder } from './cylinder.ts';
import { Engine } from './engine.ts';
import { type Inspection, inspect } from './inspection.ts';
import { type Machine, makeMachine } from './machine.ts';
import { OilCarry } from './oil-carry.ts';
import { Opening } from './opening.ts';
import { makePaths, type Paths } from './paths.ts';
import { Places } from './places.ts';
import { MachineServices } from './services.ts';
import { leaksOf, makeSurroundings } from './surroundings.ts';
import { makeVehicle, type Source, type Vehicle } from './vehicle.ts';

/** What changes slowly is looked at this often. */
const SLOW_MS = 1000;
const NEAR_CUT_OUT = 0.7;

export class Plant {
  readonly source: Source;
  readonly machine: Machine;
  readonly cabin: Cabin;
  readonly network: Network;
  readonly services: MachineServices;
  readonly #actuators: Actuators;
  readonly #faults: ActiveFaults;
  #faultChanges = 0;
  readonly #vehicle: Vehicle | undefined;
  readonly #engine: Engine | undefined;
  readonly #opening: Opening | undefined;
  readonly #oilCarry: OilCarry;
  readonly #places: Places;
  readonly #paths: Paths;
  /** The hard-wired pressure switch has cut the compressor; it stays out until power is cycled. */
  #highPressureSwitch = false;
  #nowMs = 0;
  /** The network may lag behind while nothing in it moves that an instrument would show. */
  #networkMs = 0;
  #slowAtMs = SLOW_MS;

  constructor(spec: AnySpec, tables: FluidTables, faults = new ActiveFaults(), rule?: StepRule) {
    this.#faults = faults;
    const equilibrium = new Equilibrium(tables);
    const { ambientK } = spec.weather;
    const vehicleSpec = 'vehicle' in spec ? spec.vehicle : undefined;
    if ('vehicle' in spec) {
      this.#vehicle = makeVehicle(spec.vehicle, equilibrium, ambientK);
      this.#engine = new Engine(this.#vehicle, spec.vehicle, spec.weather, equilibrium);
      this.source = this.#vehicle;
    } else this.source = makeCylinder(spec.cylinder, equilibrium, ambientK);
    this.cabin = this.#engine?.cabin ?? new Cabin(spec.weather);
    this.machine = makeMachine(spec.tank, spec.build, equilibrium, ambientK);
    const surroundings = makeSurroundings(equilibrium, spec.weather);
    const paths = makePaths(this.machine, spec.build, this.source, surroundings);
    this.#paths = paths;
    this.#actuators = new Actuators(spec.build, new Random(spec.seed, 'valves'), faults);
    const { high, low, holds } = this.source;
    const leaks = leaksOf(vehicleSpec, high, surroundings, equilibrium);
    if (this.#vehicle !== undefined && vehicleSpec?.repair !== undefined)
      this.#opening = new Opening(vehicleSpec.repair, this.#vehicle, surroundings, leaks, equilibrium);
    const waysOut = this.#opening === undefined ? leaks : [...leaks, this.#opening.edge];
    const caught = new OilHold(this.machine.separator, vehicleSpec?.oil.kind ?? 'PAG', tables);
    this.network = new Network(
      equilibrium,
      [...this.source.nodes, ...this.machine.nodes],
      [...this.source.edges, ...Object.values(paths), ...waysOut],
      rule,
      { ...holds, oils: [...holds.oils, caught] },
    );
    const carriers = [
      { coupler: paths.highCoupler, oil: holds.oils.find(({ node }) => node === high) },
      { coupler: paths.lowCoupler, oil: holds.oils.find(({ node }) => node === low) },
    ];
    this.#oilCarry = new OilCarry(
      carriers.flatMap(({ coupler, oil }) => (oil === undefined ? [] : [{ coupler, oil }])),
      paths.recoveryValve,
      equilibrium.dissolved,
    );
    this.services = new MachineServices(
      spec,
      this.machine,
      paths,
      this.source,
      this.network,
      faults,
      (output) => this.#actuators.isOn(output),
    );
    this.#places = new Places(
      this.source,
      this.#vehicle !== undefined,
      this.machine,
      paths,
      waysOut,
      this.services,
    );
    this.#rewire();
  }

  /** @throws Error where a supply cylinder stands in its place. */
  get vehicle(): Vehicle {
    if (this.#vehicle === undefined) throw new Error('there is no vehicle here');
    return this.#vehicle;
  }

  /** @throws Error where there is no vehicle. */
  get engine(): Engine {
    if (this.#engine === undefined) throw new Error('there is no engine here');
    return this.#engine;
  }

  get nowMs(): number {
    return this.#nowMs;
  }

  get highPressureSwitch(): boolean {
    return this.#highPressureSwitch || this.#faults.has('pressure-switch-open');
  }

  isOn(output: Output): boolean {
    return this.#actuators.isOn(output);
  }

  command(commands: Commands): void {
    this.#actuators.command(commands, this.#nowMs);
  }

  /** A person's hand on hoses, couplers and ignition key. */
  operate(action: HandAction): void {
    this.#catchUp();
    if (action === 'start-engine') this.#engine?.start();
    if (action === 'stop-engine') this.#engine?.stop();
    this.services.hoses.operate(action);
    this.#rewire();
  }

  /**
   * A person opens the vehicle for a repair, or closes it mended.
   * @throws Error where the specification says nothing of a repair.
   */
  openVehicle(open: boolean): void {
    if (this.#opening === undefined) throw new Error('nothing is said of a repair');
    this.#catchUp();
    if (open) this.#opening.open();
    else this.#opening.close();
    this.#rewire();
  }

  /** Moves the plant to a time, split only where something really moves. */
  advanceTo(timeMs: number): void {
    if (this.#faults.changes !== this.#faultChanges) this.#heedFaults();
    while (this.#nowMs < timeMs) {
      if (this.#actuators.advance(this.#nowMs)) this.#rewire();
      const untilMs = Math.min(
        timeMs,
        this.#slowAtMs,
        Math.max(this.#actuators.nextChangeMs, this.#nowMs + 1),
        this.#nowMs + this.#watchMs(),
      );
      const durationS = (untilMs - this.#nowMs) / 1000;
      this.#nowMs = untilMs;
      const strides =
        this.#engine?.running !== true && untilMs - this.#networkMs < 1000 * this.network.quietS;
      if (!strides) this.#catchUp();
      this.#watchHighPressure();
      if (this.#engine?.advance(durationS)) this.network.rewire();
      if (this.services.passBeside(durationS)) this.#rewire();
      if (untilMs === this.#slowAtMs) this.#everySecond();
    }
    if (this.#actuators.advance(this.#nowMs)) this.#rewire();
  }

  #heedFaults(): void {
    this.#catchUp();
    this.#faultChanges = this.#faults.changes;
    this.#actuators.heedFaults();
    if (this.#faults.has('power-lost')) this.#highPressureSwitch = false;
    this.#heedVehicleFaults();
    this.#rewire();
  }

  #heedVehicleFaults(): void {
    const condition = this.#engine?.condition;
    if (condition === undefined) return;
    condition.compressorShare = this.#faults.sizeOf('vehicle-compressor-weak') ?? 1;
    condition.condenserAirShare = this.#faults.sizeOf('vehicle-condenser-blocked') ?? 1;
    condition.expansionShare = this.#faults.sizeOf('vehicle-expansion-clogged') ?? 1;
  }

  #everySecond(): void {
    this.#catchUp();
    this.#slowAtMs += SLOW_MS;
    this.services.everySecond();
    if (this.#opening?.isOpen) this.#opening.exchange(SLOW_MS / 1000);
    this.#oilCarry.look();
  }

  /** Brings the network up to now; to be called before anything is set anew or looked at. */
  #catchUp(): void {
    if (this.#networkMs === this.#nowMs) return;
    try {
      this.network.advance((this.#nowMs - this.#networkMs) / 1000);
      this.#networkMs = this.#nowMs;
    } catch (error) {
      if (error instanceof StateOutOfRange)
        error.message = `at ${(this.#nowMs / 1000).toFixed(1)} s, ${error.message}`;
      throw error;
    }
  }

  within(): TruthWithin {
    this.#catchUp();
    return this.#places.within();
  }

  truth(): Truth {
    this.#catchUp();
    return this.#places.truth();
  }

  save() {
    return {
      nowMs: this.#nowMs,
      networkMs: this.#networkMs,
      slowAtMs: this.#slowAtMs,
      faultChanges: this.#faultChanges,
      highPressureSwitch: this.#highPressureSwitch,
      actuators: this.#actuators.save(),
      network: this.network.save(),
      services: this.services.save(),
      oilCarry: this.#oilCarry.save(),
      engine: this.#engine?.save(),
    };
  }

  /** The places of the truth go by what passed since the start; they follow. */
  restore(saved: ReturnType<Plant['save']>): void {
    this.#nowMs = saved.nowMs;
    this.#networkMs = saved.networkMs;
    this.#slowAtMs = saved.slowAtMs;
    this.#faultChanges = saved.faultChanges;
    this.#highPressureSwitch = saved.highPressureSwitch;
    this.#actuators.restore(saved.actuators);
    this.network.restore(saved.network);
    this.services.restore(saved.services);
    this.#oilCarry.restore(saved.oilCarry);
    if (saved.engine !== undefined) this.#engine?.restore(saved.engine);
  }

  inspect(): Inspection {
    const looked = {
      machine: this.machine,
      paths: this.#paths,
      services: this.services,
      places: this.#places,
    };
    return inspect({ ...looked, isOn: (output) => this.isOn(output) }, this.#nowMs);
  }

  /** The pressure switch acts within milliseconds: near its point it is looked at often. */
  #watchMs(): number {
    return this.machine.condenser.pressurePa < NEAR_CUT_OUT * NOMINAL.compressorCutOutPa ? SLOW_MS : 10;
  }

  #watchHighPressure(): void {
    if (this.#highPressureSwitch || this.machine.condenser.pressurePa < NOMINAL.compressorCutOutPa) return;
    this.#highPressureSwitch = true;
    this.#rewire();
  }

  #rewire(): void {
    this.#catchUp();
    this.services.rewire(this.#nowMs, this.highPressureSwitch);
    this.network.rewire();
  }
}
