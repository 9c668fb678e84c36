// A job was left off: a controller that starts anew, with what the journal says, weighs the tank with every valve shut.
import { type AfterCut, reopened, standAfterCut } from '../../controller/after-cut.ts';
import type { TimeControlledRig } from '../../controller/signals.ts';
import { stepWeighing } from '../../controller/stages/weighing.ts';
import type { ControllerState } from '../../controller/state.ts';
import { SCAN_MS, ScanLoop } from './loop.ts';

/** The scale's filter fills, and what was in flight comes to rest. */
const REST_MS = 10_000;

const NOBODY = { respond: () => [] };

/** Scans until the tank is weighed, or has been found not to come to rest; nothing is commanded on. */
export function lookAfterCut(journal: ControllerState, rig: TimeControlledRig): AfterCut {
  const state = reopened(journal, rig.nowMs());
  const loop = new ScanLoop({ rig, state, operator: NOBODY, observers: [] });
  const fromMs = rig.nowMs() + REST_MS;
  let weighing: Parameters<typeof stepWeighing>[0];
  for (;;) {
    const nowMs = rig.nowMs() + SCAN_MS;
    rig.advanceTo(nowMs);
    loop.turn(nowMs);
    const { plan, equipment, seen, estimates } = loop.state;
    if (seen === undefined || nowMs < fromMs) continue;
    const step = stepWeighing(weighing, { nowMs, plan, equipment, seen, estimates });
    if (step.weighed !== undefined || step.failed) return standAfterCut(journal, step.weighed);
    weighing = step.weighing;
  }
}
