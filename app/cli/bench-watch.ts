// What a command that runs a job on the simulated bench shows of it, has written down or sent meanwhile; Ctrl-C ends the job.
import type { Called } from '../bench/recording.ts';
import type { Observer, Pacing, ScanLoop } from '../run/loop.ts';
import type { Units } from '../units.ts';
import type { Terminal } from './command.ts';
import { LiveView } from './live.ts';
import { Watch } from './watch.ts';

export const wallClockMs = (): number => performance.now();
const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

export class BenchWatch {
  readonly #terminal: Terminal;
  /** None where only a document is wanted. */
  readonly view: LiveView | undefined;
  #watch: Watch | undefined;
  #stopListening: (() => void) | undefined;

  constructor(terminal: Terminal, units: Units, json: boolean) {
    this.#terminal = terminal;
    this.view = json ? undefined : new LiveView(terminal, units, wallClockMs);
  }

  readonly tell = (text: string): void =>
    this.view === undefined ? this.#terminal.err(`${text}\n`) : this.view.tell(text);

  /** @throws InputError as `Watch.open`. */
  async open(values: ReadonlyMap<string, string>, jobPath: string | undefined): Promise<void> {
    this.#watch = await Watch.open(values, jobPath, this.tell);
  }

  get observers(): readonly Observer[] {
    const { view } = this;
    const shown: readonly Observer[] = view === undefined ? [] : [(seen) => view.look(seen)];
    return [...shown, ...(this.#watch?.observers ?? [])];
  }

  readonly pacing: Pacing = {
    wallClockMs,
    breathe: async () => {
      this.view?.redraw();
      await nextTurn();
      await this.#watch?.settle();
    },
  };

  /** Before the first scan. */
  begin(loop: ScanLoop, called: Called): void {
    this.#watch?.begin(loop, called);
    this.#stopListening = this.#terminal.onInterrupt?.(() => loop.send({ type: 'aborted' }));
  }

  async close(): Promise<void> {
    this.#stopListening?.();
    await this.#watch?.close();
  }
}
