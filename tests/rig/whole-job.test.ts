// A whole service with the real firmware in the loop against the same without it: the ledgers agree.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { readRecording } from '../../app/bench/read-recording.ts';
import { Recorder } from '../../app/bench/recorder.ts';
import { replay } from '../../app/bench/replay.ts';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { WaitingFile } from '../../app/cli/waiting-file.ts';
import { runWithFirmware } from '../../app/rig/board-runs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import demo from '../../app/scenario/demo.json' with { type: 'json' };
import { toScenario } from '../../app/scenario/scenario.ts';
import type { LedgerEntry, Movement } from '../../controller/ledger.ts';

const WITHIN_KG = 0.005;

const prepared = () => prepare(toScenario(demo, 'the demo'), 'the demo', fluidOnce, clockMs);

function moved(ledger: readonly LedgerEntry[]): ReadonlyMap<Movement, number> {
  const sums = new Map<Movement, number>();
  for (const { movement, massKg } of ledger) sums.set(movement, (sums.get(movement) ?? 0) + massKg);
  return sums;
}

test('the demo job completes behind the firmware, its ledger is that of the plain simulation within 5 g, and its recording gives every command again', async () => {
  const plain = await runSession(prepared(), { observers: [], pacing: PACING });
  const told: string[] = [];
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-whole-'));
  const tell = (text: string) => told.push(text);
  const file = new WaitingFile(
    path.join(folder, 'job.recording.gz'),
    { option: '--record', what: 'recording' },
    tell,
  );
  const recorder = new Recorder(file);
  const behind = await runWithFirmware(
    prepared(),
    {
      observers: [recorder.look],
      pacing: { ...PACING, breathe: () => file.settle() },
      started: (loop) => recorder.begin(loop, { name: 'demo', rig: 'firmware' }),
    },
    tell,
  );
  recorder.end();
  await file.close();
  const replayed = await replay(await readRecording(path.join(folder, 'job.recording.gz')));
  rmSync(folder, { recursive: true });
  expect(replayed).toMatchObject({ difference: undefined, estimates: undefined, cut: undefined });
  expect(replayed.words).toBeGreaterThan(300);
  expect(told).toEqual([]);
  expect([plain.outcome, behind.outcome]).toEqual(['completed', 'completed']);
  expect(behind.result!.stages.map(({ stage }) => stage)).toEqual(
    plain.result!.stages.map(({ stage }) => stage),
  );
  const [without, withIt] = [moved(plain.result!.ledger), moved(behind.result!.ledger)];
  expect([...withIt.keys()].sort()).toEqual([...without.keys()].sort());
  for (const [movement, massKg] of without)
    expect(Math.abs(withIt.get(movement)! - massKg), movement).toBeLessThan(WITHIN_KG);
  for (const mass of ['recoveredKg', 'chargedKg', 'netChargeKg', 'hoseRecoveredKg'] as const)
    expect(Math.abs(behind.result!.masses[mass]! - plain.result!.masses[mass]!), mass).toBeLessThan(
      WITHIN_KG,
    );
  expect(Math.abs(behind.truth.vehicleRefrigerantKg - plain.truth.vehicleRefrigerantKg)).toBeLessThan(
    WITHIN_KG,
  );
});
