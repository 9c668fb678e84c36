// The first seconds of a job, written down as `run --record` does and read back from the file, keep the contract of a rig.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { readRecording } from '../../app/bench/read-recording.ts';
import { Recorder } from '../../app/bench/recorder.ts';
import { fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { inOrder, type RecordedReadings, RecordedRig } from '../../hardware/recorded.ts';
import { rigContract } from './rig.ts';

const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the contract',
);
const LASTS_MS = 3_000;

async function recorded(): Promise<RecordedReadings[]> {
  const lines: string[] = [];
  const recorder = new Recorder({ write: (line) => lines.push(line), flush: () => {} });
  let loop: ScanLoop | undefined;
  await runSession(
    prepare(scenario, 'the contract', fluidOnce, () => 0),
    {
      observers: [
        recorder.look,
        ({ nowMs }) => {
          if (nowMs >= LASTS_MS) loop?.send({ type: 'aborted' });
        },
      ],
      pacing: PACING,
      started: (begun) => {
        loop = begun;
        recorder.begin(begun, { name: 'the contract', rig: 'simulated' });
      },
    },
  );
  recorder.end();
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-contract-'));
  const file = path.join(folder, 'job.recording');
  writeFileSync(file, lines.join(''));
  const scans: RecordedReadings[] = [];
  for await (const { nowMs, readings } of (await readRecording(file)).scans())
    scans.push({ nowMs, readings });
  rmSync(folder, { recursive: true });
  return scans;
}

const RECORDING = await recorded();

rigContract<RecordedRig>('a recorded rig', {
  create: () => new RecordedRig(inOrder(RECORDING)),
  nowMs: (rig) => rig.nowMs(),
  reach: (rig, timeMs) => rig.advanceTo(timeMs),
  seen: (rig) => JSON.stringify([rig.readings(), rig.edges]),
  output: 'vacuumValve',
  besides: ['vacuumPump', 'highSideValve'],
});
