// A job was left off: a controller that starts anew, with what the journal says, weighs the tank with every valve shut.
import { type AfterCut, reopened, standAfterCut } from '../../controller/after-cut.ts';
import type { Weighing } from '../../controller/estimates/masses.ts';
import type { Rig, TimeControlledRig } from '../../controller/signals.ts';
import { stepWeighing } from '../../controller/stages/weighing.ts';
import type { ControllerState } from '../../controller/state.ts';
import { SCAN_MS, ScanLoop } from './loop.ts';

/** The scale's filter fills, and what was in flight comes to rest. */
const REST_MS = 10_000;
/** Nobody leans on a platform for so long (estimate); what stands on it for good, no weighing tells from refrigerant. */
const LEANS_MS = 30_000;
/** Two weighings of the same tank agree so far (estimate). */
const AGREE_KG = 0.005;
const MOST_WEIGHINGS = 5;

const NOBODY = { respond: () => [] };

/**
 * Weighs the tank scan by scan; nothing is commanded on. Nobody saw whether the platform was free when this controller
 * began, so it is weighed until two weighings agree that lie further apart than anybody leans.
 */
export class TankLook {
  readonly #loop: ScanLoop;
  #fromMs: number;
  #weighing: Parameters<typeof stepWeighing>[0];
  #before: Weighing | undefined;
  #weighings = 0;
  #weighed: Weighing | undefined;
  #done = false;

  constructor(journal: ControllerState, rig: Rig, nowMs: number) {
    const state = reopened(journal, nowMs);
    this.#loop = new ScanLoop({ rig, state, operator: NOBODY, observers: [] });
    this.#fromMs = nowMs + REST_MS;
  }

  /** It has been weighed, or found not to come to rest. */
  get done(): boolean {
    return this.#done;
  }

  /** Absent while nothing is known, and where the scale does not come to rest or contradicts itself. */
  get weighed(): Weighing | undefined {
    return this.#weighed;
  }

  turn(nowMs: number): void {
    this.#loop.turn(nowMs);
    const { plan, equipment, seen, estimates } = this.#loop.state;
    if (seen === undefined || nowMs < this.#fromMs) return;
    const step = stepWeighing(this.#weighing, { nowMs, plan, equipment, seen, estimates });
    this.#weighing = step.weighing;
    if (step.weighed !== undefined) this.#take(step.weighed);
    this.#done ||= step.failed === true;
  }

  #take(weighing: Weighing): void {
    const { countsPerKg } = this.#loop.state.equipment.scale;
    const before = this.#before;
    const agree = before !== undefined && Math.abs(weighing.counts - before.counts) <= AGREE_KG * countsPerKg;
    this.#before = weighing;
    this.#weighings += 1;
    this.#weighing = undefined;
    this.#fromMs = weighing.atMs + LEANS_MS;
    if (agree) this.#weighed = weighing;
    this.#done = agree || this.#weighings === MOST_WEIGHINGS;
  }
}

/** Scans until the tank is weighed, or has been found not to come to rest. */
export function weighAfterCut(journal: ControllerState, rig: TimeControlledRig): Weighing | undefined {
  const look = new TankLook(journal, rig, rig.nowMs());
  while (!look.done) {
    const nowMs = rig.nowMs() + SCAN_MS;
    rig.advanceTo(nowMs);
    look.turn(nowMs);
  }
  return look.weighed;
}

export const lookAfterCut = (journal: ControllerState, rig: TimeControlledRig): AfterCut =>
  standAfterCut(journal, weighAfterCut(journal, rig));
