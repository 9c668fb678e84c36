// The thresholds and times of every stage, as a plan carries them: plain data that a saved state keeps.
import { CHARGE, CLEAR_HOSES, HOSES, VERIFY } from './charge.ts';
import { TIMES, WEIGHING } from './common.ts';
import { FILL } from './fill.ts';
import { LEAK_CHECK } from './leak-check.ts';
import { DRAIN_OIL, IDENTIFY, PURGE_AIR, RECOVER, REST, SETTLE } from './recovery.ts';
import { LOSS, REPAIR } from './repair.ts';
import { ADD_OIL, EVACUATE, HOLD } from './vacuum.ts';

type Numbers<T> = { readonly [K in keyof T]: number };

export const TARGETS = {
  identify: IDENTIFY,
  fill: FILL,
  purgeAir: PURGE_AIR,
  settle: SETTLE,
  recover: RECOVER,
  rest: REST,
  drainOil: DRAIN_OIL,
  repair: REPAIR,
  loss: LOSS,
  evacuate: EVACUATE,
  hold: HOLD,
  addOil: ADD_OIL,
  leakCheck: LEAK_CHECK,
  charge: CHARGE,
  verify: VERIFY,
  clearHoses: CLEAR_HOSES,
  hoses: HOSES,
  weighing: WEIGHING,
  times: TIMES,
};
export type Targets = { readonly [K in keyof typeof TARGETS]: Numbers<(typeof TARGETS)[K]> };
