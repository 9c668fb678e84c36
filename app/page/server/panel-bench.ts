// The bench behind the page: one session, one scan loop, and whatever is wished of both.

import { isLeftOpen } from '../../../controller/after-cut.ts';
import type { Blocker } from '../../../controller/notice.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { planByHand } from '../../../controller/plan.ts';
import { openJob } from '../../../controller/scan.ts';
import type { Output } from '../../../controller/signals.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import type { Bench } from '../../../sim/bench.ts';
import type { Fault } from '../../../sim/faults.ts';
import { StateOutOfRange } from '../../../sim/network/equilibrium.ts';
import type { HandAction } from '../../../sim/spec.ts';
import { lookAfterCut } from '../../run/after-cut.ts';
import type { JobFacts } from '../../run/document.ts';
import { factsOf } from '../../run/ended.ts';
import { FaultSchedule, powerWasLost } from '../../run/faults.ts';
import { SCAN_MS, type ScanSeen } from '../../run/loop.ts';
import type { Session } from '../../run/prepare.ts';
import { operatorAt } from '../../run/session.ts';
import { planSession } from '../../run/tank-look.ts';
import type { Answer } from '../messages.ts';
import type { Phase, PromptShows } from '../shown.ts';
import type { FaultView, Score, VehicleView } from '../shown-class.ts';
import { HandInstruments } from './hand-instruments.ts';
import type { History } from './history.ts';
import type { HoldCurve } from './hold-curve.ts';
import type { PanelMachine } from './machine.ts';
import { PageOperator } from './page-operator.ts';
import type { Recordings } from './recordings.ts';
import { scoreOf, vehicleOf } from './scoring.ts';
import { type RecorderFor, Told, Work } from './work.ts';

const keyOf = ({ fault, output }: Fault): string => `${fault} ${output ?? ''}`;

export class PanelBench implements PanelMachine {
  readonly undriven = undefined;
  readonly ticketWritten = true;
  readonly session: Session;
  readonly operator: PageOperator;
  readonly #work: Work;
  readonly #told = new Told();
  readonly #recorderFor: RecorderFor | undefined;
  readonly #schedule: FaultSchedule;
  readonly #instruments: HandInstruments;
  /** What is wrong now, by the scenario or by the teacher. */
  readonly #faults = new Map<string, FaultView>();
  #seen: ScanSeen;
  #nextMs: number;
  #planBlockers: readonly Blocker[];
  #recordBlockers: readonly Blocker[];
  #begun = false;
  #broken: string | undefined;
  #startedAtMs = 0;
  #leastKg = Number.POSITIVE_INFINITY;

  /** @param recorderFor where jobs are kept, and `recordings` where they are written down scan for scan. */
  constructor(session: Session, recorderFor?: RecorderFor, recordings?: Recordings) {
    const { bench, scenario } = session;
    this.session = session;
    this.#instruments = new HandInstruments(session);
    this.operator = new PageOperator(
      operatorAt({ ...session, scenario: { ...scenario, operatorDelayMs: 0 } }),
      operatorAt(session),
    );
    this.#schedule = new FaultSchedule(scenario.faults, (fault, on) => this.switchFault(fault, on, false));
    this.#nextMs = bench.nowMs();
    this.#schedule.look(this.#nextMs, []);
    this.#recorderFor = recorderFor;
    this.#planBlockers = this.#planned().blockers;
    this.#recordBlockers = this.#recorder()?.blockers() ?? [];
    this.#nextMs = bench.nowMs();
    this.#work = new Work(
      {
        rig: bench,
        operator: this.operator,
        look: (seen, due) => this.#look(seen, due),
        recordings,
        rigName: 'simulated bench',
      },
      openJob(planByHand(scenario.ticket, session.curve), session.equipment, this.#nextMs),
    );
    // Once, so that the dials show what is there before anything is begun.
    this.#seen = this.#scan();
  }

  get bench(): Bench {
    return this.session.bench;
  }

  get name(): string {
    return this.session.scenario.name;
  }

  get ticket(): Ticket {
    return this.session.scenario.ticket;
  }

  get barometerPa(): number {
    return this.session.scenario.weather.barometerPa;
  }

  get state(): ControllerState {
    return this.#work.state;
  }

  get history(): History {
    return this.#work.history;
  }

  get hold(): HoldCurve {
    return this.#work.hold;
  }

  /** What the records have to say of the machine and of this job. */
  get told(): readonly string[] {
    return this.#told.texts;
  }

  get recordedJob(): number | undefined {
    return this.#work.recordedJob;
  }

  get seen(): ScanSeen {
    return this.#seen;
  }

  get nowMs(): number {
    return this.bench.nowMs();
  }

  get blockers(): readonly Blocker[] {
    return [...this.#planBlockers, ...this.#recordBlockers];
  }

  get broken(): string | undefined {
    return this.#broken;
  }

  get faults(): readonly FaultView[] {
    return [...this.#faults.values()];
  }

  get phase(): Phase {
    if (this.#broken !== undefined) return 'broken';
    if (this.state.byHand !== undefined) return 'by-hand';
    if (!this.#begun) return 'ready';
    return this.#seen.progress.ended || this.powerLost ? 'ended' : 'job';
  }

  get powerLost(): boolean {
    return powerWasLost(this.#schedule.histories) || this.#faults.has('power-lost ');
  }

  /** Nothing has been begun that could not be put away by choosing something else. */
  get isIdle(): boolean {
    return this.phase !== 'job' && this.phase !== 'by-hand';
  }

  /** Something was written into the records by somebody else than this job. */
  recordsChanged(): void {
    if (this.phase === 'ready') this.#recordBlockers = this.#recorder()?.blockers() ?? [];
  }

  /**
   * @returns the reasons against it; none when the job has begun.
   * @throws StoreProblem when its record cannot be opened: nothing has begun then.
   */
  start(): readonly Blocker[] {
    const planned = this.#planned();
    this.#planBlockers = planned.blockers;
    const recorder = this.#recorder();
    this.#recordBlockers = recorder?.blockers() ?? [];
    if (planned.plan === undefined || this.#recordBlockers.length > 0) return this.blockers;
    this.#nextMs = this.nowMs;
    const state = openJob(planned.plan, this.session.equipment, this.#nextMs);
    this.#work.begin(state, { name: this.name, recorder, tell: this.#told.tell });
    this.#startedAtMs = this.nowMs;
    this.#begun = true;
    this.turn();
    return [];
  }

  /** The page's server ends: a job that is being recorded can be taken up again. */
  leave(): void {
    this.#work.settle((state) => this.#facts(state), this.phase === 'job');
  }

  send(event: OperatorEvent): void {
    this.#work.loop.send(event);
  }

  answer(answer: Answer): string | undefined {
    return this.operator.answer(answer, this.state.prompt);
  }

  operate(action: HandAction): void {
    this.bench.operate(action);
    if (action === 'start-engine' || action === 'stop-engine')
      this.send({ type: 'confirmed', prompt: action });
  }

  switchFault(fault: Fault, on: boolean, shown: boolean): void {
    this.bench.switchFault(fault, on);
    if (on) this.#faults.set(keyOf(fault), { ...fault, shown });
    else this.#faults.delete(keyOf(fault));
  }

  /** Since when an output has been commanded as it is; what the first scan found so has always stood so. */
  commandedSinceMs(output: Output): number {
    const sinceMs = this.#work.commandedSinceMs(output);
    return sinceMs > 0 ? sinceMs : Number.NEGATIVE_INFINITY;
  }

  /** One scan, unless nobody can scan any more. */
  turn(): void {
    if (this.#broken !== undefined) return;
    if (this.powerLost) {
      this.#settle();
      return;
    }
    try {
      this.#seen = this.#scan();
      if (this.phase === 'ended') this.#settle();
    } catch (error) {
      if (!(error instanceof StateOutOfRange)) throw error;
      this.#broken =
        'The simulation has left the range where the properties of the refrigerant hold. Choose a job anew.';
    }
  }

  /** What instruments in the operator's hand show for what is being asked. */
  shows(): PromptShows | undefined {
    return this.#instruments.shows(this.state.prompt);
  }

  vehicle(): VehicleView | undefined {
    return vehicleOf(this.bench, this.session.scenario.vehicle);
  }

  score(): Score {
    return scoreOf({
      truth: this.bench.truth(),
      state: this.state,
      begun: this.#begun,
      leastKg: this.#leastKg,
      lastedMs: this.nowMs - this.#startedAtMs,
    });
  }

  #planned() {
    const planned = planSession(this.session);
    return planned.ok
      ? { plan: planned.plan, blockers: [] }
      : { plan: undefined, blockers: planned.blockers };
  }

  /** What was said before of the same records is said anew. */
  #recorder() {
    this.#told.clear();
    return this.#recorderFor?.(this.#told.tell);
  }

  #settle(): void {
    const problem = this.#work.settle((state) => this.#facts(state), this.powerLost);
    if (problem !== undefined) this.#told.tell(problem);
    this.#nextMs = Math.max(this.#nextMs, this.nowMs);
  }

  #facts(state: ControllerState): JobFacts {
    const facts = factsOf(state, this.session.scenario.ticket);
    return isLeftOpen(state) ? { ...facts, afterStop: lookAfterCut(state, this.bench) } : facts;
  }

  #scan(): ScanSeen {
    this.bench.advanceTo(this.#nextMs);
    const seen = this.#work.turn(this.#nextMs);
    this.#nextMs += SCAN_MS;
    return seen;
  }

  #look({ nowMs }: ScanSeen, due: boolean): void {
    this.#schedule.look(nowMs, this.state.visits);
    this.#instruments.look(this.state.prompt);
    if (due) this.#leastKg = Math.min(this.#leastKg, this.bench.inspect().vehicleRefrigerantKg);
  }
}
