// From commands to what valves and drives really do: dead times, countdowns and their order in time.
import { type Command, type Commands, OUTPUTS, type Output, VALVES } from '../../controller/signals.ts';
import type { ActiveFaults } from '../faults.ts';
import type { Random } from '../random.ts';
import type { Build } from '../spec.ts';

type Actuator = {
  /** Where it is. */
  on: boolean;
  /** What it has been told, countdown included. */
  told: boolean;
  /** Countdown end of the present on, or Infinity. */
  offAtMs: number;
  /** The countdown has run out: stays off until commanded off. */
  spent: boolean;
  /** Changes under way, in time. */
  pending: { atMs: number; on: boolean }[];
  /** Its contact holds whatever it is told; or it does nothing. */
  welded: boolean;
  dead: boolean;
};

const isValve = (output: Output): boolean => (VALVES as readonly Output[]).includes(output);

export class Actuators {
  readonly #build: Build;
  readonly #random: Random;
  readonly #faults: ActiveFaults;
  readonly #actuators: { readonly [O in Output]: Actuator };
  #nextMs = Number.POSITIVE_INFINITY;
  #held: Commands | undefined;

  constructor(build: Build, random: Random, faults: ActiveFaults) {
    this.#build = build;
    this.#random = random;
    this.#faults = faults;
    this.#actuators = Object.fromEntries(OUTPUTS.map((output) => [output, resting()])) as Record<
      Output,
      Actuator
    >;
  }

  isOn(output: Output): boolean {
    const { on, welded, dead } = this.#actuators[output];
    return (on || welded) && !dead;
  }

  /**
   * To be called after faults have changed. A welded contact holds whatever it is told, but nothing holds without mains
   * or behind an emergency stop, which lies ahead of the contacts.
   */
  heedFaults(): void {
    const faults = this.#faults;
    const supplied = !faults.has('power-lost') && !faults.has('emergency-stop');
    for (const output of OUTPUTS) {
      const actuator = this.#actuators[output];
      actuator.welded = supplied && faults.has('relay-welded', output);
      actuator.dead = faults.has('output-dead', output);
    }
  }

  /**
   * Takes a command word at a time; see `Command` for how a countdown behaves. The same object again says nothing new,
   * and most scans give it.
   */
  command(commands: Commands, nowMs: number): void {
    if (commands === this.#held) return;
    this.#held = commands;
    for (const output of OUTPUTS) this.#tell(output, this.#actuators[output], commands[output], nowMs);
    this.#findNext();
  }

  /** When something will change next, or Infinity. */
  get nextChangeMs(): number {
    return this.#nextMs;
  }

  /** Brings everything up to a time; answers whether anything moved. */
  advance(nowMs: number): boolean {
    if (nowMs < this.#nextMs) return false;
    let moved = false;
    for (const output of OUTPUTS) {
      const actuator = this.#actuators[output];
      if (actuator.told && actuator.offAtMs <= nowMs) {
        actuator.spent = true;
        this.#drive(output, actuator, false, actuator.offAtMs);
      }
      while (actuator.pending.length > 0 && actuator.pending[0]!.atMs <= nowMs) {
        const change = actuator.pending.shift()!;
        moved = moved || actuator.on !== change.on;
        actuator.on = change.on;
      }
    }
    this.#findNext();
    return moved;
  }

  #tell(output: Output, actuator: Actuator, command: Command, nowMs: number): void {
    if (!command.on) {
      actuator.spent = false;
      actuator.offAtMs = Number.POSITIVE_INFINITY;
      if (actuator.told) this.#drive(output, actuator, false, nowMs);
      return;
    }
    if (actuator.spent) return;
    if (command.offAfterMs !== undefined) {
      actuator.offAtMs = Math.min(actuator.offAtMs, nowMs + command.offAfterMs);
    }
    if (!actuator.told) this.#drive(output, actuator, true, nowMs);
  }

  #drive(output: Output, actuator: Actuator, on: boolean, nowMs: number): void {
    actuator.told = on;
    const last = actuator.pending.at(-1);
    const atMs = Math.max(nowMs + this.#deadTimeMs(output), last?.atMs ?? 0);
    actuator.pending.push({ atMs, on });
  }

  #deadTimeMs(output: Output): number {
    if (!isValve(output)) return 0;
    const jitter = this.#build.valveJitterMs * this.#random.normal();
    return Math.max(1, Math.round(this.#build.valveDeadTimeMs + jitter));
  }

  save() {
    return {
      actuators: OUTPUTS.map((output) => copyOf(this.#actuators[output])),
      held: this.#held,
      chance: this.#random.save(),
    };
  }

  restore({ actuators, held, chance }: ReturnType<Actuators['save']>): void {
    for (const [index, output] of OUTPUTS.entries())
      Object.assign(this.#actuators[output], copyOf(actuators[index]!));
    this.#held = held;
    this.#random.restore(chance);
    this.#findNext();
  }

  #findNext(): void {
    let next = Number.POSITIVE_INFINITY;
    for (const output of OUTPUTS) {
      const { pending, told, offAtMs } = this.#actuators[output];
      if (pending.length > 0) next = Math.min(next, pending[0]!.atMs);
      if (told) next = Math.min(next, offAtMs);
    }
    this.#nextMs = next;
  }
}

const resting = (): Actuator => ({
  on: false,
  told: false,
  offAtMs: Number.POSITIVE_INFINITY,
  spent: false,
  pending: [],
  welded: false,
  dead: false,
});

const copyOf = (actuator: Actuator): Actuator => ({
  ...actuator,
  pending: actuator.pending.map((change) => ({ ...change })),
});
