// The person at a real machine, at a terminal: what is typed goes to the controller, what the machine asks is shown.
import type { OperatorEvent, Prompt } from '../../controller/operator.ts';
import type { ControlWatch } from '../rig/control-watch.ts';
import type { Observer, ScanLoop, ScanSeen } from '../run/loop.ts';
import { toldIn } from '../told.ts';
import { clock, type Units } from '../units.ts';
import { type Conversation, InputError, type Terminal } from './command.ts';
import { JOB_LINES_HELP, jobLine } from './job-lines.ts';
import { LiveView, statusLine } from './live.ts';

const BEAT_MS = 250;
const INDENT = ' '.repeat(10);

export class JobDesk {
  readonly #terminal: Terminal;
  readonly #units: Units;
  readonly #view: LiveView;
  readonly #conversation: Conversation | undefined;
  #lines: AsyncIterator<string> | undefined;
  #loop: ScanLoop | undefined;
  /** What was said before there was a job. */
  #early: readonly OperatorEvent[] = [];
  #hurries = false;
  #watch: ControlWatch | undefined;
  #seen: ScanSeen | undefined;
  #asked: Prompt | undefined;

  constructor(terminal: Terminal, units: Units) {
    this.#terminal = terminal;
    this.#units = units;
    this.#conversation = terminal.converse?.(BEAT_MS);
    const shown: Terminal = { ...terminal, interactive: false, out: (text) => this.print(text) };
    this.#view = new LiveView(shown, units, () => 0);
  }

  print(text: string): void {
    if (this.#conversation === undefined) this.#terminal.out(text);
    else this.#conversation.print(text);
  }

  readonly tell = (text: string): void => {
    const time = this.#seen === undefined ? '' : clock(this.#seen.nowMs);
    this.print(`${time.padStart(8)}  ${text}\n`);
    if (this.#watch?.undriven !== undefined && this.#loop?.ended === false)
      this.print(`${INDENT}→ write 'go on' when it is in order\n`);
  };

  begin(loop: ScanLoop, watch: ControlWatch): void {
    this.#loop = loop;
    this.#watch = watch;
    for (const event of this.#early) loop.send(event);
  }

  /** Somebody wants to leave although the job is over: nothing more is waited for. */
  readonly hurries = (): boolean => this.#hurries;

  #say(event: OperatorEvent): void {
    if (this.#loop === undefined) this.#early = [...this.#early, event];
    else this.#loop.send(event);
    this.#hurries ||= event.type === 'aborted' && this.#loop?.ended === true;
  }

  readonly look: Observer = (seen) => {
    this.#seen = seen;
    this.#view.look(seen);
    const { prompt } = this.#loop?.state ?? {};
    if (prompt !== undefined && prompt.askedAtMs !== this.#asked?.askedAtMs)
      this.print(`${INDENT}The machine will see: ${toldIn(this.#units, prompt.evidence)}\n`);
    this.#asked = prompt;
  };

  show(): void {
    if (this.#seen !== undefined) this.#conversation?.show([statusLine(this.#seen, this.#units)]);
  }

  heed(typed: string): void {
    try {
      const line = jobLine(typed, this.#loop?.state.prompt);
      if (line?.kind === 'say') this.#say(line.event);
      else if (line?.kind === 'help') this.print(JOB_LINES_HELP);
      else if (line?.kind === 'go-on') this.#goOn();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.print(`${INDENT}${error.message}\n`);
    }
  }

  #goOn(): void {
    if (this.#watch === undefined) {
      this.tell('Not yet: the machine is still being read. Say it again when the job stands.');
      return;
    }
    if (this.#loop?.state.memory.trip !== undefined) this.#loop.send({ type: 'reset' });
    if (!this.#watch.goOn()) this.tell('There is no board to go on with yet.');
  }

  abort(): void {
    this.#say({ type: 'aborted' });
  }

  /** Until there is nothing more to be typed. */
  async listen(): Promise<void> {
    if (this.#conversation === undefined) {
      const lines = this.#terminal.lines()[Symbol.asyncIterator]();
      this.#lines = lines;
      for (let line = await lines.next(); line.done !== true; line = await lines.next())
        this.heed(line.value);
      return;
    }
    for await (const typed of this.#conversation) {
      if (typed !== undefined) this.heed(typed);
      this.show();
    }
    this.abort();
  }

  /** Nothing more is listened to; an input that stays open keeps no process alive. */
  close(): void {
    this.#conversation?.close();
    void this.#lines?.return?.();
  }
}
