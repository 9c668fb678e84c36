// The journal of one job: what is about to open is on the disk before it does, what was weighed as soon as it is known.
import { deflateSync } from 'node:zlib';
import { netMassKg } from '../../controller/estimates/scale.ts';
import { type Commands, OUTPUTS, type Output, type Readings } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Journal, ScanSeen } from '../run/loop.ts';
import { tracer } from '../run/trace.ts';
import { type Calendar, isoOf } from './calendar.ts';
import { bookedKg, bookFound, bookWeighed, type JobBooking } from './ledger.ts';
import { packState, type Used } from './packed.ts';
import type { Store } from './store.ts';
import { supplyOf } from './vessels.ts';

/** While something is on, scale and pressures are written down so often. */
const MARK_MS = 15_000;
/** A simulated bench stands in the file as it was at most so long ago: while the tank's content moves, and else. */
const MOVING_WORLD_MS = 5_000;
const WORLD_MS = 30_000;
const TRACE_LENGTH = 65_536;

export type JournalParts = {
  readonly store: Store;
  readonly job: number;
  readonly calibration: number;
  readonly tank: number;
  readonly calendar: Calendar;
  /** A simulated bench as it stands, to be put back after a killed process. */
  readonly world?: (() => Uint8Array) | undefined;
  readonly used?: Used;
  /** The first part of the trace that is still to be written. */
  readonly tracePart?: number;
  /** Takes what is wrong with the file, once until it can be written again. */
  readonly failed: (problem: Error) => void;
};

const roundedIn = (readings: Readings, name: 'scaleCounts' | 'highSidePressurePa' | 'lowSidePressurePa') => {
  const reading = readings[name];
  return reading.ok ? Math.round(reading.value) : null;
};

/** Scale as counts: with the calibration of the job they are kilograms, today and with another calibration tomorrow. */
const sensed = (readings: Readings, calibration: number) => ({
  scaleCounts: roundedIn(readings, 'scaleCounts'),
  calibration,
  highSidePa: roundedIn(readings, 'highSidePressurePa'),
  lowSidePa: roundedIn(readings, 'lowSidePressurePa'),
});

const isOn = (commands: Commands): boolean =>
  OUTPUTS.some((output) => commands[output].on && output !== 'fanStop');

const worldEveryMs = ({ chargeValve, recoveryValve }: Commands): number =>
  chargeValve.on || recoveryValve.on ? MOVING_WORLD_MS : WORLD_MS;

export class JobJournal implements Journal {
  readonly #parts: JournalParts;
  #last: ControllerState;
  #pumpMs: number;
  #scanMs: number | undefined;
  #markMs = Number.NEGATIVE_INFINITY;
  #worldMs = Number.NEGATIVE_INFINITY;
  #trace = '';
  #tracePart: number;
  readonly #traced: (seen: ScanSeen) => void;

  constructor(parts: JournalParts, state: ControllerState) {
    this.#parts = parts;
    this.#last = state;
    this.#pumpMs = parts.used?.pumpMs ?? 0;
    this.#tracePart = parts.tracePart ?? 0;
    this.#traced = tracer((text) => {
      this.#trace += text;
    });
  }

  get used(): Used {
    return { pumpMs: this.#pumpMs };
  }

  intend(opening: readonly Output[], commands: Commands, state: ControllerState, readings: Readings): void {
    const outputs = Object.fromEntries(
      opening.map((output) => [output, commands[output].offAfterMs ?? 'until told']),
    );
    this.#write('intent', state.memory.lastScanMs, state, {
      opens: outputs,
      on: OUTPUTS.filter((output) => commands[output].on),
      ...sensed(readings, this.#parts.calibration),
    });
  }

  note(seen: ScanSeen, state: ControllerState): void {
    const { nowMs, commands } = seen;
    if (commands.vacuumPump.on) this.#pumpMs += nowMs - (this.#scanMs ?? nowMs);
    this.#scanMs = nowMs;
    this.#traced(seen);
    const kind = this.#kindOf(seen, state);
    if (kind !== undefined) this.#write(kind, nowMs, state, this.#bodyOf(seen, state));
    else if (nowMs - this.#markMs >= MARK_MS && isOn(commands)) this.#mark(seen, state);
    else if (nowMs - this.#worldMs >= worldEveryMs(commands)) this.saveWorld(nowMs);
  }

  failed(error: unknown): void {
    this.#parts.failed(error instanceof Error ? error : new Error(String(error)));
  }

  /** A step of the job that is not one of the controller's: a choice, an end. */
  say(kind: string, nowMs: number, body: Readonly<Record<string, unknown>>, state = this.#last): void {
    this.#write(kind, nowMs, state, body);
  }

  /** Everything that still waits to be written. */
  flush(): void {
    if (this.#trace === '') return;
    const rows = deflateSync(this.#trace);
    this.#parts.store.run(
      'INSERT INTO traces (job, part, rows) VALUES (?, ?, ?)',
      this.#parts.job,
      this.#tracePart,
      rows,
    );
    this.#tracePart += 1;
    this.#trace = '';
  }

  /** Against what was last written, so that what could not be written is still due. */
  #kindOf({ events }: ScanSeen, state: ControllerState): string | undefined {
    const last = this.#last;
    if (state.ledger.length > last.ledger.length) return 'booked';
    if (state.accounts.weighed !== last.accounts.weighed) return 'weighed';
    if (state.accounts.weighedFirst !== last.accounts.weighedFirst) return 'weighed';
    if (state.accounts.weighedBeforeCharge !== last.accounts.weighedBeforeCharge) return 'weighed';
    if (state.visits !== last.visits || state.chart.value !== last.chart.value) return 'stage';
    if (events.length > 0) return 'said';
    return state.notices.length > last.notices.length ? 'told' : undefined;
  }

  #bodyOf({ readings, events }: ScanSeen, state: ControllerState) {
    const booked = state.ledger.slice(this.#last.ledger.length);
    const told = state.notices.slice(this.#last.notices.length).map(({ code }) => code);
    return {
      ...(events.length === 0 ? {} : { said: events }),
      ...(booked.length === 0 ? {} : { booked }),
      ...(told.length === 0 ? {} : { told }),
      ...sensed(readings, this.#parts.calibration),
    };
  }

  #write(kind: string, nowMs: number, state: ControllerState, body: Readonly<Record<string, unknown>>): void {
    const { store, calendar } = this.#parts;
    const at = isoOf(calendar());
    store.write(() => {
      this.#checkpoint(this.#row(kind, nowMs, { stage: state.chart.value, ...body }, at), state);
      this.#book(state, at);
      this.saveWorld(nowMs);
    });
    this.#last = state;
    this.#markMs = nowMs;
    if (this.#trace.length > TRACE_LENGTH) this.flush();
  }

  #row(kind: string, nowMs: number, body: Readonly<Record<string, unknown>>, at: string): number {
    const { store, job } = this.#parts;
    return store.run(
      'INSERT INTO journal (job, written_at, at_ms, kind, body) VALUES (?, ?, ?, ?, ?)',
      job,
      at,
      Math.round(nowMs),
      kind,
      JSON.stringify(body),
    );
  }

  #checkpoint(row: number, state: ControllerState): void {
    const { store, job } = this.#parts;
    store.run(
      `INSERT INTO checkpoints (job, journal, state) VALUES (?1, ?2, ?3)
         ON CONFLICT (job) DO UPDATE SET journal = ?2, state = ?3`,
      job,
      row,
      packState({ state, used: this.used }),
    );
  }

  #booking(at: string, { equipment, plan }: ControllerState): JobBooking {
    const { store, job, tank, calibration } = this.#parts;
    const cylinder = supplyOf(store, plan.ticket)?.id;
    return { job, tank, calibration, at, refrigerant: equipment.tank.refrigerant, cylinder };
  }

  #book(state: ControllerState, at: string): void {
    const { store, job } = this.#parts;
    const last = this.#last;
    if (last.accounts.weighedFirst === undefined) this.#takeStock(state, at);
    for (const entry of state.ledger.slice(last.ledger.length))
      bookWeighed(store, this.#booking(at, state), entry);
    const { identification } = state.accounts;
    if (identification?.verdict === 'overridden' && last.accounts.identification !== identification)
      store.run(
        'INSERT INTO overrides (job, at_ms, what, reason) VALUES (?, ?, ?, ?)',
        job,
        Math.round(state.memory.lastScanMs),
        `identifier: ${identification.why}`,
        identification.reason,
      );
  }

  /** The tank as the scale finds it, against everything that was booked before. */
  #takeStock(state: ControllerState, at: string): void {
    const { store, job, tank } = this.#parts;
    const { weighedFirst } = state.accounts;
    if (weighedFirst === undefined) return;
    // What this job has purged before it weighed says nothing of how much there was.
    const known =
      store.one('SELECT 1 FROM ledger WHERE vessel = ? AND job IS NOT ? LIMIT 1', tank, job) !== undefined;
    const netKg = netMassKg(weighedFirst.counts, state.equipment) - weighedFirst.offsetKg;
    bookFound(store, this.#booking(at, state), {
      movement: known ? 'unexplained' : 'stock',
      massKg: netKg - bookedKg(store, tank),
      sdKg: weighedFirst.meanSdKg,
      counts: weighedFirst.counts,
      note: known ? 'the scale before a job, less what had been booked' : 'the scale before the first job',
    });
  }

  /** What a draw has counted since it began is in the state: a cut loses no more of it than since the last mark. */
  #mark({ nowMs, readings, commands, progress }: ScanSeen, state: ControllerState): void {
    const at = isoOf(this.#parts.calendar());
    const on = OUTPUTS.filter((output) => commands[output].on);
    const { stage } = progress;
    this.#parts.store.write(() => {
      const body = { stage, on, ...sensed(readings, this.#parts.calibration) };
      this.#checkpoint(this.#row('mark', nowMs, body, at), state);
      this.saveWorld(nowMs);
    });
    this.#markMs = nowMs;
  }

  /** Writes the simulated bench as it stands, where there is one. */
  saveWorld(nowMs: number): void {
    const { store, job, world } = this.#parts;
    if (world === undefined) return;
    store.run(
      `INSERT INTO worlds (job, at_ms, state) VALUES (?1, ?2, ?3)
         ON CONFLICT (job) DO UPDATE SET at_ms = ?2, state = ?3`,
      job,
      Math.round(nowMs),
      world(),
    );
    this.#worldMs = nowMs;
  }
}
