// A charge whose hoses are drawn back, at one of the steps of that.
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { beginDrawBack, stepDrawBack } from '../../../controller/stages/charge-draw-back.ts';
import type { ChargeData, DrawBack, DrawBackStep } from '../../../controller/stages/data-charge.ts';
import { want } from '../../../controller/stages/stage.ts';
import { charging, type Given, scanOf } from './charging.ts';

export const RUNNING = { ...SAFE_COMMANDS, compressor: { on: true }, recoveryValve: { on: true } };
export const DRAWS = want('recoveryValve', 'compressor');
export const JOINED = want('recoveryValve');
export const BEGUN = beginDrawBack(charging(), scanOf({ nowMs: 100_000 })).drawBack!;

export type Scene = Given & { readonly data?: Partial<ChargeData>; readonly draw?: Partial<DrawBack> };

/** The compressor has run for two seconds, in a step that began three seconds ago. */
export function stepOf(step: DrawBackStep, { data, draw, ...given }: Scene = {}) {
  const drawBack = { ...BEGUN, startedAtMs: 98_000, ...draw };
  const charge = charging({
    step,
    stepSinceMs: 97_000,
    drawsBack: true,
    result: 'charged',
    ...data,
    drawBack,
  });
  return stepDrawBack(charge, scanOf({ nowMs: 100_000, permitted: RUNNING, ...given }));
}
