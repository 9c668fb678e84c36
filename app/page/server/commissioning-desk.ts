// Commissioning led from the page: the engine that the command line has, its steps in real time, and what was said of late.
import { existsSync } from 'node:fs';
import type { Reading } from '../../../controller/signals.ts';
import type { Answer, Said, Step } from '../../../hardware/commissioning/engine.ts';
import { standingOf } from '../../../hardware/commissioning/judge.ts';
import type { Line, Question, Seen } from '../../../hardware/commissioning/line.ts';
import { LINES } from '../../../hardware/commissioning/lines/index.ts';
import { whyMissing } from '../../../hardware/commissioning/needs.ts';
import type { EquipmentRecord, Figures, LineId } from '../../../hardware/commissioning/record.ts';
import { OUTPUT_BITS } from '../../../hardware/protocol.ts';
import { FLUID_NAMES } from '../../../sim/fluids/fluid.ts';
import { mayBeTyped } from '../../cli/commission-words.ts';
import type { CommissionedBoard } from '../../rig/commissioned-board.ts';
import { NO_BOARD_SEEN } from '../../rig/commissioned-board.ts';
import { Commissioning } from '../../rig/commissioning.ts';
import { readRecord, writeRecord } from '../../rig/equipment-file.ts';
import type { Asked, BoardView, CommissioningView, LineText, StandingShown, Told } from '../shown-board.ts';

/** Twenty times a second, and a little out of step with a board that tells every 50 ms. */
const STEP_MS = 49;
const MOST_SAID = 40;

export const LINE_TEXTS: readonly LineText[] = LINES.map(({ id, title, why, optional }) => ({
  id,
  title,
  why,
  optional: optional === true,
}));

type DeskParts = {
  readonly file: string;
  readonly calendarMs: () => number;
  readonly boardWith: (facts: Figures) => CommissionedBoard;
};

export class CommissioningDesk {
  readonly #parts: DeskParts;
  #record: EquipmentRecord;
  #running: Commissioning | undefined;
  #last: Step | undefined;
  #asked = 0;
  #answer: Answer | undefined;
  #stepMs = Number.NEGATIVE_INFINITY;
  #said: readonly Said[] = [];
  #problem: string | undefined;

  /** @throws InputError for a file that is there and is no equipment file. */
  constructor(parts: DeskParts) {
    this.#parts = parts;
    this.#record = existsSync(parts.file) ? readRecord(parts.file) : {};
  }

  /** Something is under way. */
  get isRunning(): boolean {
    return this.#running !== undefined;
  }

  get ready(): boolean {
    const nowMs = this.#parts.calendarMs();
    return LINES.every(
      (line) => line.optional === true || standingOf(line, this.#record, nowMs).is === 'standing',
    );
  }

  /** Whatever is missing, failed or expired, or one line alone. */
  begin(only: LineId | undefined): void {
    const { calendarMs, boardWith } = this.#parts;
    this.#said = [];
    this.#problem = undefined;
    this.#running = new Commissioning({
      record: this.#record,
      only,
      refrigerants: FLUID_NAMES,
      startMs: calendarMs(),
      boardWith,
      keep: (record) => this.#keep(record),
    });
  }

  /** A file that cannot be written is told, and nothing goes on. */
  #keep(record: EquipmentRecord): void {
    try {
      writeRecord(this.#parts.file, record);
      this.#record = record;
    } catch (error) {
      const { code, message } = error as NodeJS.ErrnoException;
      this.#problem = `cannot write ${this.#parts.file} (${code ?? message}); everything is off; free some room or give --file another place`;
    }
  }

  /** @param asked the asking that it belongs to. @returns why it is no answer, or nothing. */
  answer(asked: number, text: string): string | undefined {
    if (this.#last?.ask === undefined || asked !== this.#asked) return 'this is not being asked any longer';
    this.#answer = text;
    return undefined;
  }

  go(where: 'back' | 'skip'): string | undefined {
    if (this.#running === undefined) return 'nothing is under way';
    this.#answer = { go: where };
    return undefined;
  }

  /** To be called every 10 ms or so. @returns whether it has come to its end now. */
  beat(nowMs: number): boolean {
    const running = this.#running;
    if (running === undefined || nowMs < this.#stepMs) return false;
    this.#stepMs = nowMs + STEP_MS;
    const answer = this.#answer;
    this.#answer = undefined;
    const before = this.#last?.ask?.id;
    const date = new Date(this.#parts.calendarMs()).toISOString();
    const step = running.turn(nowMs, date, answer);
    this.#last = step;
    if (step.says.length > 0) this.#said = [...this.#said, ...step.says].slice(-MOST_SAID);
    if (step.ask !== undefined && (step.ask.id !== before || answer !== undefined)) this.#asked += 1;
    if (!step.done && this.#problem === undefined) return false;
    this.stop();
    return true;
  }

  /** Everything off, whatever is under way; what came to its verdict is kept. */
  stop(): void {
    this.#running?.putAway();
    this.#running = undefined;
    this.#last = undefined;
    this.#answer = undefined;
  }

  #standing(line: Line, nowMs: number): StandingShown {
    const standing = standingOf(line, this.#record, nowMs);
    const waits = whyMissing(line, this.#record, nowMs);
    return waits === undefined ? standing : { ...standing, waits };
  }

  /** @param portProblem why no board answers, if none does; @param linked whether one does. */
  view(
    portProblem: string | undefined,
    linked: boolean,
  ): Omit<CommissioningView, 'type' | 'control' | 'records' | 'drivable'> {
    const nowMs = this.#parts.calendarMs();
    const problem = this.#problem ?? portProblem;
    const [line] = this.#running?.session.todo ?? [];
    const { ask, leftMs } = this.#last ?? {};
    return {
      ready: this.ready,
      standings: LINES.map((one) => this.#standing(one, nowMs)),
      board: { ...boardView(this.#running?.seen ?? NO_BOARD_SEEN), linked },
      ...(problem === undefined ? {} : { problem }),
      ...(line === undefined
        ? {}
        : {
            under: {
              line,
              ...(ask === undefined ? {} : { ask: askedView(ask, this.#asked) }),
              ...(leftMs === undefined ? {} : { leftS: Math.round(leftMs / 1000) }),
            },
          }),
      said: this.#said,
    };
  }
}

function askedView(question: Question, asked: number): Asked {
  const { id, text, kind } = question;
  const choices = 'choices' in question ? question.choices : [];
  return {
    id,
    text,
    kind,
    asked,
    choices,
    ...('quantity' in question ? { hint: mayBeTyped(question) } : {}),
  };
}

const told = (reading: Reading): Told => (reading.ok ? reading.value : reading.reason);

function boardView({ readings, board: { linked, state, trip, word } }: Seen): BoardView {
  return {
    linked,
    state,
    trip,
    on: OUTPUT_BITS.filter((_, bit) => (word >> bit) & 1),
    highPa: told(readings.highSidePressurePa),
    lowPa: told(readings.lowSidePressurePa),
    tankPa: told(readings.tankPressurePa),
    manifoldPa: told(readings.manifoldPressurePa),
    scaleCounts: told(readings.scaleCounts),
  };
}
