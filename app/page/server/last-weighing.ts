// A job on a rig that stopped on its way: before its record is closed, the tank is weighed once more, scan by scan.
import { type AfterCut, isLeftOpen, standAfterCut } from '../../../controller/after-cut.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { BoardRig } from '../../../hardware/rig.ts';
import { TankLook } from '../../run/after-cut.ts';

export class LastWeighing {
  readonly #rig: BoardRig;
  #look: TankLook | undefined;
  #stopped: ControllerState | undefined;
  #afterStop: AfterCut | undefined;
  #hurries = false;

  constructor(rig: BoardRig) {
    this.#rig = rig;
  }

  /** Another job begins. */
  clear(): void {
    this.#look = undefined;
    this.#stopped = undefined;
    this.#afterStop = undefined;
  }

  /** The tank is not weighed any more: what was left off stays unknown. */
  hurry(): void {
    this.#hurries = true;
  }

  get isUnderWay(): boolean {
    return this.#stopped !== undefined && this.#afterStop === undefined;
  }

  /** What the job has left off; absent where it left nothing. */
  get afterStop(): AfterCut | undefined {
    return this.#afterStop;
  }

  /** Once a scan after the end of a job. @returns whether its record has to wait. */
  turn(ended: ControllerState, nowMs: number): boolean {
    if (this.#stopped === undefined) {
      if (!isLeftOpen(ended)) return false;
      this.#stopped = ended;
      this.#look = new TankLook(ended, this.#rig, nowMs);
    }
    if (this.#look === undefined || this.#afterStop !== undefined) return false;
    const { link } = this.#rig.connection;
    if (!this.#look.done && !this.#hurries && link.state === 'ready') this.#look.turn(nowMs);
    if (!this.#look.done && !this.#hurries && link.state === 'ready') return true;
    this.#afterStop = standAfterCut(this.#stopped, this.#look.weighed);
    return false;
  }
}
