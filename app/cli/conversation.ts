// Talking with the person at the terminal: a status that stays above the typed line while time goes on.
import { clearScreenDown, createInterface, cursorTo, type Interface, moveCursor } from 'node:readline';
import type { Conversation } from './command.ts';
import { inLines } from './hand-words.ts';

const DEFAULT_COLUMNS = 80;
const MARK = '> ';
const columns = (): number => process.stdout.columns || DEFAULT_COLUMNS;

class Talk implements Conversation {
  readonly #readline: Interface;
  readonly #beatMs: number;
  readonly #typed: string[] = [];
  #closed = false;
  #drawn = false;
  #statusRows = 0;
  #wake: (() => void) | undefined;

  constructor(beatMs: number) {
    this.#beatMs = beatMs;
    this.#readline = createInterface({ input: process.stdin, output: process.stdout, terminal: true });
    this.#readline.on('line', (line) => {
      // The cursor stands below the typed line by now; what is typed stays, the status does not.
      this.#takeOff(this.#statusRows + 1 + Math.floor((MARK.length + line.length) / columns()));
      process.stdout.write(`${MARK}${line}\n`);
      this.#typed.push(line);
      this.#wake?.();
    });
    // Ctrl-C and Ctrl-D leave; the command puts the machine away.
    this.#readline.on('SIGINT', () => this.#readline.close());
    this.#readline.on('close', () => {
      this.#takeOff(this.#statusRows);
      this.#closed = true;
      this.#wake?.();
    });
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<string | undefined> {
    while (true) {
      const line = this.#typed.shift();
      if (line !== undefined) yield line;
      else if (this.#closed) return;
      else {
        await this.#somethingOrBeat();
        if (this.#typed.length === 0 && !this.#closed) yield undefined;
      }
    }
  }

  #somethingOrBeat(): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, this.#beatMs);
      this.#wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  show(status: readonly string[]): void {
    if (this.#closed) return;
    const width = columns() - 1;
    const lines = inLines(status, width).map((line) => line.slice(0, width));
    this.#readline.setPrompt([...lines, MARK].join('\n'));
    this.#readline.prompt(true);
    this.#statusRows = lines.length;
    this.#drawn = true;
  }

  print(text: string): void {
    if (!this.#drawn) {
      process.stdout.write(text);
      return;
    }
    const { rows } = this.#readline.getCursorPos();
    this.#takeOff(rows);
    // The redraw goes up by the rows of the last one, so they are put below the text first.
    process.stdout.write(text + '\n'.repeat(rows));
    this.#readline.prompt(true);
    this.#drawn = true;
  }

  /** Takes status and typed line off the screen, from so many rows above the cursor. */
  #takeOff(rows: number): void {
    if (!this.#drawn) return;
    moveCursor(process.stdout, 0, -rows);
    cursorTo(process.stdout, 0);
    clearScreenDown(process.stdout);
    this.#drawn = false;
  }

  close(): void {
    this.#readline.close();
  }
}

export const converse = (beatMs: number): Conversation => new Talk(beatMs);
