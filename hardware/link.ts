// One connection to a board, from the opened port to its loss: handshake, commands with their numbers, losses counted.
import { BoardClock } from './board-clock.ts';
import type { SeenLine } from './fitted.ts';
import { LineCutter } from './lines.ts';
import {
  armLine,
  BOARD_LOSSES,
  type BoardLine,
  type BoardLosses,
  boardLine,
  type Countdowns,
  helloLine,
  LINE_COUNT_WRAPS,
  LOSS_COUNT_WRAPS,
  OUTPUT_BITS,
  PROTOCOL_VERSION,
  setLine,
  unframed,
} from './protocol.ts';

/** `booting`: the board may still be starting. `handshaking`: asked who it is. `ready`: it obeys. `lost`: for good. */
export type LinkState = 'booting' | 'handshaking' | 'ready' | 'lost';

/** Opening a port resets many boards, and a boot loader waits up to two seconds before it lets the program run. */
const BOOT_MS = 2_500;
const ANSWER_MS = 400;
const ASKED_AT_MOST = 5;
/** Eight lines of a board that sends one every 50 ms. */
const SILENT_MS = 400;
/** By then a SEEN line tells whether an ARM was obeyed. */
const OBEYED_MS = 150;
/** Between two scans a command is said once more; a host that has stopped scanning says nothing. */
const REPEAT_MS = 50;

/** What the protocol promises at most, and what a host that speaks every 50 to 100 ms needs at least. */
const EXPIRE_AT_MOST_MS = 250;
const EXPIRE_AT_LEAST_MS = 150;

/** What got lost on this side, and, as the board counts it, on the other. */
export type LinkLosses = {
  readonly long: number;
  readonly crc: number;
  readonly form: number;
  /** Lines with a right check that no version of the protocol that is known here has. */
  readonly unknown: number;
  /** SEEN lines that never arrived, by their count. */
  readonly missed: number;
  readonly board: BoardLosses;
};

export type LinkParts = {
  /** Puts text on the wire. */
  readonly send: (text: string) => void;
  readonly nowMs: number;
};

const NO_BOARD_LOSSES = Object.fromEntries(BOARD_LOSSES.map((loss) => [loss, 0])) as BoardLosses;

export const NO_LINK_LOSSES: LinkLosses = {
  long: 0,
  crc: 0,
  form: 0,
  unknown: 0,
  missed: 0,
  board: NO_BOARD_LOSSES,
};

/** Why a board of this version of the protocol is not driven, or undefined. */
function unfit({ outputs, expireMs, firmware }: Extract<BoardLine, { kind: 'BOARD' }>): string | undefined {
  if (outputs === OUTPUT_BITS.length && expireMs >= EXPIRE_AT_LEAST_MS && expireMs <= EXPIRE_AT_MOST_MS)
    return undefined;
  return `the board (firmware ${firmware}) has ${outputs} outputs and drops them after ${expireMs} ms of silence; this program needs ${OUTPUT_BITS.length}, dropped after ${EXPIRE_AT_LEAST_MS} to ${EXPIRE_AT_MOST_MS} ms; flash hardware/firmware/coldbench.hex`;
}

/** Of two links, one after the other. */
export function addedLosses(one: LinkLosses, other: LinkLosses): LinkLosses {
  const board = BOARD_LOSSES.map((loss) => [loss, one.board[loss] + other.board[loss]]);
  return {
    long: one.long + other.long,
    crc: one.crc + other.crc,
    form: one.form + other.form,
    unknown: one.unknown + other.unknown,
    missed: one.missed + other.missed,
    board: Object.fromEntries(board) as BoardLosses,
  };
}

type Said = {
  readonly word: number;
  readonly countdowns: Countdowns;
  readonly atMs: number;
  repeated: boolean;
};

export class Link {
  readonly #send: (text: string) => void;
  readonly #cutter = new LineCutter();
  #clock = new BoardClock();
  #state: LinkState = 'booting';
  #problem: string | undefined;
  #sinceMs: number;
  #asked = 0;
  #session = 0;
  #sequence = 0;
  #armedBy: { readonly sequence: number; readonly atMs: number } | undefined;
  #seen: SeenLine | undefined;
  #heardAtMs = Number.NEGATIVE_INFINITY;
  #said: Said | undefined;
  #board: Extract<BoardLine, { kind: 'BOARD' }> | undefined;
  #boardLosses: { now: BoardLosses; last: BoardLosses | undefined } = {
    now: NO_BOARD_LOSSES,
    last: undefined,
  };
  #losses = { crc: 0, form: 0, unknown: 0, missed: 0 };

  constructor({ send, nowMs }: LinkParts) {
    this.#send = send;
    this.#sinceMs = nowMs;
  }

  get state(): LinkState {
    return this.#state;
  }

  /** Why it is lost, in one line with the remedy. */
  get problem(): string | undefined {
    return this.#problem;
  }

  /** What the board said of itself. */
  get board() {
    return this.#board;
  }

  /** The newest line of what the board sees. */
  get seen(): SeenLine | undefined {
    return this.#seen;
  }

  get losses(): LinkLosses {
    return { long: this.#cutter.tooLong, ...this.#losses, board: this.#boardLosses.now };
  }

  /** The host's time of a time in the newest line. */
  readonly timeMsOf = (boardMs: number): number => this.#clock.hostMs(boardMs);

  /** As far as is known here: an ARM that is still on its way counts until the board has answered otherwise. */
  get armed(): boolean {
    if (this.#state !== 'ready' || this.#armedBy === undefined) return false;
    if (this.#seen === undefined || this.#seen.obeyed < this.#armedBy.sequence) return true;
    return this.#seen.state === 'armed';
  }

  /** Of the last line that was sent; the board names the last one that it obeyed. */
  get sequence(): number {
    return this.#sequence;
  }

  received(bytes: Uint8Array, nowMs: number): void {
    for (const line of this.#cutter.cut(bytes)) {
      const got = unframed(line);
      if (!got.ok) {
        this.#losses[got.loss]++;
        continue;
      }
      const said = boardLine(got.payload);
      if (said === undefined) this.#losses.unknown++;
      else this.#heed(said, nowMs);
    }
  }

  #heed(line: BoardLine, nowMs: number): void {
    if (this.#state === 'lost') return;
    if (line.kind === 'BOOT') this.#heedBoot(line.cause, nowMs);
    else if (line.kind === 'BOARD') this.#heedBoard(line, nowMs);
    else if (this.#state === 'ready') {
      if (line.kind === 'SEEN') this.#heedSeen(line, nowMs);
      else this.#heedLosses(line);
    }
  }

  #heedBoot(cause: string, nowMs: number): void {
    if (this.#state === 'ready') {
      this.#lose(
        `the board has started anew by itself (${cause}): every output is off; check its supply and wiring, then take control again`,
      );
      return;
    }
    this.#asked = 0;
    this.#ask(nowMs);
  }

  #heedBoard(line: Extract<BoardLine, { kind: 'BOARD' }>, nowMs: number): void {
    if (this.#state !== 'handshaking') return;
    this.#board = line;
    if (line.protocol !== PROTOCOL_VERSION) {
      this.#lose(
        `the board speaks version ${line.protocol} of the protocol (firmware ${line.firmware}) and this program version ${PROTOCOL_VERSION}; flash hardware/firmware/coldbench.hex`,
      );
      return;
    }
    const problem = unfit(line);
    if (problem !== undefined) {
      this.#lose(problem);
      return;
    }
    if (line.session === 0) return;
    this.#session = line.session;
    this.#state = 'ready';
    this.#heardAtMs = nowMs;
  }

  #heedSeen(line: SeenLine, nowMs: number): void {
    if (this.#seen !== undefined)
      this.#losses.missed += (line.count - this.#seen.count - 1 + LINE_COUNT_WRAPS) % LINE_COUNT_WRAPS;
    this.#seen = line;
    this.#heardAtMs = nowMs;
    this.#clock.arrived(line.timeMs, nowMs);
    const armed = this.#armedBy;
    if (armed !== undefined && line.obeyed < armed.sequence && nowMs - armed.atMs > OBEYED_MS)
      this.#armedBy = undefined;
  }

  /** The board's counters wrap, and began before this link: only their differences are believed. */
  #heedLosses({ kind: _, ...counts }: Extract<BoardLine, { kind: 'LOST' }>): void {
    const { now, last } = this.#boardLosses;
    const grown = (loss: keyof BoardLosses): number =>
      last === undefined ? 0 : (counts[loss] - last[loss] + LOSS_COUNT_WRAPS) % LOSS_COUNT_WRAPS;
    const summed = BOARD_LOSSES.map((loss) => [loss, now[loss] + grown(loss)]);
    this.#boardLosses = { now: Object.fromEntries(summed) as BoardLosses, last: counts };
  }

  #ask(nowMs: number): void {
    this.#state = 'handshaking';
    this.#sinceMs = nowMs;
    this.#asked++;
    this.#send(helloLine());
  }

  /** The port has gone, or whoever holds it gives it up. */
  lose(problem: string): void {
    if (this.#state !== 'lost') this.#lose(problem);
  }

  #lose(problem: string): void {
    this.#state = 'lost';
    this.#problem = problem;
    this.#said = undefined;
  }

  /** To be called at least every 50 ms. */
  tick(nowMs: number): void {
    switch (this.#state) {
      case 'booting':
        if (nowMs - this.#sinceMs >= BOOT_MS) this.#ask(nowMs);
        return;
      case 'handshaking':
        if (nowMs - this.#sinceMs < ANSWER_MS) return;
        if (this.#asked < ASKED_AT_MOST) this.#ask(nowMs);
        else
          this.#lose(
            'no answer of a Coldbench board: check that this is the right port, that the board has power, and that hardware/firmware/coldbench.hex is on it',
          );
        return;
      case 'ready':
        if (nowMs - this.#heardAtMs > SILENT_MS)
          this.#lose(
            'the board has fallen silent: check cable and supply; by itself it shuts every valve and stops every drive but the fan',
          );
        else this.#repeat(nowMs);
        return;
      case 'lost':
    }
  }

  #repeat(nowMs: number): void {
    const said = this.#said;
    if (said === undefined || said.repeated || nowMs - said.atMs < REPEAT_MS) return;
    said.repeated = true;
    this.#send(setLine(this.#session, ++this.#sequence, said.word, said.countdowns));
  }

  /** Every output off, and the board obeys from then on; answers whether it could be said. */
  arm(nowMs: number): boolean {
    if (this.#state !== 'ready') return false;
    this.#armedBy = { sequence: ++this.#sequence, atMs: nowMs };
    this.#said = { word: 0, countdowns: [], atMs: nowMs, repeated: false };
    this.#send(armLine(this.#session, this.#sequence));
    return true;
  }

  /** Answers whether it could be said: nothing is written unless the link is ready. */
  set(word: number, countdowns: Countdowns, nowMs: number): boolean {
    if (this.#state !== 'ready') return false;
    this.#said = { word, countdowns, atMs: nowMs, repeated: false };
    this.#send(setLine(this.#session, ++this.#sequence, word, countdowns));
    return true;
  }
}
