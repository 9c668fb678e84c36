import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { inOrder, type RecordedReadings, RecordedRig } from '../../hardware/recorded.ts';
import { rigContract } from './rig.ts';

const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the contract',
);

/** What the simulated bench said while nobody commanded anything. */
function recorded(): RecordedReadings[] {
  const { bench } = prepare(scenario, 'the contract', fluidOnce, () => 0);
  return Array.from({ length: 30 }, () => {
    bench.advanceTo(bench.nowMs() + 100);
    return { nowMs: bench.nowMs(), readings: bench.readings() };
  });
}

const RECORDING = recorded();

rigContract<RecordedRig>('a recorded rig', {
  create: () => new RecordedRig(inOrder(RECORDING)),
  nowMs: (rig) => rig.nowMs(),
  reach: (rig, timeMs) => rig.advanceTo(timeMs),
  seen: (rig) => JSON.stringify([rig.readings(), rig.edges]),
  output: 'vacuumValve',
  besides: ['vacuumPump', 'highSideValve'],
});
