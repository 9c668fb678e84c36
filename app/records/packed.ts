// What a journal keeps beside its rows, small: the controller's state for a resume, and a simulated bench.
import { deserialize, serialize } from 'node:v8';
import { deflateSync, inflateSync } from 'node:zlib';
import type { Equipment } from '../../controller/equipment.ts';
import type { Plan } from '../../controller/plan.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { BenchState } from '../../sim/bench.ts';

/** The quickest level: it is written between two scans. */
const QUICK = { level: 1 };

/** What a job has used of the machine so far. */
export type Used = { readonly pumpMs: number };

export type Checkpoint = { readonly state: ControllerState; readonly used: Used };

/** Plan and equipment stand in the job's row; the last judgement is made anew. */
export const packState = ({ state, used }: Checkpoint): Uint8Array =>
  deflateSync(
    JSON.stringify({
      state: { ...state, plan: undefined, equipment: undefined, fitting: undefined, judged: undefined },
      used,
    }),
    QUICK,
  );

export function unpackState(packed: Uint8Array, plan: Plan, equipment: Equipment): Checkpoint {
  const { state, used } = JSON.parse(inflateSync(packed).toString('utf8')) as Checkpoint;
  return { state: { ...state, plan, equipment }, used };
}

/** Infinite times and missing fields survive; another version of Node may not read it, and a simulated job is then only closed. */
export const packWorld = (world: BenchState): Uint8Array => deflateSync(serialize(world), QUICK);

export const unpackWorld = (packed: Uint8Array): BenchState => deserialize(inflateSync(packed)) as BenchState;
