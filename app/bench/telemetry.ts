// What is told of a running job to whoever listens: state, progress, readings, outputs, notices. It takes no commands.
import { MEASURED, SWITCHES } from '../../controller/signals.ts';
import type { ScanLoop, ScanSeen } from '../run/loop.ts';
import { onText, sameCommands } from './recorder.ts';
import type { Called } from './recording.ts';

/** One message: its topic below the bench's own, and its content. */
export type Message = {
  readonly topic: 'state' | 'progress' | 'readings' | 'outputs' | 'notice';
  readonly body: { readonly [key: string]: unknown };
  /** Whoever begins to listen later gets the last one. */
  readonly retained: boolean;
  /** It is sent until it has been taken. */
  readonly sure: boolean;
};

const EVERY_MS = 1_000;

export class Telemetry {
  readonly #publish: (message: Message) => void;
  #called: Pick<Called, 'name' | 'rig'> | undefined;
  #nextMs = Number.NEGATIVE_INFINITY;
  #last: ScanSeen | undefined;

  constructor(publish: (message: Message) => void) {
    this.#publish = publish;
  }

  /** Before the first scan. */
  begin(loop: ScanLoop, { name, rig }: Called): void {
    this.#called = { name, rig };
    this.#state('running', { stages: loop.state.plan.stages });
  }

  /** Observes every scan; tells once a second of the job, and at once what has changed in outputs and notices. */
  readonly look = (seen: ScanSeen): void => {
    const { nowMs: atMs, notices, commands } = seen;
    for (const notice of notices)
      this.#publish({ topic: 'notice', body: notice, retained: true, sure: true });
    if (this.#last === undefined || !sameCommands(this.#last.commands, commands))
      this.#publish({ topic: 'outputs', body: { atMs, on: onText(commands) }, retained: true, sure: false });
    this.#last = seen;
    if (atMs < this.#nextMs) return;
    this.#nextMs = (Math.floor(atMs / EVERY_MS) + 1) * EVERY_MS;
    this.#publish({ topic: 'progress', body: { atMs, ...seen.progress }, retained: false, sure: false });
    this.#publish({ topic: 'readings', body: { atMs, ...valuesIn(seen) }, retained: false, sure: false });
  };

  /** The job is over, or was never begun. */
  end(): void {
    if (this.#called !== undefined) this.#state('ended', {});
  }

  #state(state: string, more: Message['body']): void {
    this.#publish({ topic: 'state', body: { state, ...this.#called, ...more }, retained: true, sure: true });
  }
}

/** Each with its unit in its name; null where there is none. */
function valuesIn({ readings }: ScanSeen): { readonly [sensor: string]: number | boolean | null } {
  return Object.fromEntries(
    [...MEASURED, ...SWITCHES].map((name) => {
      const reading = readings[name];
      return [name, reading.ok ? reading.value : null];
    }),
  );
}
