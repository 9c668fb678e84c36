// A machine that somebody works by hand, with the wishes that stand.
import { planByHand } from '../../../controller/plan.ts';
import { ON, type Output } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { ByHand, Wish, Wished } from '../../../controller/wishes.ts';
import { R134A, TICKET } from './machine.ts';
import { type Moment, momentOf } from './moment.ts';

const PLAN = planByHand(TICKET, R134A);
export const wished = (output: Output, on = true, offAfterMs?: number): Wished => ({
  type: 'wished',
  output,
  on,
  ...(offAfterMs === undefined ? {} : { offAfterMs }),
});
export const standing = (output: Output, over: Partial<Wish> = {}): Wish => ({
  output,
  command: ON,
  untilMs: 1_000_000,
  timed: false,
  ...over,
});
export const withWishes = (wishes: readonly Wish[], over: Partial<ByHand> = {}): ByHand => ({
  sinceMs: 0,
  wishes,
  wanted: want(...wishes.map(({ output }) => output)),
  fallen: [],
  next: [],
  ...over,
});
export const idle = (moment: Moment = {}): ControllerState => momentOf({ plan: PLAN, ...moment });
export const working = (byHand = withWishes([]), moment: Moment = {}): ControllerState =>
  idle({ ...moment, state: { byHand, ...moment.state } });
