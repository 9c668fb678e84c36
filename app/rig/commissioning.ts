// Commissioning carried out: the engine's steps on a board, each finished line kept at once. Whoever calls has the clock.
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import {
  type Answer,
  beginSession,
  type Session,
  type Step,
  step,
} from '../../hardware/commissioning/engine.ts';
import type { Seen } from '../../hardware/commissioning/line.ts';
import type { EquipmentRecord, Figures, LineId } from '../../hardware/commissioning/record.ts';
import { type CommissionedBoard, NO_BOARD_SEEN } from './commissioned-board.ts';

export type CommissioningParts = {
  readonly record: EquipmentRecord;
  readonly only?: LineId | undefined;
  readonly refrigerants: readonly string[];
  /** The calendar at the start, in milliseconds since 1970. */
  readonly startMs: number;
  /** Called once the facts are known, and anew when they have been typed anew. */
  readonly boardWith: (facts: Figures) => CommissionedBoard;
  /** Called whenever a line has come to its verdict; it must be on disk when this returns. */
  readonly keep: (record: EquipmentRecord) => void;
};

export class Commissioning {
  readonly #parts: CommissioningParts;
  #session: Session;
  #board: CommissionedBoard | undefined;
  #boardFacts: Figures | undefined;

  constructor(parts: CommissioningParts) {
    this.#parts = parts;
    const { record, refrigerants, startMs, only } = parts;
    this.#session = beginSession({
      record,
      refrigerants,
      nowMs: startMs,
      ...(only === undefined ? {} : { only }),
    });
    this.#join();
  }

  get session(): Session {
    return this.#session;
  }

  /** What the board tells now. */
  get seen(): Seen {
    return this.#board?.seen() ?? NO_BOARD_SEEN;
  }

  /** Facts that were never passed name no sensors. */
  #join(): void {
    const { facts } = this.#session.record;
    if (facts?.verdict !== 'passed' || facts.figures === this.#boardFacts) return;
    this.#boardFacts = facts.figures;
    this.#board = this.#parts.boardWith(facts.figures);
  }

  /**
   * One step.
   * @param nowMs of the clock that the board's readings are stamped with.
   * @param date ISO 8601.
   */
  turn(nowMs: number, date: string, answer?: Answer): Step {
    const done = step(this.#session, { seen: this.seen, nowMs, date, answer });
    this.#session = done.session;
    if (done.control === 'take') this.#board?.takeControl();
    if (done.control !== 'silent') this.#board?.apply(done.commands);
    if (done.finished !== undefined) {
      this.#parts.keep(done.session.record);
      this.#join();
    }
    return done;
  }

  /** Everything off, whatever is under way. */
  putAway(): void {
    this.#board?.apply(SAFE_COMMANDS);
  }
}
