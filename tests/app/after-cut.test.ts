// The look at a tank after a cut: nobody watched the platform before this controller began.
import { expect, test } from 'vitest';
import { weighAfterCut } from '../../app/run/after-cut.ts';
import { planSession } from '../../app/run/tank-look.ts';
import { netMassKg } from '../../controller/estimates/scale.ts';
import { openJob } from '../../controller/scan.ts';
import type { TimeControlledRig } from '../../controller/signals.ts';
import { sessionOf } from '../properties/job.ts';

const CAR = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
};

/** Kilograms that are found on the scale beyond the tank's content, when someone leans on it from the start for so long. */
function foundKg(leansS: number): number | undefined {
  const session = sessionOf(CAR);
  const planned = planSession(session);
  if (!planned.ok) throw new Error('no plan');
  const { bench, equipment } = session;
  const state = openJob(planned.plan, equipment, bench.nowMs());
  const letsGoMs = bench.nowMs() + 1000 * leansS;
  bench.switchFault({ fault: 'scale-leaned-on', size: 0.6 }, true);
  const rig: TimeControlledRig = {
    capabilities: bench.capabilities,
    nowMs: () => bench.nowMs(),
    readings: () => bench.readings(),
    apply: (commands) => bench.apply(commands),
    advanceTo: (nowMs) => {
      if (nowMs >= letsGoMs) bench.switchFault({ fault: 'scale-leaned-on', size: 0.6 }, false);
      bench.advanceTo(nowMs);
    },
  };
  const weighed = weighAfterCut(state, rig);
  return weighed === undefined
    ? undefined
    : netMassKg(weighed.counts, equipment) - bench.truth().tankRefrigerantKg;
}

test.each([0, 8, 19, 24, 28])('leans for %d s: the tank is known all the same', (leansS) => {
  expect(Math.abs(foundKg(leansS)!)).toBeLessThan(0.006);
});

test('what stays on the platform for good no weighing tells from refrigerant', () => {
  expect(Math.abs(foundKg(600)! - 0.6)).toBeLessThan(0.006);
});
