// The real firmware on the emulated board: telemetry as always, outputs held by a line every 100 ms.

import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { emulatedParts } from '../../app/rig/emulated.ts';
import { JoinedBench } from '../../app/rig/joined.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { Host } from '../hardware/host.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const WARM_UP_MS = 10_000;
const MEASURED_MS = 20_000;
const RUNS = 5;
const TIMES_REAL_TIME = 40;

/** Of this thread, which other work on the machine hardly touches. */
function processorMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}

/** The bench behind its board, told nothing. */
function joinedBench(): JoinedBench {
  const file = { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } };
  return new JoinedBench(
    emulatedParts(prepare(toScenario(file, 'the bench'), 'the bench', fluidOnce, () => 0)),
  );
}

async function measure(): Promise<readonly Row[]> {
  const host = new Host();
  host.drive(0x0403);
  host.hold(0x0403, WARM_UP_MS);
  const speeds = await repeated(RUNS, async () => {
    const startedMs = processorMs();
    host.hold(0x0403, MEASURED_MS);
    host.arrived.length = 0;
    return MEASURED_MS / (processorMs() - startedMs);
  });
  const speed = median(speeds);
  const joined = joinedBench();
  joined.advanceTo(joined.nowMs() + WARM_UP_MS);
  const withPlant = median(
    await repeated(RUNS, async () => {
      const startedMs = processorMs();
      joined.advanceTo(joined.nowMs() + MEASURED_MS);
      return MEASURED_MS / (processorMs() - startedMs);
    }),
  );
  return [
    {
      what: 'a second of the board',
      value: 1000 / speed,
      unit: 'ms',
      timesRealTime: speed,
      limit: { atMost: 1000 / TIMES_REAL_TIME },
    },
    {
      what: 'with line and plant around it',
      value: 1000 / withPlant,
      unit: 'ms',
      timesRealTime: withPlant,
      limit: { atMost: 1000 / TIMES_REAL_TIME },
    },
  ];
}

export const board: Topic = { name: 'board', title: 'Firmware on the emulated board', measure };
