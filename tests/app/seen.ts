// A scan as an onlooker sees it, made by hand for tests.
import type { ScanSeen } from '../../app/run/loop.ts';
import type { Progress } from '../../controller/progress.ts';
import { MEASURED, type Reading, type Readings, SAFE_COMMANDS, SWITCHES } from '../../controller/signals.ts';

export const reading = <T>(value: T, atMs = 0): Reading<T> => ({ ok: true, value, atMs });

export const noReadings = Object.fromEntries(
  [...MEASURED, ...SWITCHES].map((sensor) => [sensor, { ok: false, reason: 'not-read-yet' }]),
) as unknown as Readings;

export const quiet: Progress = {
  stage: 'recover',
  stageElapsedMs: 0,
  waitingFor: 'the pressure to fall',
  paused: false,
  figures: {},
} as unknown as Progress;

export function seen(nowMs: number, changes: Partial<ScanSeen> = {}): ScanSeen {
  return {
    nowMs,
    readings: noReadings,
    events: [],
    permitted: SAFE_COMMANDS,
    commands: SAFE_COMMANDS,
    progress: quiet,
    notices: [],
    ledgerEntries: [],
    handEntries: [],
    ...changes,
  };
}
