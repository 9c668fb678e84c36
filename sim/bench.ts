// The simulated bench as a rig: commands in, readings out, nothing happens until it is told how far to go.
import {
  type Capabilities,
  type Commands,
  type Readings,
  SAFE_COMMANDS,
  type TimeControlledRig,
} from '../controller/signals.ts';
import { ActiveFaults, type Fault } from './faults.ts';
import type { FluidTables } from './fluids/tables.ts';
import { Link } from './link.ts';
import { OIL_DENSITY_KG_PER_M3 } from './network/oil.ts';
import type { Inspection } from './plant/inspection.ts';
import { Plant } from './plant/plant.ts';
import { Instruments, SAMPLE_MS } from './sensors/instruments.ts';
import type { AnySpec, HandAction, Truth, TruthWithin } from './spec.ts';

/** A bench as a job needs it: a rig with a person at it, whose truth can be seen. */
export interface LiveBench extends TimeControlledRig {
  /** A person's hand on the plant: couplers and hoses. */
  operate(action: HandAction): void;
  /** Opens the vehicle for a repair, or closes it mended; only where its specification says what the repair does. */
  openVehicle(open: boolean): void;
  /** Lets something go wrong, or go right again. */
  switchFault(fault: Fault, on: boolean): void;
  /** What a person reads off the graduated catch bottle once its foam has settled. */
  catchBottleM3(): number;
  truth(): Truth;
  within(): TruthWithin;
}

export interface Bench extends LiveBench {
  /** What gauges in every pipe would show now, for whoever watches for harm. */
  inspect(): Inspection;
  /** Everything that changes in time, as plain data that shares nothing with the bench. */
  save(): BenchState;
  /** Back, or over, to a saved state: of this bench or of another that was made of the same specification. */
  restore(state: BenchState): void;
}

export type BenchState = ReturnType<SimulatedBench['save']>;

const CAPABILITIES: Capabilities = { truth: true, timeControl: true, needsCommissioning: false };

export function createBench(spec: AnySpec, tables: FluidTables): Bench {
  return new SimulatedBench(spec, tables);
}

class SimulatedBench implements Bench {
  readonly capabilities = CAPABILITIES;
  readonly #faults = new ActiveFaults();
  readonly #link = new Link(this.#faults);
  readonly #plant: Plant;
  readonly #instruments: Instruments;
  #readings: Readings;

  constructor(spec: AnySpec, tables: FluidTables) {
    this.#plant = new Plant(spec, tables, this.#faults);
    this.#instruments = new Instruments(spec, tables.fluid, this.#plant, this.#faults);
    this.#readings = this.#instruments.sample(0);
  }

  nowMs(): number {
    return this.#plant.nowMs;
  }

  readings(): Readings {
    return this.#readings;
  }

  apply(commands: Commands): void {
    if (this.#link.receive(commands)) this.#plant.command(commands);
  }

  advanceTo(timeMs: number): void {
    while (this.#plant.nowMs < timeMs) {
      const nextSampleMs = (Math.floor(this.#plant.nowMs / SAMPLE_MS) + 1) * SAMPLE_MS;
      this.#plant.advanceTo(Math.min(timeMs, nextSampleMs, this.#link.dropAtMs));
      if (this.#plant.nowMs >= this.#link.dropAtMs) this.#dropOutputs();
      if (this.#plant.nowMs === nextSampleMs) this.#sample(nextSampleMs);
    }
  }

  #dropOutputs(): void {
    this.#plant.command(SAFE_COMMANDS);
    this.#link.dropped();
  }

  #sample(atMs: number): void {
    const readings = this.#instruments.sample(atMs);
    if (this.#link.passes) this.#readings = readings;
  }

  operate(action: HandAction): void {
    if (!this.#faults.has('prompts-not-obeyed')) this.#plant.operate(action);
  }

  openVehicle(open: boolean): void {
    if (!this.#faults.has('prompts-not-obeyed')) this.#plant.openVehicle(open);
  }

  switchFault(fault: Fault, on: boolean): void {
    this.#faults.switch(fault, on);
    this.#link.heedFaults(this.#plant.nowMs);
    if (this.#plant.nowMs >= this.#link.dropAtMs) this.#dropOutputs();
    // What is wrong before time begins is wrong in the first sample.
    if (this.#plant.nowMs === 0) this.#sample(0);
    if (fault.fault === 'engine-started-early') this.#plant.operate(on ? 'start-engine' : 'stop-engine');
  }

  catchBottleM3(): number {
    return this.#plant.services.oil.drainedOilKg / OIL_DENSITY_KG_PER_M3;
  }

  within(): TruthWithin {
    return this.#plant.within();
  }

  truth(): Truth {
    return this.#plant.truth();
  }

  inspect(): Inspection {
    return this.#plant.inspect();
  }

  save() {
    return {
      faults: this.#faults.save(),
      link: this.#link.save(),
      plant: this.#plant.save(),
      instruments: this.#instruments.save(),
      readings: this.#readings,
    };
  }

  restore({ faults, link, plant, instruments, readings }: BenchState): void {
    this.#faults.restore(faults);
    this.#link.restore(link);
    this.#plant.restore(plant);
    this.#instruments.restore(instruments);
    this.#readings = readings;
  }
}
