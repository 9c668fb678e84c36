// A real rig behind the page: read all the time, driven only for a job or by hand, in real time, with its record.
import type { Equipment } from '../../../controller/equipment.ts';
import type { Blocker } from '../../../controller/notice.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { planByHand } from '../../../controller/plan.ts';
import { mixingBlockers } from '../../../controller/plan-blockers.ts';
import { openJob } from '../../../controller/scan.ts';
import type { Output } from '../../../controller/signals.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { JobRecorder } from '../../records/recorder.ts';
import { ControlWatch, undrivenText } from '../../rig/control-watch.ts';
import { WEIGHED_ONCE_MORE } from '../../rig/drive.ts';
import type { JobFacts } from '../../run/document.ts';
import { factsOf } from '../../run/ended.ts';
import { SCAN_MS, type ScanSeen } from '../../run/loop.ts';
import type { NamedTicket } from '../../scenario/ticket.ts';
import type { Phase } from '../shown.ts';
import { BeforeJob, type BeforeJobParts } from './before-job.ts';
import { LastWeighing } from './last-weighing.ts';
import type { PanelMachine } from './machine.ts';
import { PageOperator } from './page-operator.ts';
import type { Recordings } from './recordings.ts';
import { Told, Work } from './work.ts';

const BEAT_MS = SCAN_MS / 2;
/** A computer that slept, or was too busy, does not make up for what it missed. */
const LATE_MS = 1_000;

export type RigParts = BeforeJobParts & {
  readonly typedBarometerPa: number;
  /** Until somebody writes the ticket: nothing begins by it. */
  readonly named: NamedTicket;
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
  readonly #before: BeforeJob;
  #named: NamedTicket;
  #written = false;
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
    this.#before = new BeforeJob(parts);
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
    return this.#before.blockers;
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
    this.#before.forget();
  }

  /**
   * @returns the reasons against it; none when the job has begun.
   * @throws StoreProblem when its record cannot be opened: nothing has begun then.
   */
  start(): readonly Blocker[] {
    const { rig, equipment, nowMs } = this.#parts;
    this.#told.clear();
    const recorder = this.#recorder();
    const planned = this.#before.planNow(this.#shown, recorder);
    if (planned === undefined) return this.blockers;
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
    this.#before.forget();
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
    this.#before.see(this.#seen.readings);
    const { phase } = this;
    if (phase === 'job') this.#watch.look();
    if (phase === 'by-hand') this.#lookByHand();
    if (phase === 'ready' && this.#before.isDue(nowMs)) this.#lookAgain(nowMs);
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
    this.#told.clear();
    this.#before.lookAgain(nowMs, this.#shown, () => this.#recorder());
  }

  get #shown() {
    return { ticket: this.ticket, written: this.#written };
  }

  #recorder(): JobRecorder {
    return this.#parts.recorderOf(this.#named, this.equipment, this.#told.tell);
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
