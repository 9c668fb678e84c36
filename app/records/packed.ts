// What a journal keeps beside its rows, small: the controller's state for a resume, and a simulated bench.
import { deserialize, serialize } from 'node:v8';
import { deflateSync, inflateSync } from 'node:zlib';
import type { Equipment } from '../../controller/equipment.ts';
import type { Plan } from '../../controller/plan.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { BenchState } from '../../sim/bench.ts';
import { logicVersion } from '../bench/logic-version.ts';

/** The quickest level: it is written between two scans. */
const QUICK = { level: 1 };

/** What a job has used of the machine so far. */
export type Used = { readonly pumpMs: number };

export type Checkpoint = { readonly state: ControllerState; readonly used: Used };

let controller: string | undefined;

/** Of the code whose state it is: another one may mean something else by it. */
function controllerVersion(): string {
  controller ??= logicVersion(['controller']);
  return controller;
}

/** Plan and equipment stand in the job's row; the last judgement is made anew. */
export const packState = ({ state, used }: Checkpoint): Uint8Array =>
  deflateSync(
    JSON.stringify({
      state: { ...state, plan: undefined, equipment: undefined, fitting: undefined, judged: undefined },
      used,
      controller: controllerVersion(),
    }),
    QUICK,
  );

/** @returns also whether this version of the controller has written it: another's state is only looked at. */
export function unpackState(
  packed: Uint8Array,
  plan: Plan,
  equipment: Equipment,
): Checkpoint & { readonly isOurs: boolean } {
  const {
    state,
    used,
    controller: by,
  } = JSON.parse(inflateSync(packed).toString('utf8'), withDoubt) as Checkpoint & {
    readonly controller?: string;
  };
  return { state: { ...state, plan, equipment }, used, isOurs: by === controllerVersion() };
}

/** A weighing that was written before weighings had it has nothing undecided. */
export const withDoubt = (_: string, value: unknown): unknown =>
  typeof value === 'object' && value !== null && 'counts' in value && !('undecidedVarianceKg2' in value)
    ? { ...value, undecidedVarianceKg2: 0 }
    : value;

/** Infinite times and missing fields survive; another version of Node may not read it, and a simulated job is then only closed. */
export const packWorld = (world: BenchState): Uint8Array => deflateSync(serialize(world), QUICK);

export const unpackWorld = (packed: Uint8Array): BenchState => deserialize(inflateSync(packed)) as BenchState;
