// The real firmware on the emulated board: telemetry as always, outputs held by a line every 100 ms.
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
  return [
    {
      what: 'a second of the board',
      value: 1000 / speed,
      unit: 'ms',
      timesRealTime: speed,
      limit: { atMost: 1000 / TIMES_REAL_TIME },
    },
  ];
}

export const board: Topic = { name: 'board', title: 'Firmware on the emulated board', measure };
