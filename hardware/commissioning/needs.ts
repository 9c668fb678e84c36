// What a line waits for: the lines that it rests on, and the failure behind it where one of them could not be run either.
import { standingOf } from './judge.ts';
import type { Line } from './line.ts';
import { lineOf } from './lines/index.ts';
import type { EquipmentRecord, LineId } from './record.ts';

/** Among the lines that this one rests on, and those that they rest on: the one that has failed. */
function failedBefore({ needs }: Line, record: EquipmentRecord, nowMs: number): LineId | undefined {
  for (const id of needs) {
    const need = lineOf(id);
    const { is } = standingOf(need, record, nowMs);
    const failed = is === 'failed' ? id : is === 'standing' ? undefined : failedBefore(need, record, nowMs);
    if (failed !== undefined) return failed;
  }
  return undefined;
}

/** Why the line is not to be run now; undefined where all that it rests on stands. */
export function whyNotRun(line: Line, record: EquipmentRecord, nowMs: number): string | undefined {
  const lacking = line.needs.find((need) => standingOf(lineOf(need), record, nowMs).is !== 'standing');
  if (lacking === undefined) return undefined;
  const failed = failedBefore(line, record, nowMs);
  return failed === undefined ? `needs the line ${lacking} first` : `waits for ${failed}, which has failed`;
}

/** The same of a line that is missing because another has failed; others are missing because nobody has run them. */
export const whyMissing = (line: Line, record: EquipmentRecord, nowMs: number): string | undefined =>
  record[line.id] === undefined && failedBefore(line, record, nowMs) !== undefined
    ? whyNotRun(line, record, nowMs)
    : undefined;
