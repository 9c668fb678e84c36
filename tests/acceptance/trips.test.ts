// An emergency stop in the middle of the draw that empties the hoses after a charge: reset and resumed, it ends as charged.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { runDocument } from '../../app/run/document.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';

const CHARGED = {
  ticket: { refrigerant: 'R-134a', nominalChargeG: 450, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0 },
  tank: { contentKg: 8 },
};
/** Published limit of a charge. */
const LIMIT_G = 15;
const PRESSED_S = 20;
const RESET_S = 40;

/** The job, with the button pressed at `atS` and everything resumed after; and when each step of the charge began. */
async function stopped(file: object, atS?: number) {
  const faults = atS === undefined ? [] : [{ fault: 'emergency-stop', atS, forS: PRESSED_S }];
  const session = prepare(toScenario({ ...file, faults }, 'trip'), 'trip', fluidOnce, clockMs);
  const begun: { readonly step: string; readonly atS: number }[] = [];
  let loop: ScanLoop | undefined;
  const facts = await runSession(session, {
    pacing: PACING,
    started: (started) => {
      loop = started;
    },
    observers: [
      ({ nowMs }) => {
        const stage = loop!.state.stage;
        if (stage?.stage === 'charge' && stage.step !== begun.at(-1)?.step)
          begun.push({ step: stage.step, atS: nowMs / 1000 });
        if (atS === undefined) return;
        if (nowMs === Math.round((atS + RESET_S) * 1000)) loop!.send({ type: 'reset' });
        if (nowMs === Math.round((atS + RESET_S + 1) * 1000)) loop!.send({ type: 'resumed' });
      },
    ],
  });
  return { job: runDocument(facts), begun };
}

const DRAWING = [
  'blow-down',
  'draw-manifold',
  'draw-hose',
  'pump-out',
  'stand-apart',
  'prove-dry',
  'weigh-drawn',
];

describe.each([
  { equipment: 'hobby', ambientC: 10, seed: 5 },
  { equipment: 'good', ambientC: 33, seed: 6 },
])('An emergency stop while hoses are drawn back ($equipment, $ambientC °C)', ({ ambientC, ...rest }) => {
  test('is reset and resumed at every step, with the vehicle charged and the doubt holding the error', async () => {
    const file = { ...CHARGED, ...rest, weather: { ambientC } };
    const { begun } = await stopped(file);
    const ends = begun.map(({ step, atS }, index) => ({ step, atS, endS: begun[index + 1]?.atS ?? atS + 9 }));
    // The hose comes in one opening after the other: what was let in last boils on in the shut manifold.
    const moments = DRAWING.flatMap((step) =>
      ends
        .filter((each) => each.step === step)
        .slice(0, 1)
        .flatMap(({ atS, endS }) =>
          (step === 'draw-hose' ? [0.15, 0.3, 0.6] : [0.5]).map((share) => ({
            step,
            atS: Math.round(10 * (atS + share * (endS - atS))) / 10,
          })),
        ),
    );
    expect(moments.length).toBeGreaterThanOrEqual(DRAWING.length);
    for (const { step, atS } of moments) {
      const { job } = await stopped(file, atS);
      const what = `${step} at ${atS} s`;
      expect(
        job.notices.map(({ code }) => code),
        what,
      ).toContain('tripped');
      expect(
        job.notices.map(({ code }) => code),
        what,
      ).not.toContain('reset-refused');
      expect(job.outcome, what).toBe('completed');
      const chargedG = job.truth.vehicleRefrigerantG;
      expect(Math.abs(chargedG - 450), what).toBeLessThan(LIMIT_G);
      expect(Math.abs(job.masses.netChargeG! - chargedG), what).toBeLessThan(1.25 * job.masses.uncertaintyG!);
      expect(job.truth.ventedG, what).toBe(0);
    }
  });
});
