// The simulated bench as a rig: commands in, readings out, nothing happens until it is told how far to go.
import type { Capabilities, Commands, Readings, TimeControlledRig } from '../controller/signals.ts';
import { ActiveFaults, type Fault } from './faults.ts';
import type { FluidTables } from './fluids/tables.ts';
import type { StepRule } from './network/network.ts';
import { Plant } from './plant/plant.ts';
import { Instruments, SAMPLE_MS } from './sensors/instruments.ts';
import type { BenchSpec, HandAction, Truth } from './spec.ts';

export interface Bench extends TimeControlledRig {
  /** A person's hand on the plant: couplers and hoses. */
  operate(action: HandAction): void;
  /** Lets something go wrong, or go right again. */
  switchFault(fault: Fault, on: boolean): void;
  truth(): Truth;
}

const CAPABILITIES: Capabilities = { truth: true, timeControl: true, needsCommissioning: false };

/** `rule` is for those who study the numerics; everyone else leaves it out. */
export function createBench(spec: BenchSpec, tables: FluidTables, rule?: StepRule): Bench {
  return new SimulatedBench(spec, tables, rule);
}

class SimulatedBench implements Bench {
  readonly capabilities = CAPABILITIES;
  readonly #faults = new ActiveFaults();
  readonly #plant: Plant;
  readonly #instruments: Instruments;
  #readings: Readings;

  constructor(spec: BenchSpec, tables: FluidTables, rule?: StepRule) {
    this.#plant = new Plant(spec, tables, this.#faults, rule);
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
    this.#plant.command(commands);
  }

  advanceTo(timeMs: number): void {
    while (this.#plant.nowMs < timeMs) {
      const nextSampleMs = (Math.floor(this.#plant.nowMs / SAMPLE_MS) + 1) * SAMPLE_MS;
      this.#plant.advanceTo(Math.min(timeMs, nextSampleMs));
      if (this.#plant.nowMs === nextSampleMs) {
        this.#readings = this.#instruments.sample(nextSampleMs);
      }
    }
  }

  operate(action: HandAction): void {
    this.#plant.operate(action);
  }

  switchFault(fault: Fault, on: boolean): void {
    this.#faults.switch(fault, on);
  }

  truth(): Truth {
    return this.#plant.truth();
  }
}
