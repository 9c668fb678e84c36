// A real rig behind the page: read all the time, driven only for a job or by hand, in real time, with its record.
import { planWithTank, tankAtRest } from '../../../controller/begin.ts';
import type { Equipment } from '../../../controller/equipment.ts';
import type { Blocker } from '../../../controller/notice.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { type Planned, planByHand } from '../../../controller/plan.ts';
import { mixingBlockers } from '../../../controller/plan-blockers.ts';
import { openJob } from '../../../controller/scan.ts';
import type { Output, Readings } from '../../../controller/signals.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { BoardRig } from '../../../hardware/rig.ts';
import { InputError } from '../../cli/command.ts';
import type { JobRecorder } from '../../records/recorder.ts';
import { ControlWatch, undrivenText } from '../../rig/control-watch.ts';
import { WEIGHED_ONCE_MORE } from '../../rig/drive.ts';
import type { JobFacts } from '../../run/document.ts';
import { factsOf } from '../../run/ended.ts';
import { SCAN_MS, type ScanSeen } from '../../run/loop.ts';
import type { FluidData } from '../../run/prepare.ts';
import type { NamedTicket } from '../../scenario/ticket.ts';
import type { Phase } from '../shown.ts';
import { LastWeighing } from './last-weighing.ts';
import type { PanelMachine } from './machine.ts';
import { PageOperator } from './page-operator.ts';
import type { Recordings } from './recordings.ts';
import { against, NO_TICKET } from './rig-blockers.ts';
import { Told, Work } from './work.ts';

/** One reading of the tank may be a spike; the newest of so many are looked at before a job is planned. */
const LOOKS = 9;
/** While nothing has begun, what stands against a job is looked at anew so often. */
const LOOKED_EVERY_MS = 2_000;
const BEAT_MS = SCAN_MS / 2;
/** A computer that slept, or was too busy, does not make up for what it missed. */
const LATE_MS = 1_000;

export type RigParts = {
  readonly rig: BoardRig;
  readonly equipment: Equipment;
  readonly typedBarometerPa: number;
  /** Until somebody writes the ticket: nothing begins by it. */
  readonly named: NamedTicket;
  readonly nowMs: () => number;
  readonly fluids: (refrigerant: string) => FluidData;
  readonly recorderOf: (
    named: NamedTicket,
    equipment: Equipment,
    tell: (text: string) => void,
  ) => JobRecorder;
  /** Where jobs are written down scan for scan. */
  readonly recordings?: Recordings | undefined;
};

export class PanelRig implements PanelMachine {
  readonly operator = new PageOperator();
  readonly faults = [];
  readonly powerLost = false;
  readonly broken = undefined;
  readonly barometerPa: number;
  readonly #parts: RigParts;
  readonly #work: Work;
  readonly #told = new Told();
  readonly #watch: ControlWatch;
  readonly #last: LastWeighing;
  #named: NamedTicket;
  #written = false;
  #looks: readonly Readings[] = [];
  #blockers: readonly Blocker[] = [];
  #lookedMs = Number.NEGATIVE_INFINITY;
  #begun = false;
  #driven = true;
  #dueMs: number;
  #beats = 0;
  #seen: ScanSeen;

  constructor(parts: RigParts) {
    const { rig, equipment, named, nowMs, fluids, typedBarometerPa, recordings } = parts;
    this.#parts = parts;
    this.#named = named;
    this.barometerPa = typedBarometerPa;
    this.#dueMs = nowMs();
    const plan = planByHand(named.ticket, fluids(named.ticket.refrigerant).curve);
    this.#work = new Work(
      { rig, operator: this.operator, look: () => {}, recordings, rigName: `rig '${equipment.name}'` },
      openJob(plan, equipment, nowMs()),
    );
    this.#watch = new ControlWatch(rig, (event) => this.#work.loop.send(event), this.#told.tell);
    this.#last = new LastWeighing(rig);
    this.#seen = this.#work.turn(nowMs());
  }

  get name(): string {
    return this.#named.name;
  }

  get ticket() {
    return this.#named.ticket;
  }

  get ticketWritten(): boolean {
    return this.#written;
  }

  get equipment(): Equipment {
    return this.#parts.equipment;
  }

  get state(): ControllerState {
    return this.#work.state;
  }

  get seen(): ScanSeen {
    return this.#seen;
  }

  get history() {
    return this.#work.history;
  }

  get hold() {
    return this.#work.hold;
  }

  get told(): readonly string[] {
    return this.#told.texts;
  }

  get blockers(): readonly Blocker[] {
    return this.#blockers;
  }

  get recordedJob(): number | undefined {
    return this.#work.recordedJob;
  }

  get undriven(): string | undefined {
    const { undriven } = this.#parts.rig;
    return undriven === undefined || (undriven === 'no-control' && this.isIdle)
      ? undefined
      : undrivenText(undriven);
  }

  get phase(): Phase {
    if (this.state.byHand !== undefined) return 'by-hand';
    if (!this.#begun) return 'ready';
    return this.#seen.progress.ended ? 'ended' : 'job';
  }

  get isIdle(): boolean {
    return this.phase !== 'job' && this.phase !== 'by-hand' && !this.#last.isUnderWay;
  }

  commandedSinceMs(output: Output): number {
    return this.#work.commandedSinceMs(output);
  }

  shows(): undefined {
    return undefined;
  }

  /** Another ticket; `written` by whoever has seen the vehicle, or left over from the one before. */
  ask(named: NamedTicket, written: boolean): void {
    const { equipment, nowMs, fluids } = this.#parts;
    this.#named = named;
    this.#written = written;
    this.#begun = false;
    this.#told.clear();
    const plan = planByHand(named.ticket, fluids(named.ticket.refrigerant).curve);
    this.#work.begin(openJob(plan, equipment, nowMs()));
    this.#seen = this.#work.turn(nowMs());
    this.#lookedMs = Number.NEGATIVE_INFINITY;
  }

  /**
   * @returns the reasons against it; none when the job has begun.
   * @throws StoreProblem when its record cannot be opened: nothing has begun then.
   */
  start(): readonly Blocker[] {
    const { rig, equipment, nowMs } = this.#parts;
    this.#told.clear();
    const planned = this.#planned();
    const recorder = this.#recorder(this.#told.tell);
    this.#blockers = [...this.#unwritten(), ...against(planned), ...recorder.blockers()];
    if (planned === undefined || !planned.ok || this.#blockers.length > 0) return this.#blockers;
    const state = openJob(planned.plan, equipment, nowMs());
    this.#last.clear();
    this.#work.begin(state, { name: this.name, recorder, tell: this.#told.tell });
    rig.takeControl();
    this.#begun = true;
    this.#seen = this.#work.turn(nowMs());
    return [];
  }

  /** The operator goes on: where the board was lost or tripped, control is taken anew first. */
  goOn(): string | undefined {
    if (this.#parts.rig.undriven === undefined) {
      this.send({ type: 'resumed' });
      return undefined;
    }
    return this.#watch.goOn() ? undefined : 'there is no board to go on with yet';
  }

  /** The server ends: nobody waits for a weighing any more. */
  hurry(): void {
    this.#last.hurry();
  }

  /** @returns why not, or nothing. */
  beginByHand(): string | undefined {
    if (!this.#written) return 'write the ticket of the vehicle first: the charge is limited by it';
    const [mixing] = mixingBlockers(this.ticket, this.equipment);
    if (mixing !== undefined) return `${mixing.text} ${mixing.remedy}`;
    this.#parts.rig.takeControl();
    this.#driven = true;
    this.send({ type: 'by-hand-begun' });
    return undefined;
  }

  /** Whoever ends it may go to another vehicle, which has a label of its own. */
  endByHand(): void {
    if (this.state.byHand !== undefined) this.#written = false;
    this.send({ type: 'by-hand-ended' });
  }

  send(event: OperatorEvent): void {
    this.#work.loop.send(event);
  }

  recordsChanged(): void {
    this.#lookedMs = Number.NEGATIVE_INFINITY;
  }

  /** Two beats a scan. @returns milliseconds until the next. */
  beat(): number {
    const { rig, nowMs } = this.#parts;
    const now = nowMs();
    if (now < this.#dueMs) return this.#dueMs - now;
    if (now - this.#dueMs > LATE_MS) this.#dueMs = now;
    this.#dueMs += BEAT_MS;
    rig.tick();
    if (this.#beats % 2 === 0) this.#scan(now);
    this.#beats += 1;
    return Math.max(this.#dueMs - nowMs(), 0);
  }

  #scan(nowMs: number): void {
    this.#seen = this.#work.turn(nowMs);
    this.#looks = [...this.#looks, this.#seen.readings].slice(-LOOKS);
    const { phase } = this;
    if (phase === 'job') this.#watch.look();
    if (phase === 'by-hand') this.#lookByHand();
    if (phase === 'ready' && nowMs - this.#lookedMs >= LOOKED_EVERY_MS) this.#lookAgain(nowMs);
    if (phase === 'ended' && this.#work.isUnsettled) this.#settle(nowMs);
  }

  /** A job that has ended: what it has left off is weighed, and its record closed. */
  #settle(nowMs: number): void {
    if (this.#last.turn(this.state, nowMs)) {
      this.#told.tell(WEIGHED_ONCE_MORE);
      return;
    }
    this.#told.forget(WEIGHED_ONCE_MORE);
    // The next vehicle has a label of its own.
    this.#written = false;
    const problem = this.#work.settle((state) => this.#facts(state), false);
    if (problem !== undefined) this.#told.tell(problem);
  }

  /** Work by hand ends when commands no longer reach the machine. */
  #lookByHand(): void {
    const { undriven } = this.#parts.rig;
    if (undriven !== undefined && this.#driven) {
      this.#told.tell(undrivenText(undriven));
      this.send({ type: 'by-hand-ended' });
    }
    this.#driven = undriven === undefined;
  }

  #lookAgain(nowMs: number): void {
    this.#lookedMs = nowMs;
    this.#told.clear();
    this.#blockers = [...this.#unwritten(), ...against(this.#planned()), ...this.#recordBlockers()];
  }

  /** What the vehicle's label says, nobody but a person has read. */
  #unwritten(): readonly Blocker[] {
    return this.#written ? [] : [NO_TICKET];
  }

  /** Records that cannot be read stand against a job as well. */
  #recordBlockers(): readonly Blocker[] {
    try {
      return this.#recorder(this.#told.tell).blockers();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return [{ code: 'records-unread', text: 'The records can not be read.', remedy: error.message }];
    }
  }

  #recorder(tell: (text: string) => void): JobRecorder {
    return this.#parts.recorderOf(this.#named, this.#parts.equipment, tell);
  }

  #planned(): Planned | undefined {
    const { rig, equipment, fluids, nowMs } = this.#parts;
    const [first, ...more] = this.#looks;
    if (first === undefined || more.length < LOOKS - 1 || rig.connection.link.state !== 'ready')
      return undefined;
    const tank = tankAtRest([first, ...more], equipment, fluids(equipment.tank.refrigerant).curve, nowMs());
    return planWithTank(this.ticket, equipment, fluids(this.ticket.refrigerant).curve, tank);
  }

  #facts(state: ControllerState): JobFacts {
    const { opened, losses } = this.#parts.rig.connection;
    const { afterStop } = this.#last;
    return {
      ...factsOf(state, this.ticket),
      ...(afterStop === undefined ? {} : { afterStop }),
      line: { opened, losses },
    };
  }
}
