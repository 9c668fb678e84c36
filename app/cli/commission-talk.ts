// The talk of commissioning: steps in real time, lines as they are typed or piped, and an end that leaves everything off.
import type { Answer, Step } from '../../hardware/commissioning/engine.ts';
import type { Commissioning } from '../rig/commissioning.ts';
import { type Conversation, RunBroken, type Terminal } from './command.ts';
import { questionText, saidText, statusText } from './commission-words.ts';
import type { CommissioningWorld, JoinedPort } from './commission-world.ts';

const TICK_MS = 10;
/** Twenty times a second, and a little out of step with a board that tells every 50 ms. */
const STEP_MS = 49;
const SHOW_MS = 300;
/** A board boots within three seconds and is asked for two more. */
const NO_BOARD_MS = 15_000;
/** Until a last word has left the port. */
const LEAVES_MS = 100;

const HELP = `    back  to the question before     skip  leave this line, it stays missing
    quit  everything off, go on another time     help  this text
`;

/** What was typed and not yet heeded; a pipe's lines wait until something is asked. */
class Typed {
  readonly #lines: string[] = [];
  readonly #waits: boolean;
  readonly #source: AsyncIterator<string | undefined>;
  #ended = false;

  constructor(lines: AsyncIterable<string | undefined>, waits: boolean) {
    this.#waits = waits;
    this.#source = lines[Symbol.asyncIterator]();
    void this.#read();
  }

  async #read(): Promise<void> {
    for (;;) {
      const { value, done } = await this.#source.next();
      if (done === true) break;
      if (value !== undefined) this.#lines.push(value);
    }
    this.#ended = true;
  }

  /** A pipe that stays open does not keep the program from ending. */
  close(): void {
    void this.#source.return?.();
  }

  /** @param asked something is asked now. */
  next(asked: boolean): string | undefined {
    return asked || !this.#waits ? this.#lines.shift() : undefined;
  }

  /** Nothing more will come, and nothing is left. */
  isOver(asked: boolean): boolean {
    return this.#ended && this.#lines.length === 0 && (asked || !this.#waits);
  }
}

export type TalkParts = {
  readonly commissioning: Commissioning;
  readonly port: JoinedPort;
  readonly terminal: Terminal;
  readonly world: CommissioningWorld;
};

type Heard = { readonly kind: 'quit' } | { readonly kind: 'answer'; readonly answer?: Answer };

class Talk {
  readonly #parts: TalkParts;
  readonly #conversation: Conversation | undefined;
  readonly #typed: Typed;
  #interrupted = false;
  #last: Step | undefined;
  #asked: string | undefined;
  #problem: string | undefined;
  #alone: number | undefined;
  #shownMs = Number.NEGATIVE_INFINITY;
  readonly #stopListening: (() => void) | undefined;

  constructor(parts: TalkParts) {
    this.#parts = parts;
    const { terminal } = parts;
    this.#conversation = terminal.converse?.(SHOW_MS);
    this.#typed = new Typed(this.#conversation ?? terminal.lines(), this.#conversation === undefined);
    this.#stopListening = terminal.onInterrupt?.(() => {
      this.#interrupted = true;
    });
  }

  #print(text: string): void {
    if (this.#conversation === undefined) this.#parts.terminal.out(text);
    else this.#conversation.print(text);
  }

  #listen(): Heard {
    const asked = this.#last?.ask !== undefined;
    if (this.#interrupted || this.#typed.isOver(asked)) return { kind: 'quit' };
    const text = this.#typed.next(asked);
    const word = text?.trim().toLowerCase();
    if (text === undefined) return { kind: 'answer' };
    if (word === 'quit') return { kind: 'quit' };
    if (word === 'skip' || word === 'back') return { kind: 'answer', answer: { go: word } };
    if (word === 'help' || word === '?') this.#print(HELP);
    else if (asked) return { kind: 'answer', answer: text };
    else this.#print('    Nothing is asked now.\n');
    return { kind: 'answer' };
  }

  #tell({ says, ask }: Step, answered: boolean): void {
    for (const said of says) this.#print(saidText(said));
    const id = ask?.id;
    if (ask !== undefined && (id !== this.#asked || answered)) this.#print(questionText(ask));
    this.#asked = id;
  }

  #watchPort(nowMs: number): void {
    const { port, commissioning } = this.#parts;
    const problem = port.problem();
    if (problem !== this.#problem)
      this.#print(problem === undefined ? '    The board answers.\n' : `    The port: ${problem}.\n`);
    this.#problem = problem;
    const idle = !commissioning.seen.board.linked && this.#last?.ask === undefined;
    this.#alone = idle ? (this.#alone ?? nowMs) : undefined;
    if (this.#alone !== undefined && nowMs - this.#alone > NO_BOARD_MS)
      throw new RunBroken(problem ?? 'no board answers; check port, cable and supply');
  }

  #show(nowMs: number): void {
    if (nowMs - this.#shownMs < SHOW_MS) return;
    this.#shownMs = nowMs;
    const { commissioning, port } = this.#parts;
    this.#conversation?.show(statusText(commissioning.seen, port.linked(), this.#last?.leftMs));
  }

  /** Until nothing is left to do, or somebody wants to stop; answers whether it came to its end. */
  async #lead(): Promise<boolean> {
    const { commissioning, port, world } = this.#parts;
    for (let stepMs = world.nowMs(); ; ) {
      const nowMs = world.nowMs();
      port.tick(nowMs);
      if (nowMs >= stepMs) {
        stepMs = nowMs + STEP_MS;
        const heard = this.#listen();
        if (heard.kind === 'quit') return false;
        const date = new Date(world.calendarMs()).toISOString();
        this.#last = commissioning.turn(nowMs, date, heard.answer);
        this.#tell(this.#last, heard.answer !== undefined);
        if (this.#last.done) return true;
        this.#watchPort(nowMs);
        this.#show(nowMs);
      }
      await world.sleep(TICK_MS);
    }
  }

  async run(): Promise<boolean> {
    const { commissioning, port, world } = this.#parts;
    try {
      return await this.#lead();
    } finally {
      commissioning.putAway();
      await world.sleep(LEAVES_MS);
      port.close();
      this.#stopListening?.();
      this.#typed.close();
      this.#conversation?.close();
    }
  }
}

export const talkThrough = (parts: TalkParts): Promise<boolean> => new Talk(parts).run();
