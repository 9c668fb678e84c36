// One run: from a saved moment through everything that is drawn to go wrong, to its end, watched scan by scan.

import { type Found, limitsOf, Watch } from '../../app/bench/harm.ts';
import { SCAN_MS, ScanLoop } from '../../app/run/loop.ts';
import type { Operator, SimulatedOperator } from '../../app/run/operator.ts';
import type { Session } from '../../app/run/prepare.ts';
import { operatorAt } from '../../app/run/session.ts';
import type { Notice } from '../../controller/notice.ts';
import type { OperatorEvent, Prompt } from '../../controller/operator.ts';
import { planByHand } from '../../controller/plan.ts';
import { openJob } from '../../controller/scan.ts';
import type { Reading, Readings, Rig } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Bench } from '../../sim/bench.ts';
import type { Act, Answering, Disturbance, Garbage } from './disturbance.ts';
import type { Moment } from './job.ts';
import { startsOf } from './starts.ts';

/** Whoever wishes by hand asks again for what was refused or has fallen. */
const WISH_AGAIN_MS = 1_000;
/** Scan, dead time and its scatter, and the board's own silence where the line is cut. */
const COMES_TO_REST_MS = 1_500;
const STAYS_AT_REST_MS = 3_000;

const NOTHING: readonly OperatorEvent[] = [];

class RandomOperator implements Operator {
  readonly #inner: SimulatedOperator;
  readonly #manner: Answering['manner'];
  #again: readonly OperatorEvent[] = NOTHING;

  constructor(session: Session, { manner, delayMs }: Answering, moment: Moment) {
    this.#inner = operatorAt({ ...session, scenario: { ...session.scenario, operatorDelayMs: delayMs } });
    this.#inner.restore(moment.operator);
    this.#manner = manner;
  }

  hear(notices: readonly Notice[], nowMs: number): void {
    this.#inner.hear(notices, nowMs);
  }

  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[] {
    if (this.#manner === 'stays away') return NOTHING;
    const answers = this.#inner.respond(prompt, nowMs);
    const again = this.#again;
    this.#again = this.#manner === 'says it twice' ? answers : NOTHING;
    if (this.#manner === 'gives a wrong answer') return answers.map(wrong);
    return again.length === 0 ? answers : [...again, ...answers];
  }
}

function wrong(answer: OperatorEvent): OperatorEvent {
  switch (answer.type) {
    case 'confirmed':
      return { type: 'confirmed', prompt: answer.prompt === 'stop-engine' ? 'start-engine' : 'stop-engine' };
    case 'entered':
      return { ...answer, volumeM3: 1 };
    case 'searched':
      return { ...answer, found: !answer.found };
    case 'identified':
      return { type: 'identified', result: { refrigerant: 'R-12', purityPercent: 50 } };
    default:
      return answer;
  }
}

/** Garbles the readings between rig and scan; the rig itself never knows. */
class GarbledRig implements Rig {
  readonly #bench: Bench;
  readonly #garbage: readonly Garbage[];
  readonly #startMs: number;
  readonly #stuck = new Map<string, unknown>();

  constructor(bench: Bench, garbage: readonly Garbage[]) {
    this.#bench = bench;
    this.#garbage = garbage;
    this.#startMs = bench.nowMs();
  }

  get capabilities() {
    return this.#bench.capabilities;
  }

  apply(commands: Parameters<Rig['apply']>[0]): void {
    this.#bench.apply(commands);
  }

  readings(): Readings {
    const readings = this.#bench.readings();
    const ranMs = this.#bench.nowMs() - this.#startMs;
    const now = this.#garbage.filter(({ fromMs, forMs }) => ranMs >= fromMs && ranMs < fromMs + forMs);
    if (now.length === 0) return readings;
    const garbled: Record<string, unknown> = { ...readings };
    for (const { sensor, kind } of now) garbled[sensor] = this.#garble(sensor, kind, readings[sensor]);
    return garbled as Readings;
  }

  #garble(sensor: Garbage['sensor'], kind: Garbage['kind'], reading: Reading<number | boolean>): unknown {
    const value = (of: number) => ({ ok: true, value: of, atMs: this.#bench.nowMs() });
    switch (kind) {
      case 'NaN':
        return value(Number.NaN);
      case '+∞':
        return value(Number.POSITIVE_INFINITY);
      case '−∞':
        return value(Number.NEGATIVE_INFINITY);
      case 'huge':
        return value(1e300);
      case 'negative':
        return value(-1e6);
      case 'missing':
        return undefined;
      case 'no-reason':
        return { ok: false };
      case 'open-circuit':
        return { ok: false, reason: 'open-circuit' };
      case 'stale':
        return reading.ok ? { ...reading, atMs: reading.atMs - 60_000 } : reading;
      case 'stuck': {
        if (!this.#stuck.has(sensor)) this.#stuck.set(sensor, reading.ok ? reading.value : undefined);
        return reading.ok ? { ...reading, value: this.#stuck.get(sensor) ?? reading.value } : reading;
      }
    }
  }
}

const eventsOf = (act: Act): readonly OperatorEvent[] => {
  if ('say' in act) return [{ type: act.say }];
  if ('hand' in act) {
    const spoken = act.said && (act.hand === 'start-engine' || act.hand === 'stop-engine');
    return spoken ? [{ type: 'confirmed', prompt: act.hand as 'start-engine' }] : NOTHING;
  }
  const { pulseMs } = act;
  return act.wish.map((output) => ({
    type: 'wished',
    output,
    on: true,
    ...(pulseMs === undefined ? {} : { offAfterMs: pulseMs }),
  }));
};

const isDue = (act: Act, ranMs: number): boolean =>
  'wish' in act
    ? ranMs >= act.atMs && ranMs <= act.atMs + act.forMs && (ranMs - act.atMs) % WISH_AGAIN_MS === 0
    : ranMs === act.atMs;

/** Time and everything in it, up to the end of what was drawn and beyond. */
class Life {
  readonly watch: Watch;
  readonly #drawn: Disturbance;
  readonly #session: Session;
  readonly #bench: Bench;
  readonly #operator: Operator;
  readonly #startMs: number;
  #loop: ScanLoop | undefined;
  readonly #rig: Rig;
  readonly #on = new Set<number>();

  constructor(drawn: Disturbance) {
    const { session, moments } = startsOf(drawn.profile, drawn.job);
    const moment = moments[drawn.moment % moments.length]!;
    const { bench, equipment, scenario } = session;
    this.#drawn = drawn;
    this.#session = session;
    this.#bench = bench;
    bench.restore(moment.bench);
    this.#startMs = moment.nowMs;
    const heard = drawn.garbage.filter(({ sensor }) => drawn.ending !== 'gas-alarm' || sensor !== 'gasAlarm');
    this.#rig = new GarbledRig(bench, heard);
    this.#operator = new RandomOperator(session, drawn.answering, moment);
    this.#loop = this.#loopWith(drawn.byHand ? this.#freshState() : moment.state);
    const nominalKg = scenario.ticket.nominalChargeKg;
    this.watch = new Watch(limitsOf(drawn.profile, equipment.tank.fillLimitKg, nominalKg), bench.inspect());
  }

  run(): void {
    const { lastsMs, ending, acts } = this.#drawn;
    for (let ranMs = 0; ranMs <= lastsMs; ranMs += SCAN_MS) {
      this.#switchFaults(ranMs);
      for (const act of acts) if (isDue(act, ranMs)) this.#act(act);
      this.#scan();
    }
    if (ending === 'aborted') this.#loop?.send({ type: 'aborted' });
    else this.#switch({ fault: ending }, true);
    this.#scanFor(COMES_TO_REST_MS);
    this.watch.lookAtEnd(this.#bench.inspect(), this.#loop !== undefined);
    this.#scanFor(STAYS_AT_REST_MS);
    this.watch.lookAtEnd(this.#bench.inspect(), this.#loop !== undefined);
  }

  #freshState(): ControllerState {
    const { scenario, curve, equipment, bench } = this.#session;
    return openJob(planByHand(scenario.ticket, curve), equipment, bench.nowMs());
  }

  #loopWith(state: ControllerState): ScanLoop {
    return new ScanLoop({ rig: this.#rig, state, operator: this.#operator, observers: [] });
  }

  #act(act: Act): void {
    if ('hand' in act) this.#bench.operate(act.hand);
    for (const event of eventsOf(act)) this.#loop?.send(event);
  }

  #switchFaults(ranMs: number): void {
    for (const [index, { fault, fromMs, forMs }] of this.#drawn.faults.entries()) {
      const on = ranMs >= fromMs && ranMs < fromMs + forMs;
      if (on === this.#on.has(index)) continue;
      if (on) this.#on.add(index);
      else this.#on.delete(index);
      this.#switch(fault, on);
    }
  }

  /** A controller without mains is gone; when they come back another one starts, and knows nothing. */
  #switch(fault: Disturbance['faults'][number]['fault'], on: boolean): void {
    this.#bench.switchFault(fault, on);
    if (fault.fault === 'power-lost') this.#loop = on ? undefined : this.#loopWith(this.#freshState());
  }

  #scanFor(timeMs: number): void {
    for (let ranMs = 0; ranMs < timeMs; ranMs += SCAN_MS) this.#scan();
  }

  #scan(): void {
    const nowMs = this.#bench.nowMs() + SCAN_MS;
    this.#bench.advanceTo(nowMs);
    this.#loop?.turn(nowMs);
    this.watch.look(this.#bench.inspect(), this.#loop?.state);
  }

  get ranMs(): number {
    return this.#bench.nowMs() - this.#startMs;
  }

  broke(error: unknown): void {
    this.watch.broke(this.#bench.nowMs(), error);
  }
}

export type Lived = { readonly found: readonly Found[]; readonly simulatedS: number };

/** One run and what was found in it, with times from the start of its job. */
export function live(drawn: Disturbance): Lived {
  const life = new Life(drawn);
  try {
    life.run();
  } catch (error) {
    life.broke(error);
  }
  return { found: life.watch.found, simulatedS: life.ranMs / 1000 };
}
