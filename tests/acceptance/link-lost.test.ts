// The line between controller and rig is cut in every stage: on the truth nothing flows a second later, and the fan turns.
import { expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import type { Truth } from '../../sim/spec.ts';
import { faultsScenario, jobFor } from '../accuracy/faults-scenario.ts';
import { runScenario } from './run-scenario.ts';

/** When each stage is in the middle of what it does, s after its first entry. */
const CUT_S: { readonly [S in Stage]: number } = {
  identify: 2,
  fill: 120,
  'purge-air': 12,
  settle: 15,
  recover: 40,
  rest: 60,
  'drain-oil': 14,
  repair: 100,
  evacuate: 300,
  hold: 300,
  'add-oil': 6,
  'leak-check': 20,
  charge: 25,
  verify: 120,
  'clear-hoses': 25,
  'recover-hoses': 12,
};
const DARK_S = 12;

const onVehicle = ({ vehicleRefrigerantKg, hoseRefrigerantKg, cylinderRefrigerantKg, leakedKg }: Truth) =>
  vehicleRefrigerantKg + hoseRefrigerantKg + cylinderRefrigerantKg + leakedKg;
const inMachine = ({ machineRefrigerantKg, tankRefrigerantKg }: Truth) =>
  machineRefrigerantKg + tankRefrigerantKg;
const away = ({ pumpExhaustKg, purgedKg, ventedKg, spilledKg }: Truth) =>
  pumpExhaustKg + purgedKg + ventedKg + spilledKg;

/** Half a gram is what a valve passes while it is on its way, and a shut seat in the time looked at. */
const NOTHING_KG = 5e-4;

type Dark = {
  readonly loop: ScanLoop;
  readonly afterASecond: Truth;
  readonly atItsEnd: Truth;
  /** As the first reading after the line is back shows it, before any word has passed. */
  readonly fan: boolean | undefined;
  readonly onBefore: number;
  /** Scans with an output commanded, from a second and a half after the cut on. */
  readonly commandedScans: number;
};

async function cutIn(stage: Stage, refrigerant: string, also: readonly object[] = []): Promise<Dark> {
  const fault = { fault: 'link-lost', stage, afterS: CUT_S[stage], forS: DARK_S };
  const file = faultsScenario('good', jobFor(stage), [fault, ...also]);
  const scenario = toScenario({ ...file, ticket: { ...file.ticket, refrigerant } }, 'the test');
  const session = prepare(scenario, 'the test', fluidOnce, clockMs);
  const { bench } = session;
  let loop: ScanLoop | undefined;
  let afterASecond: Truth | undefined;
  let atItsEnd: Truth | undefined;
  let fan: boolean | undefined;
  let onBefore = 0;
  let commandedScans = 0;
  await runSession(session, {
    pacing: PACING,
    started: (opened) => {
      loop = opened;
    },
    observers: [
      ({ nowMs, readings, commands }) => {
        const visit = loop!.state.visits.find((one) => one.stage === stage);
        if (visit === undefined) return;
        const darkMs = nowMs - visit.startedAtMs - 1000 * CUT_S[stage];
        const on = Object.values(commands).filter((command) => command.on).length;
        if (darkMs === 0) onBefore = on;
        if (darkMs === 1000) afterASecond = bench.truth();
        if (darkMs === 1000 * DARK_S - 100) atItsEnd = bench.truth();
        if (darkMs >= 1500 && darkMs < 1000 * DARK_S && on > 0) commandedScans++;
        if (darkMs > 1000 * DARK_S && readings.fanFlow.ok) fan ??= readings.fanFlow.value;
        if (darkMs === 1000 * DARK_S + 1000) loop!.send({ type: 'aborted' });
      },
    ],
  });
  return {
    loop: loop!,
    afterASecond: afterASecond!,
    atItsEnd: atItsEnd!,
    fan,
    onBefore,
    commandedScans,
  };
}

test.each(STAGES.map((stage, index) => [stage, index % 2 === 0 ? 'R-1234yf' : 'R-134a'] as const))(
  'in %s (%s): every path is shut within a second, nothing opens while it lasts, the fan turns',
  async (stage, refrigerant) => {
    const dark = await cutIn(stage, refrigerant);
    const { afterASecond, atItsEnd } = dark;
    expect(Math.abs(onVehicle(atItsEnd) - onVehicle(afterASecond))).toBeLessThan(NOTHING_KG);
    expect(Math.abs(inMachine(atItsEnd) - inMachine(afterASecond))).toBeLessThan(NOTHING_KG);
    expect(away(atItsEnd) - away(afterASecond)).toBeLessThan(1e-5);
    expect(dark.fan).toBe(true);
    expect(dark.commandedScans).toBe(0);
    if (['recover', 'evacuate', 'charge'].includes(stage)) expect(dark.onBefore).toBeGreaterThan(0);
    expect(dark.loop.state.notices.map(({ text }) => text).join()).not.toContain('controller fault');
  },
);

test('a hose valve that is welded open beside a charge valve that leaks IS seen by the same look', async () => {
  const { afterASecond, atItsEnd } = await cutIn('charge', 'R-134a', [
    { fault: 'relay-welded', output: 'highSideValve' },
    { fault: 'charge-valve-leaks', stage: 'charge', afterS: CUT_S.charge, size: 5 },
  ]);
  expect(onVehicle(atItsEnd) - onVehicle(afterASecond)).toBeGreaterThan(10 * NOTHING_KG);
});

// The board has dropped its outputs by then, and obeys again only after a word with everything off.
test.each([
  { stage: 'recover', forS: 0.4 },
  { stage: 'recover', forS: 40 },
  { stage: 'evacuate', forS: 0.7 },
  { stage: 'charge', forS: 0.4 },
  { stage: 'charge', forS: 5 },
] as const)(
  'a line that is back after $forS s in $stage is spoken to so that the board obeys, and the job goes on to its end',
  async ({ stage, forS }) => {
    const job = await runScenario({
      seed: 4,
      ticket: { refrigerant: 'R-134a', nominalChargeG: 300 },
      vehicle: { chargeG: 250, volumeL: 1.5, accumulatorHeatCapacityJPerK: 2000, accumulatorUaWPerK: 10 },
      faults: [{ fault: 'link-lost', stage, afterS: 20, forS }],
    });
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 300)).toBeLessThan(15);
    expect(job.notices.some(({ code }) => code === 'rig-silent')).toBe(forS > 2);
  },
);
