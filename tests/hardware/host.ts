// A host for tests, at the other end of an emulated board's line: sends, gathers lines, keeps session and numbers.
import { readFileSync } from 'node:fs';
import { type BoardOptions, createBoard, type EmulatedBoard } from '../../hardware/emulator/board.ts';
import { armLine, type BoardLine, boardLine, helloLine, setLine, unframed } from '../../hardware/protocol.ts';

export const FIRMWARE = readFileSync(
  new URL('../../hardware/firmware/coldbench.hex', import.meta.url),
  'utf8',
);

/** Time of a byte at 250,000 baud. */
const BYTE_MS = 0.04;

const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (char) => char.charCodeAt(0));

export type Arrived = { readonly line: BoardLine; readonly timeMs: number };
type Kind = BoardLine['kind'];
type Of<K extends Kind> = Extract<BoardLine, { kind: K }>;

export class Host {
  readonly board: EmulatedBoard;
  /** Every line that came, with the time of its last byte. */
  readonly arrived: Arrived[] = [];
  /** Every change of the outputs. */
  readonly edges: { readonly word: number; readonly timeMs: number }[] = [];
  session = 0;
  number = 0;
  private text = '';

  constructor(options: Partial<BoardOptions> = {}) {
    this.board = createBoard({ hex: FIRMWARE, ...options });
    this.board.onSend((byte, timeUs) => this.take(String.fromCharCode(byte), timeUs / 1000));
    this.board.onOutputs((word, timeUs) => this.edges.push({ word, timeMs: timeUs / 1000 }));
    this.board.powerOn();
    // The first sums of the analog inputs take 50 ms, and no SEEN goes out before.
    this.wait(60);
  }

  private take(char: string, timeMs: number): void {
    if (char !== '\n') {
      this.text += char;
      return;
    }
    const got = unframed(this.text);
    const line = got.ok ? boardLine(got.payload) : undefined;
    // A line that a reset cut off is followed by the first of the new life.
    if (line !== undefined) this.arrived.push({ line, timeMs });
    this.text = '';
  }

  wait(ms: number): void {
    this.board.advanceTo(this.board.timeMs + ms);
  }

  /** Sends a text and waits until its last byte is there. */
  send(text: string): void {
    this.board.receive(bytesOf(text));
    this.wait(text.length * BYTE_MS);
  }

  last<K extends Kind>(kind: K): Of<K> {
    const found = this.arrived.findLast(({ line }) => line.kind === kind);
    if (found === undefined) throw new Error(`no ${kind} has come`);
    return found.line as Of<K>;
  }

  of<K extends Kind>(kind: K): readonly Of<K>[] {
    return this.arrived.flatMap(({ line }) => (line.kind === kind ? [line as Of<K>] : []));
  }

  /** What the board says when it is asked: these lines are newer than the question. */
  ask(): { board: Of<'BOARD'>; seen: Of<'SEEN'>; lost: Of<'LOST'> } {
    this.wait(15);
    this.send('?\n');
    this.wait(20);
    return { board: this.last('BOARD'), seen: this.last('SEEN'), lost: this.last('LOST') };
  }

  hello(): void {
    this.send(helloLine());
    this.wait(15);
    this.session = this.last('BOARD').session;
    this.number = 0;
  }

  arm(): void {
    this.send(armLine(this.session, ++this.number));
    this.wait(2);
  }

  set(word: number, countdowns: Parameters<typeof setLine>[3] = []): void {
    this.send(setLine(this.session, ++this.number, word, countdowns));
  }

  /** Sends the same word again and again, 100 ms apart, so that it stays. */
  hold(word: number, ms: number): void {
    const end = this.board.timeMs + ms;
    while (this.board.timeMs < end) {
      this.set(word);
      this.wait(Math.min(100, Math.max(end - this.board.timeMs, 0)));
    }
  }

  /** From power-on to outputs that are on. */
  drive(word: number): void {
    this.hello();
    this.arm();
    this.set(word);
    this.wait(3);
  }

  /** Time of the first change to `word` after `sinceMs`. */
  changedTo(word: number, sinceMs: number): number {
    const edge = this.edges.find((each) => each.timeMs >= sinceMs && each.word === word);
    if (edge === undefined) throw new Error(`outputs never became ${word.toString(16)}`);
    return edge.timeMs;
  }
}
