// A real rig worked by hand: its time passes by itself, and the operator's wishes go through the one scan loop.
import { whyNot } from '../../controller/by-hand.ts';
import type { Equipment } from '../../controller/equipment.ts';
import type { Reason } from '../../controller/interlocks/reason.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { planByHand } from '../../controller/plan.ts';
import { openJob } from '../../controller/scan.ts';
import type { Output } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { BoardRig } from '../../hardware/rig.ts';
import type { HandAction } from '../../sim/spec.ts';
import { type HandWork, NOBODY } from '../run/by-hand.ts';
import { type Observer, ScanLoop } from '../run/loop.ts';
import { fluidData } from '../run/prepare.ts';
import { undrivenText } from './control-watch.ts';
import type { RealTime } from './paced.ts';

export type RigHandParts = {
  readonly rig: BoardRig;
  readonly time: RealTime;
  readonly equipment: Equipment;
  readonly ticket: Ticket;
  readonly observers: readonly Observer[];
  /** Takes one sentence for the operator. */
  readonly tell: (text: string) => void;
  /** Is given the loop before its first scan. */
  readonly started?: (loop: ScanLoop) => void;
};

export class RigHand implements HandWork {
  readonly powerLost = false;
  readonly #rig: BoardRig;
  readonly #time: RealTime;
  readonly #loop: ScanLoop;
  readonly #tell: (text: string) => void;
  #driven = true;

  constructor({ rig, time, equipment, ticket, observers, tell, started }: RigHandParts) {
    this.#rig = rig;
    this.#time = time;
    this.#tell = tell;
    const plan = planByHand(ticket, fluidData(ticket.refrigerant).curve);
    const state = openJob(plan, equipment, time.nowMs());
    this.#loop = new ScanLoop({ rig, state, operator: NOBODY, observers });
    started?.(this.#loop);
  }

  get state(): ControllerState {
    return this.#loop.state;
  }

  get nowMs(): number {
    return this.#time.nowMs();
  }

  takeOver(): void {
    this.#rig.takeControl();
  }

  say(...events: readonly OperatorEvent[]): void {
    for (const event of events) this.#loop.send(event);
    this.#loop.turn(this.nowMs);
    if ((this.state.byHand?.next.length ?? 0) > 0) this.#loop.turn(this.nowMs);
  }

  /** To be called every 50 ms, `scans` every other time. Work by hand ends when commands no longer reach the machine. */
  beat(scans: boolean): void {
    this.#rig.tick();
    if (scans) this.#loop.turn(this.nowMs);
    const { undriven } = this.#rig;
    if (undriven !== undefined && this.#driven) {
      this.#tell(`${undrivenText(undriven)} 'begin' takes it over again.`);
      this.#loop.send({ type: 'by-hand-ended' });
    }
    this.#driven = undriven === undefined;
  }

  operate(action: HandAction): void {
    if (action === 'start-engine' || action === 'stop-engine')
      this.say({ type: 'confirmed', prompt: action });
  }

  passTo(): void {}

  whyNot(output: Output): readonly Reason[] {
    return whyNot(this.state, output, this.nowMs);
  }

  putAway(): void {
    if (this.state.byHand !== undefined) this.say({ type: 'by-hand-ended' });
  }
}
