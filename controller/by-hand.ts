// By hand: the operator wishes single outputs, and the same interlocks as in a job permit or refuse each wish.

import { isFinished } from './chart-state.ts';
import { judge } from './guard.ts';
import { NOTHING_GIVEN } from './interlocks/given-watch.ts';
import { because, type Reason, reasonOf, reasonOfRefusal } from './interlocks/reason.ts';
import { NO_NOTICES, type NoticeDraft } from './notices.ts';
import type { OperatorEvent } from './operator.ts';
import { type Commands, commandsOf, OFF, ON, OUTPUTS, type Output } from './signals.ts';
import { minutes } from './stages/stage.ts';
import type { ControllerState } from './state.ts';
import type { ByHand, Fallen, HandEntry, Wish, Wished } from './wishes.ts';

/** A wish without a time of its own ends after this unless it is renewed: nobody may be there any more (estimate). */
export const RENEW_MS = 300_000;
/** No wish lasts longer, whatever was asked for (estimate: a long evacuation). */
export const LONGEST_WISH_MS = 3_600_000;
/** Shorter ones are pulses: the rig counts them down, finer than a scan. */
const PULSE_MS = 1_000;

type Worked = { readonly state: ControllerState; readonly notices: readonly NoticeDraft[] };

const told = (state: ControllerState, ...notices: readonly NoticeDraft[]): Worked => ({ state, notices });
const untold = (state: ControllerState): Worked => ({ state, notices: NO_NOTICES });

const entered = (state: ControllerState, ...entries: readonly HandEntry[]): ControllerState => ({
  ...state,
  handJournal: [...state.handJournal, ...entries],
});

function wishing(byHand: ByHand, wishes: readonly Wish[]): ByHand {
  const commands = new Map(wishes.map(({ output, command }) => [output, command]));
  return { ...byHand, wishes, wanted: commandsOf((output) => commands.get(output) ?? OFF) };
}

const without = <T extends { readonly output: Output }>(list: readonly T[], output: Output): readonly T[] =>
  list.filter((one) => one.output !== output);

/** Whoever calls from outside the type checker may send anything: what cannot be read is no wish. */
const isReadable = ({ output, on, offAfterMs }: Wished): boolean =>
  OUTPUTS.includes(output) &&
  typeof on === 'boolean' &&
  (offAfterMs === undefined || (Number.isFinite(offAfterMs) && offAfterMs > 0));

/** Obeys what concerns work by hand, or answers nothing when the event is none of its business. */
export function obeyByHand(
  state: ControllerState,
  event: OperatorEvent,
  events: readonly OperatorEvent[],
  nowMs: number,
): Worked | undefined {
  const { byHand } = state;
  switch (event?.type) {
    case 'by-hand-begun':
      return byHand === undefined ? begin(state, nowMs) : untold(state);
    case 'wished':
      if (!isReadable(event)) return untold(state);
      return byHand === undefined
        ? notByHand(state, event, nowMs)
        : wish(state, byHand, event, events, nowMs);
    case 'paused':
    case 'all-wished-off': {
      if (byHand === undefined) return undefined;
      const idle = { ...wishing(byHand, []), next: [] };
      return untold(entered({ ...state, byHand: idle }, { atMs: nowMs, deed: 'all-off', result: 'done' }));
    }
    case 'by-hand-ended':
    case 'aborted':
      return byHand === undefined ? undefined : end(state, nowMs);
    default:
      return undefined;
  }
}

/**
 * Only while no job runs. A job that stands paused counts as running: it would go on with masses, a vacuum and a hold
 * that no longer are what it measured.
 */
function begin(state: ControllerState, nowMs: number): Worked {
  const refused = { atMs: nowMs, deed: 'begun', result: 'refused' } as const;
  if (!isFinished(state.chart)) return told(entered(state, refused), { code: 'by-hand-refused-in-job' });
  const { trip } = state.memory;
  if (trip !== undefined) {
    const reason = reasonOf('IL-02');
    const notice = { code: 'by-hand-refused-by-trip', with: { reason: trip.reason } } as const;
    return told(entered(state, { ...refused, reason }), notice);
  }
  const wanted = commandsOf(() => OFF);
  const byHand = { sinceMs: nowMs, wishes: [], wanted, fallen: [], next: [] };
  // Nobody knows what has been at the hoses since: what was seen and given before is of no vehicle that is known.
  const memory = { ...state.memory, givenWatch: NOTHING_GIVEN };
  return told(entered({ ...state, byHand, memory }, { atMs: nowMs, deed: 'begun', result: 'done' }), {
    code: 'by-hand-begun',
    with: { minutes: minutes(RENEW_MS) },
  });
}

/** Everything off, and nothing of it remembered but the journal. */
function end(state: ControllerState, nowMs: number): Worked {
  const left = entered({ ...state, byHand: undefined }, { atMs: nowMs, deed: 'ended', result: 'done' });
  return state.memory.engineWatch.engine === 'off'
    ? told(left, { code: 'by-hand-ended' })
    : told(left, { code: 'by-hand-ended' }, { code: 'engine-still-running' });
}

const asked = ({ output, on, offAfterMs }: Wished, nowMs: number) => ({
  atMs: nowMs,
  deed: on ? ('on' as const) : ('off' as const),
  output,
  ...(offAfterMs === undefined ? {} : { offAfterMs }),
});

function notByHand(state: ControllerState, event: Wished, nowMs: number): Worked {
  return told(entered(state, { ...asked(event, nowMs), result: 'refused' }), {
    code: 'wish-not-by-hand',
    with: { output: event.output },
  });
}

function wish(
  state: ControllerState,
  byHand: ByHand,
  event: Wished,
  events: readonly OperatorEvent[],
  nowMs: number,
): Worked {
  const { output, on } = event;
  const others = without(byHand.wishes, output);
  if (!on) {
    const next = without(byHand.next, output);
    return untold(
      entered(
        { ...state, byHand: { ...wishing(byHand, others), next } },
        { ...asked(event, nowMs), result: 'done' },
      ),
    );
  }
  const before = byHand.wishes.find((one) => one.output === output);
  if (before?.command.offAfterMs !== undefined) {
    const next = [...without(byHand.next, output), event];
    return untold({ ...state, byHand: { ...wishing(byHand, others), next } });
  }
  const wished = wishing(byHand, [...others, wishOf(event, nowMs)]);
  const [reason] = reasonsAgainst(state, output, wished.wanted, events, nowMs);
  if (reason !== undefined) {
    const entry = { ...asked(event, nowMs), result: 'refused', reason } as const;
    return told(entered(state, entry), reasonNotice('wish-refused', output, reason));
  }
  const granted = { ...wished, fallen: without(byHand.fallen, output) };
  return untold(entered({ ...state, byHand: granted }, { ...asked(event, nowMs), result: 'permitted' }));
}

const reasonNotice = (code: 'wish-refused' | 'wish-fell', output: Output, reason: Reason): NoticeDraft => ({
  code,
  with: { output, row: reason.row, because: because(reason), remedy: reason.remedy },
});

function wishOf({ output, offAfterMs }: Wished, nowMs: number): Wish {
  const pulse = (offAfterMs ?? Number.POSITIVE_INFINITY) < PULSE_MS;
  return {
    output,
    command: pulse ? { on: true, offAfterMs } : ON,
    untilMs: nowMs + Math.min(offAfterMs ?? RENEW_MS, LONGEST_WISH_MS),
    timed: offAfterMs !== undefined,
  };
}

/** Every row that takes this output away from the wanted word, the first one first; empty is permission. */
function reasonsAgainst(
  state: ControllerState,
  output: Output,
  wanted: Commands,
  events: readonly OperatorEvent[],
  nowMs: number,
): readonly Reason[] {
  if (state.seen === undefined) return [reasonOf('IL-03')];
  const { judged, trip } = judge(state, state.seen, wanted, events, nowMs);
  const refusals = judged.refusals.filter((refusal) => refusal.output === output).map(reasonOfRefusal);
  return trip === undefined ? refusals : [reasonOf(trip.row), ...refusals];
}

/** Why an output would be refused if it were wished now beside what is on; empty when it would be permitted. */
export function whyNot(state: ControllerState, output: Output, nowMs: number): readonly Reason[] {
  const wishes = state.byHand?.wishes ?? [];
  const commands = new Map(wishes.map((one) => [one.output, one.command]));
  const wanted = commandsOf((one) => (one === output ? ON : (commands.get(one) ?? OFF)));
  return reasonsAgainst(state, output, wanted, [], nowMs);
}

/** The wishes whose time is up end. */
export function passTime(state: ControllerState, byHand: ByHand, nowMs: number): Worked {
  const over = byHand.wishes.filter(({ untilMs }) => nowMs >= untilMs);
  if (over.length === 0) return untold(state);
  const kept = byHand.wishes.filter((one) => !over.includes(one));
  const entries = over.map(
    ({ output }) => ({ atMs: nowMs, deed: 'off', result: 'expired', output }) as const,
  );
  const notices = over
    .filter(({ timed }) => !timed)
    .map(
      ({ output }): NoticeDraft => ({ code: 'wish-expired', with: { output, minutes: minutes(RENEW_MS) } }),
    );
  return told(entered({ ...state, byHand: wishing(byHand, kept) }, ...entries), ...notices);
}

/** A trip ends the work by hand. */
export const fallByTrip = (state: ControllerState, row: string, nowMs: number): ControllerState =>
  entered(
    { ...state, byHand: undefined },
    { atMs: nowMs, deed: 'ended', result: 'fell', reason: reasonOf(row) },
  );

/** After the interlocks: what they took away falls for good. Nothing when nothing fell. */
export function heedVerdict(state: ControllerState, nowMs: number): Worked | undefined {
  const { byHand, judged, memory } = state;
  if (byHand === undefined) return undefined;
  if (memory.trip !== undefined) return untold(fallByTrip(state, memory.trip.row, nowMs));
  const lost = byHand.wishes.filter(({ output }) => judged?.permitted[output].on !== true);
  if (lost.length === 0) return undefined;
  const fallen = lost.map(({ output }): Fallen => {
    const refusal = judged?.refusals.find((one) => one.output === output);
    const reason = refusal === undefined ? reasonOf('controller') : reasonOfRefusal(refusal);
    return { output, reason, atMs: nowMs };
  });
  const kept = byHand.wishes.filter((one) => !lost.includes(one));
  const left = { ...wishing(byHand, kept), fallen: [...byHand.fallen, ...fallen] };
  const entries = fallen.map(
    ({ output, reason }) => ({ atMs: nowMs, deed: 'off', result: 'fell', output, reason }) as const,
  );
  const notices = fallen.map(({ output, reason }) => reasonNotice('wish-fell', output, reason));
  return told(entered({ ...state, byHand: left }, ...entries), ...notices);
}
