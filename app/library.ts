/**
 * The library entry point, `import { … } from 'coldbench'`: for people who write their own controller, their own plant or
 * rig, or their own study. SI throughout, pressure absolute; docs/library.md has examples that run.
 */
import { PACING } from './bench/whole-jobs.ts';
import { runDocument } from './run/document.ts';
import type { RunDocument } from './run/document-type.ts';
import type { Observer } from './run/loop.ts';
import { fluidData, prepare, type Session } from './run/prepare.ts';
import { runSession } from './run/session.ts';
import { toScenario } from './scenario/scenario.ts';

// The controller: pure, so that it can be called scan by scan.
export type { Equipment } from '../controller/equipment.ts';
export type { Notice } from '../controller/notice.ts';
export type { OperatorEvent } from '../controller/operator.ts';
export { type Plan, planJob } from '../controller/plan.ts';
export { type JobResult, jobResult } from '../controller/result.ts';
export { type ControllerState, openJob, type ScanResult, scan } from '../controller/scan.ts';
// The contract between a rig and whoever drives it.
export {
  type Capabilities,
  type Command,
  type Commands,
  commandsOf,
  MEASURED,
  type Measured,
  OFF,
  ON,
  OUTPUTS,
  type Output,
  type Reading,
  type Readings,
  type Rig,
  SAFE_COMMANDS,
  SWITCHES,
  type Switch,
  type TimeControlledRig,
} from '../controller/signals.ts';
export type { Ticket } from '../controller/ticket.ts';
// The bench and what it is made of.
export type { Bench, BenchState } from '../sim/bench.ts';
export { FAULTS, type Fault, type FaultName } from '../sim/faults.ts';
export { FLUID_NAMES, type Fluid, findFluid } from '../sim/fluids/fluid.ts';
export type { HandAction, Truth } from '../sim/spec.ts';
export { InputError } from './cli/command.ts';
// The one loop that scans, for any rig and at any pace.
export { HandBench } from './run/by-hand.ts';
export type { RunDocument } from './run/document-type.ts';
export { type Observer, runVirtual, SCAN_MS, ScanLoop, type ScanSeen } from './run/loop.ts';
export type { Operator } from './run/operator.ts';
export { type FluidData, fluidData, type Session } from './run/prepare.ts';
export { operatorAt } from './run/session.ts';

const monotonicMs = (): number => performance.now();

/**
 * A bench with the vehicle, machine and weather of a scenario (docs/scenario.md), and what a controller may know of it.
 * Nothing moves until `bench.advanceTo` says so.
 *
 * @param scenario as in a scenario's file, already parsed.
 * @throws InputError that names the key and what it takes.
 */
export const openBench = (scenario: unknown): Session =>
  prepare(toScenario(scenario, 'the scenario'), 'the scenario', fluidData, monotonicMs);

/**
 * Carries out the job of a scenario with the controller of Coldbench, as fast as the processor goes.
 *
 * @param observers see every scan.
 * @returns what `coldbench run --json` prints.
 * @throws InputError that names the key and what it takes.
 */
export async function runJob(scenario: unknown, observers: readonly Observer[] = []): Promise<RunDocument> {
  return runDocument(await runSession(openBench(scenario), { observers, pacing: PACING }));
}
