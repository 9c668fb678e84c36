// What runs of many whole jobs share: fluids built once, and a clock that never waits.
import { type FluidData, fluidData } from '../run/prepare.ts';

const known = new Map<string, FluidData>();

/** Tables are built once a process: they are the same for every job. */
export function fluidOnce(refrigerant: string): FluidData {
  const data = known.get(refrigerant) ?? fluidData(refrigerant);
  known.set(refrigerant, data);
  return data;
}

export const clockMs = (): number => performance.now();

/** Without a pause in which anything else could run. */
export const PACING = { wallClockMs: clockMs, breathe: async () => {} };
