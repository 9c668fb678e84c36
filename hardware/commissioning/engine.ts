// Leads through the lines of commissioning, one after the other: pure, so that a terminal and a page drive it alike.
import { type Commands, type Output, SAFE_COMMANDS } from '../../controller/signals.ts';
import { fittedOutputs } from './facts.ts';
import { recordOf, stillStanding } from './finished.ts';
import { permitted } from './guard.ts';
import { standingOf } from './judge.ts';
import type { Known, Line, Move, MoveMemory, Outcome, Question, Seen, Turn, Wish } from './line.ts';
import { LINES, lineOf } from './lines/index.ts';
import { asked } from './moves.ts';
import { whyNotRun } from './needs.ts';
import type { EquipmentRecord, Figures, LineId } from './record.ts';

/** What the operator answers: words, or where to go. */
export type Answer = string | { readonly go: 'back' | 'skip' };

type Under = {
  readonly move: number;
  readonly memory: MoveMemory;
  readonly figures: Figures;
  readonly begun: boolean;
};

/** Plain data: it can be saved and compared. */
export type Session = {
  readonly record: EquipmentRecord;
  /** What is still to be done; the first is under way. */
  readonly todo: readonly LineId[];
  readonly under: Under | undefined;
  readonly declaredEmpty: boolean;
  /** Since when what is wanted could not be driven. */
  readonly hinderedSinceMs: number | undefined;
  readonly refrigerants: readonly string[];
};

export type Said = {
  readonly kind: 'begins' | 'tell' | 'problem' | 'passed' | 'failed' | 'held-up';
  readonly line: LineId;
  readonly text: string;
};

export type Step = {
  readonly session: Session;
  readonly commands: Commands;
  /** `take`: the rig is to be taken under control anew; `silent`: nothing is to be said to it. */
  readonly control: 'drive' | 'take' | 'silent';
  readonly ask?: Question;
  /** How long it takes until something is asked or the line ends, where that is known. */
  readonly leftMs?: number;
  readonly says: readonly Said[];
  /** The record has changed and is to be kept. */
  readonly finished?: LineId;
  readonly done: boolean;
};

export type SessionParts = {
  readonly record: EquipmentRecord;
  readonly refrigerants: readonly string[];
  readonly nowMs: number;
  /** Only this one, whatever the record says of it. */
  readonly only?: LineId;
};

/**
 * Whatever is missing, failed or expired, in order; optional lines only where they are asked for.
 * @param nowMs of the calendar, as dates are.
 */
export function beginSession({ record, refrigerants, nowMs, only }: SessionParts): Session {
  const todo =
    only === undefined
      ? LINES.filter(
          (line) => line.optional !== true && standingOf(line, record, nowMs).is !== 'standing',
        ).map(({ id }) => id)
      : [only];
  return { record, todo, under: undefined, declaredEmpty: false, hinderedSinceMs: undefined, refrigerants };
}

const HINDERED_MS = 500;
const NOTHING_YET: Figures = {};

const drives = (line: Line): boolean => Object.keys(line.mayDrive).length > 0;
const needsBoard = ({ id }: Line): boolean => id !== 'facts';

const EMPTY: Move = asked(
  {
    id: 'machine-empty',
    kind: 'yes-no',
    text: 'Is there no refrigerant in hoses, manifold, separator, condenser and tank, and no pressure above that of the room?',
  },
  (yes) =>
    yes === true
      ? {}
      : {
          failed:
            'the machine is not empty: recover its refrigerant with another machine, open it to the room, and repeat',
        },
);

function knownOf(session: Session, figures: Figures): Known {
  const of = (line: LineId): Figures => session.record[line]?.figures ?? NOTHING_YET;
  return { figures, facts: of('facts'), of, refrigerants: session.refrigerants };
}

/** The operator's word that the machine is empty comes first, once in a session. */
function movesOf(line: Line, session: Session, figures: Figures): readonly Move[] {
  const moves = line.moves(knownOf(session, figures));
  return asksWhetherEmpty(line) ? [EMPTY, ...moves] : moves;
}

/** Stays where it is once it has been answered, so that moves keep their places. */
const asksWhetherEmpty = (line: Line): boolean => drives(line) && line.withRefrigerant !== true;

const freshMemory = (nowMs: number): MoveMemory => ({ sinceMs: nowMs, samples: [] });

type Given = {
  readonly seen: Seen;
  /** Of the same clock as the readings. */
  readonly nowMs: number;
  /** ISO 8601. */
  readonly date: string;
  readonly answer?: Answer | undefined;
};

const quiet = (session: Session, said: readonly Said[] = []): Step => ({
  session,
  commands: SAFE_COMMANDS,
  control: 'drive',
  says: said,
  done: session.todo.length === 0,
});

/** One step, ten times a second or more. */
export function step(session: Session, given: Given): Step {
  const [id] = session.todo;
  if (id === undefined) return quiet(session);
  const line = lineOf(id);
  if (given.answer !== undefined && typeof given.answer !== 'string')
    return given.answer.go === 'skip' ? skip(session) : back(session, line, given.nowMs);
  if (session.under === undefined) return begin(session, line, given);
  return work(session, line, session.under, given);
}

const skip = (session: Session): Step =>
  quiet({ ...session, todo: session.todo.slice(1), under: undefined, hinderedSinceMs: undefined });

/** It is not run now, and what the record says of it stays. */
const heldUp = (session: Session, line: Line, text: string): Step => {
  const { says: _, ...without } = skip(session);
  return { ...without, says: [{ kind: 'held-up', line: line.id, text }] };
};

/** To the question before this one; from the first question the line begins anew. */
function back(session: Session, line: Line, nowMs: number): Step {
  const { under } = session;
  if (under === undefined) return quiet(session);
  const moves = movesOf(line, session, under.figures);
  const first = asksWhetherEmpty(line) ? 1 : 0;
  let move = under.move - 1;
  while (move > first && moves[move]?.asks !== true) move--;
  const to = Math.max(first, Math.min(move, under.move));
  const taken: Under = { ...under, move: to, memory: freshMemory(nowMs), begun: false };
  return quiet({ ...session, under: taken, hinderedSinceMs: undefined });
}

function begin(session: Session, line: Line, { seen, nowMs, date }: Given): Step {
  const waits = whyNotRun(line, session.record, Date.parse(date));
  if (waits !== undefined) return heldUp(session, line, waits);
  if (needsBoard(line) && !seen.board.linked) return quiet(session);
  const move = asksWhetherEmpty(line) && session.declaredEmpty ? 1 : 0;
  const under: Under = { move, memory: freshMemory(nowMs), figures: NOTHING_YET, begun: false };
  return {
    ...quiet({ ...session, under, hinderedSinceMs: undefined }, [
      { kind: 'begins', line: line.id, text: line.title },
    ]),
    control: 'take',
  };
}

function work(session: Session, line: Line, under: Under, given: Given): Step {
  const { nowMs } = given;
  const moves = movesOf(line, session, under.figures);
  const move = moves[under.move];
  if (move === undefined) return finish(session, line, under.figures, undefined, given.date);
  const says: Said[] =
    under.begun || move.tell === undefined ? [] : [{ kind: 'tell', line: line.id, text: move.tell }];
  const begun: Under = { ...under, begun: true };
  if (!under.begun && move.takesControl === true)
    return { ...quiet({ ...session, under: begun }, says), control: 'take' };
  const answer = typeof given.answer === 'string' ? given.answer : undefined;
  const turn: Turn = { seen: given.seen, nowMs, answer };
  const outcome = move.step(begun.memory, turn);
  if (outcome.kind === 'fail' && move === EMPTY) return heldUp(session, line, outcome.why);
  if (outcome.kind === 'fail')
    return finish(session, line, { ...under.figures, ...outcome.figures }, outcome.why, given.date);
  if (outcome.kind === 'end')
    return finish(session, line, { ...under.figures, ...outcome.figures }, undefined, given.date);
  const declaredEmpty = session.declaredEmpty || (move === EMPTY && outcome.kind === 'next');
  const next: Under =
    outcome.kind === 'next'
      ? {
          move: under.move + 1,
          memory: freshMemory(nowMs),
          figures: { ...under.figures, ...outcome.figures },
          begun: false,
        }
      : { ...begun, memory: { ...begun.memory, samples: outcome.samples ?? begun.memory.samples } };
  if (outcome.kind === 'next' && outcome.tell !== undefined)
    says.push({ kind: 'tell', line: line.id, text: outcome.tell });
  if (outcome.kind === 'stay' && outcome.problem !== undefined)
    says.push({ kind: 'problem', line: line.id, text: outcome.problem });
  const driven = drive({ ...session, under: next, declaredEmpty }, line, outcome, given, says);
  if (driven.finished === undefined && outcome.kind === 'stay')
    return { ...driven, ...leftOf(moves.slice(under.move), nowMs - begun.memory.sinceMs) };
  return answeredAfterSilence(move, outcome, given.seen) ? { ...driven, control: 'take' } : driven;
}

/** Of these moves, the first of which has been under way for so long, up to the first that asks. */
function leftOf(moves: readonly Move[], pastMs: number): Pick<Step, 'leftMs'> {
  const end = moves.findIndex(({ asks }) => asks);
  const waits = end === -1 ? moves : moves.slice(0, end);
  const allMs = waits.reduce((sum, { lastsMs = Number.NaN }) => sum + lastsMs, 0);
  return waits.length === 0 || Number.isNaN(allMs) ? {} : { leftMs: Math.max(0, allMs - pastMs) };
}

/** A computer that slept while it asked let the board go; who answers is there to take it again. */
const answeredAfterSilence = (move: Move, { kind }: Outcome, { board }: Seen): boolean =>
  move.asks && kind === 'next' && board.state === 'tripped' && board.trip === 'link-lost';

type GoingOn = Extract<Outcome, { kind: 'stay' | 'next' }>;

const wanted = ({ on }: GoingOn): readonly Wish[] => on ?? [];

/** What the guard refuses fails the line at once: no output chatters at a limit. A board needs a moment to arm. */
function drive(session: Session, line: Line, outcome: GoingOn, given: Given, says: readonly Said[]): Step {
  const { seen, nowMs, date } = given;
  const ask = outcome.kind === 'stay' ? outcome.ask : undefined;
  const { commands, refused } = permitted({
    line,
    wishes: wanted(outcome),
    fitted: fittedOf(session),
    seen,
    declaredEmpty: session.declaredEmpty,
    waits: ask !== undefined,
  });
  const figures = session.under?.figures ?? NOTHING_YET;
  if (refused[0] !== undefined) return finish(session, line, figures, refused[0], date);
  const hindered = wanted(outcome).length === 0 ? undefined : undrivable(seen);
  const sinceMs = hindered === undefined ? undefined : (session.hinderedSinceMs ?? nowMs);
  if (hindered !== undefined && nowMs - sinceMs! > HINDERED_MS)
    return finish(session, line, figures, hindered, date);
  return {
    session: { ...session, hinderedSinceMs: sinceMs },
    commands,
    control: outcome.kind === 'stay' && outcome.silent === true ? 'silent' : 'drive',
    ...(ask === undefined ? {} : { ask }),
    says,
    done: false,
  };
}

const undrivable = ({ board }: Seen): string | undefined =>
  board.state === 'tripped' ? `the board has tripped: ${board.trip}` : undefined;

const fittedOf = (session: Session): readonly Output[] =>
  fittedOutputs(session.record.facts?.figures ?? NOTHING_YET);

function finish(session: Session, line: Line, figures: Figures, why: string | undefined, date: string): Step {
  const found = recordOf(line, figures, why, date);
  const kept = { ...stillStanding(session.record, line, found.figures), [line.id]: found };
  return {
    ...quiet({ ...skip(session).session, record: kept }, [
      { kind: found.verdict, line: line.id, text: found.why ?? line.title },
    ]),
    finished: line.id,
  };
}
