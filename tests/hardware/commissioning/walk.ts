// A builder who works through the lines on a bench: presses, opens, weighs, and types what a reference shows.
import { Commissioning } from '../../../app/rig/commissioning.ts';
import type { Step } from '../../../hardware/commissioning/engine.ts';
import type { EquipmentRecord, LineId } from '../../../hardware/commissioning/record.ts';
import type { MachineBoard } from './bench-board.ts';

/** What is done when something is asked or told, and, for a question, what is typed then. */
export type Hands = { readonly [asked: string]: string | (() => string) };
export type Told = readonly (readonly [RegExp, () => void])[];

const START_MS = Date.parse('2031-05-06T08:00:00.000Z');
const STEP_MS = 97;
/** A person needs so long to do it, and so long again until it is typed; unless the test has little time. */
const USUAL_MS = 1_500;

export type Walk = {
  readonly record: EquipmentRecord;
  readonly said: readonly string[];
  readonly kept: number;
};

export type WalkParts = {
  readonly board: MachineBoard;
  readonly hands: Hands;
  readonly told?: Told;
  readonly record?: EquipmentRecord;
  readonly only?: LineId;
  /** How long the builder takes to do a thing, and again until it is typed. */
  readonly takesMs?: number;
  /** Ends the walk after this many seconds of the bench's time. */
  readonly mostS?: number;
};

class Builder {
  readonly #hands: Hands;
  readonly #told: Told;
  #asked: { readonly id: string; readonly sinceMs: number; typed?: string } | undefined;
  readonly #deeds: { readonly atMs: number; readonly deed: () => void }[] = [];

  readonly #takesMs: number;

  constructor(hands: Hands, told: Told, takesMs: number) {
    this.#hands = hands;
    this.#told = told;
    this.#takesMs = takesMs;
  }

  /** What it types now, having seen the last step. */
  look(step: Step, nowMs: number): string | undefined {
    for (const { kind, text } of step.says)
      for (const [pattern, deed] of this.#told)
        if (kind === 'tell' && pattern.test(text)) this.#deeds.push({ atMs: nowMs + this.#takesMs, deed });
    while (this.#deeds[0] !== undefined && this.#deeds[0].atMs <= nowMs) this.#deeds.shift()!.deed();
    const id = step.ask?.id;
    if (id === undefined) {
      this.#asked = undefined;
      return undefined;
    }
    if (this.#asked?.id !== id) this.#asked = { id, sinceMs: nowMs };
    const waitedMs = nowMs - this.#asked.sinceMs;
    if (waitedMs >= this.#takesMs && this.#asked.typed === undefined) this.#asked.typed = this.#typed(id);
    if (waitedMs < 2 * this.#takesMs) return undefined;
    const { typed } = this.#asked;
    this.#asked = undefined;
    return typed;
  }

  #typed(id: string): string {
    const hand = this.#hands[id] ?? this.#hands[id.replace(/\.[^.]+$/, '.*')] ?? this.#hands['*'];
    if (hand === undefined) throw new Error(`nobody answers ${id}`);
    return typeof hand === 'string' ? hand : hand();
  }
}

/** Works until nothing is left to do. @throws Error where it takes too long. */
export function walk({
  board,
  hands,
  told = [],
  record = {},
  only,
  takesMs = USUAL_MS,
  mostS = 40_000,
}: WalkParts): Walk {
  let kept = 0;
  const commissioning = new Commissioning({
    record,
    only,
    refrigerants: ['R-134a', 'R-1234yf'],
    startMs: START_MS,
    boardWith: (facts) => board.joined(facts),
    keep: () => void kept++,
  });
  const builder = new Builder(hands, told, takesMs);
  const said: string[] = [];
  const endMs = board.nowMs + mostS * 1000;
  let answer: string | undefined;
  for (;;) {
    board.advanceTo(board.nowMs + STEP_MS);
    const { nowMs } = board;
    const step = commissioning.turn(nowMs, new Date(START_MS + nowMs).toISOString(), answer);
    said.push(...step.says.map(({ kind, line, text }) => `${line} ${kind}: ${text}`));
    if (step.done) return { record: commissioning.session.record, said, kept };
    if (nowMs > endMs) throw new Error(`not at an end: ${said.slice(-3).join('\n')} ${step.ask?.id ?? ''}`);
    answer = builder.look(step, nowMs);
  }
}
