// What the pages say and what they are shown: who holds control, which job is chosen, and the bench behind it.

import { STAGES } from '../../../controller/stages.ts';
import { FAULT_NAMES, FAULTS } from '../../../sim/faults.ts';
import { FLUID_NAMES } from '../../../sim/fluids/fluid.ts';
import { InputError } from '../../cli/command.ts';
import type { JobRecorder } from '../../records/recorder.ts';
import type { Session } from '../../run/prepare.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { LESSONS, lessonView } from '../lessons.ts';
import type { Message } from '../messages.ts';
import type { Audience, Dome, Snapshot, Welcome } from '../shown.ts';
import type { FaultKindView } from '../shown-class.ts';
import { type Choice, scenarioOf } from './choices.ts';
import { BenchClock } from './clock.ts';
import { Control } from './control.ts';
import { PanelBench } from './panel-bench.ts';
import type { Recordings } from './recordings.ts';
import { type Page, type ServedPanel, stillTripped } from './served-panel.ts';
import { snapshotOf, teacherViewOf } from './snapshot.ts';

type Parts = {
  readonly choices: readonly Choice[];
  readonly seed: number | undefined;
  readonly prepare: (scenario: Scenario, source: string) => Session;
  readonly domeOf: (refrigerant: string) => Dome;
  readonly wallClockMs: () => number;
  /** Where jobs are kept. */
  readonly recorderOf?: (session: Session, source: string, tell: (text: string) => void) => JobRecorder;
  readonly recordings?: Recordings | undefined;
};

const ANSWERED = undefined;
const TEACHER_ONLY: readonly Message['type'][] = ['fault', 'reveal'];
/** These the teacher may always, and the class only while no teacher is there. */
const TEACHER_FIRST: readonly Message['type'][] = ['choose', 'ticket', 'time', 'step', 'simulated-operator'];

const FAULT_KINDS: readonly FaultKindView[] = FAULT_NAMES.map((fault) => {
  const { meaning, output, size } = FAULTS[fault];
  return { fault, meaning, needsOutput: output === true, ...(size === undefined ? {} : { size }) };
});

export class Panel implements ServedPanel {
  readonly #parts: Parts;
  readonly #clock: BenchClock;
  readonly #control = new Control(() => this.#letGo());
  #choice: Choice;
  #bench: PanelBench;
  #benches = 0;
  #revealed = false;
  #recordsNoted = 0;

  constructor(parts: Parts) {
    this.#parts = parts;
    this.#clock = new BenchClock(parts.wallClockMs);
    this.#choice = parts.choices[0]!;
    this.#bench = this.#benchWith(this.#choice, undefined);
  }

  get bench(): PanelBench {
    return this.#bench;
  }

  beat(): number {
    return this.#clock.beat(this.#bench);
  }

  /** Another job that has begun or been chosen begins them anew. */
  growing() {
    const { history, state } = this.#bench;
    return {
      trend: { epoch: this.#benches * 1000 + history.epoch, list: history.rows },
      notices: { epoch: this.#benches, list: state.notices },
    };
  }

  looks(audience: Audience) {
    return [this.snapshot(audience)];
  }

  isHolder(page: Page): boolean {
    return this.#control.isHolder(page);
  }

  come(page: Page): void {
    this.#control.come(page);
  }

  leave(page: Page): void {
    this.#control.leave(page);
  }

  /** Nobody's hand is on the machine any more: what was wished goes off; a job goes on. */
  #letGo(): void {
    if (this.#bench.state.byHand !== undefined) this.#bench.send({ type: 'all-wished-off' });
  }

  heed(page: Page, message: Message): string | undefined {
    return this.forbids(page, message) ?? this.#obey(page, message);
  }

  forbids(page: Page, { type }: Message): string | undefined {
    if (page.audience === 'teacher' && (TEACHER_ONLY.includes(type) || TEACHER_FIRST.includes(type)))
      return undefined;
    if (TEACHER_ONLY.includes(type)) return 'only the teacher may do this';
    if (TEACHER_FIRST.includes(type) && this.#control.hasTeacher) return 'the teacher does this';
    return this.#control.forbids(page, type);
  }

  #obey(page: Page, message: Message): string | undefined {
    const bench = this.#bench;
    switch (message.type) {
      case 'take-control':
        return this.#control.take(page);
      case 'release-control':
        this.#control.release(page);
        return ANSWERED;
      case 'choose':
        return this.#choose(message.id);
      case 'ticket':
        return this.#anew(() => this.#benchWith(this.#choice, message.ticket));
      case 'start':
        return this.#start();
      case 'say':
        return this.#say(message.what);
      case 'wish': {
        const { output, on, offAfterMs } = message;
        if (bench.state.byHand === undefined) return 'the machine is not worked by hand now';
        bench.send({ type: 'wished', output, on, ...(offAfterMs === undefined ? {} : { offAfterMs }) });
        return ANSWERED;
      }
      case 'answer':
        return bench.answer(message.answer);
      case 'hands':
        bench.operate(message.action);
        return ANSWERED;
      case 'simulated-operator':
        bench.operator.automatic = message.on;
        return ANSWERED;
      case 'time':
        this.#clock.set(message.running, message.speed);
        return ANSWERED;
      case 'step':
        this.#clock.set(false, this.#clock.view.speed);
        bench.turn();
        return ANSWERED;
      case 'fault':
        return this.#switchFault(message);
      case 'reveal':
        this.#revealed = message.on;
        return ANSWERED;
      case 'look-up':
      case 'upkeep-done':
        return 'no records are kept here; begin the panel with --records FILE';
      case 'commission':
      case 'commission-answer':
      case 'commission-go':
        return 'there is no board here; begin the panel with --board PORT --file FILE';
    }
  }

  #choose(id: string): string | undefined {
    const choice = this.#parts.choices.find((one) => one.id === id);
    if (choice === undefined) return 'there is no such job';
    return this.#anew(() => {
      this.#choice = choice;
      this.#revealed = false;
      return this.#benchWith(choice, undefined);
    });
  }

  #anew(make: () => PanelBench): string | undefined {
    if (!this.#bench.isIdle) return 'a job runs, or the machine is worked by hand; end that first';
    const { automatic } = this.#bench.operator;
    return this.#careful(() => {
      this.#bench = make();
      this.#bench.operator.automatic = automatic;
      this.#clock.set(true, this.#clock.view.speed);
    });
  }

  /** What is wrong with what was given is the answer to whoever gave it. */
  #careful(work: () => void): string | undefined {
    try {
      work();
      return ANSWERED;
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  }

  #start(): string | undefined {
    if (this.#bench.phase !== 'ready') return 'choose a job first';
    const tripped = stillTripped(this.#bench);
    if (tripped !== undefined) return tripped;
    const problem = this.#careful(() => {
      if (this.#bench.start().length > 0) throw new InputError('something stands against it; see what');
    });
    if (problem === undefined) this.#benches += 1;
    return problem;
  }

  #say(what: Extract<Message, { type: 'say' }>['what']): string | undefined {
    if (what === 'by-hand-begun' && !this.#bench.isIdle) return 'a job runs; end that first';
    this.#bench.send({ type: what });
    // Before anything has begun time stands still, and nothing would hear of it.
    if (what === 'by-hand-begun' || what === 'reset') this.#bench.turn();
    return ANSWERED;
  }

  #switchFault(message: Extract<Message, { type: 'fault' }>): string | undefined {
    const { fault, output, size, on, shown } = message;
    const kind = FAULTS[fault];
    if ((kind.output === true) !== (output !== undefined))
      return 'this fault strikes one output: name it, or none';
    if (size !== undefined && (kind.size === undefined || size < kind.size.min || size > kind.size.max))
      return 'this size is out of bounds';
    const struck = {
      fault,
      ...(output === undefined ? {} : { output }),
      ...(size === undefined ? {} : { size }),
    };
    this.#bench.switchFault(struck, on, shown);
    return ANSWERED;
  }

  #benchWith(choice: Choice, ticket: { readonly [key: string]: unknown } | undefined): PanelBench {
    const scenario = scenarioOf(choice, ticket, this.#parts.seed);
    const session = this.#parts.prepare(scenario, choice.source);
    const { recorderOf, recordings } = this.#parts;
    const bench = new PanelBench(
      session,
      recorderOf === undefined ? undefined : (tell) => recorderOf(session, choice.source, tell),
      recordings,
    );
    this.#benches += 1;
    return bench;
  }

  recordsChanged(): void {
    this.#recordsNoted += 1;
    this.#bench.recordsChanged();
  }

  /** Nobody turns the loop any more. */
  end(): void {
    this.#bench.leave();
  }

  #recordsView(): Pick<Snapshot, 'records'> {
    if (this.#parts.recorderOf === undefined) return {};
    const { phase, recordedJob } = this.#bench;
    // A job that begins or ends is a change of the list.
    const changes = this.#recordsNoted + 3 * this.#benches + (phase === 'ended' ? 1 : 0);
    return { records: { changes, ...(recordedJob === undefined ? {} : { job: recordedJob }) } };
  }

  welcome(audience: Audience): Welcome {
    const isTeacher = audience === 'teacher';
    return {
      type: 'welcome',
      audience,
      simulated: this.#bench.bench.capabilities.timeControl,
      choices: this.#parts.choices.map(({ id, name }) => ({ id, name })),
      refrigerants: FLUID_NAMES,
      stages: STAGES,
      dome: this.#parts.domeOf(this.#bench.session.curve.refrigerant),
      lessons: LESSONS.map((lesson) =>
        lessonView(lesson, isTeacher || (this.#revealed && lesson.id === this.#choice.id)),
      ),
      ...(isTeacher ? { faultKinds: FAULT_KINDS } : {}),
    };
  }

  snapshot(audience: Audience): Snapshot {
    const bench = this.#bench;
    const vehicle = this.#revealed || audience === 'teacher' ? bench.vehicle() : undefined;
    const shared = snapshotOf(bench, {
      chosen: this.#choice.id,
      time: this.#clock.view,
      control: this.#control.view,
      ...this.#recordsView(),
      ...(this.#revealed ? { score: bench.score() } : {}),
      ...(vehicle === undefined ? {} : { vehicle }),
    });
    return audience === 'teacher' ? { ...shared, teacher: teacherViewOf(bench, this.#revealed) } : shared;
  }
}
