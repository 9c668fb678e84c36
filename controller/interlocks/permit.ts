// Applies the interlock table: permitted is wanted minus forbidden, repeated until nothing more falls.
import { type Commands, commandsOf, OFF, OUTPUTS, type Output, SAFE_COMMANDS } from '../signals.ts';
import type { BandName, Bands } from './bands.ts';
import { blindTo } from './blind.ts';
import { BRIEF_MS, type Fitting, type Word } from './interlock.ts';
import type { Remembered } from './remembered.ts';
import { INTERLOCKS } from './table.ts';

export type Refusal = {
  readonly output: Output;
  readonly row: string;
  /** What could not be read and may have permitted it; empty when what was read forbids it. */
  readonly unknown: readonly BandName[];
};

export type Permission = {
  readonly permitted: Commands;
  readonly refusals: readonly Refusal[];
  /** The first row that trips. */
  readonly trip: { readonly row: string; readonly reason: string } | undefined;
};

type MutableWord = { -readonly [A in keyof Word]: boolean };

function wordOf(commands: Commands): MutableWord {
  const { on, offAfterMs } = commands.chargeValve;
  const word = {
    chargePulse: on === true && offAfterMs !== undefined && offAfterMs <= BRIEF_MS,
  } as MutableWord;
  for (const output of OUTPUTS) word[output] = commands[output].on === true;
  return word;
}

/**
 * One output that falls may make another unsafe (a pump that stops forbids its valve), so the rows judge what is left
 * until they all agree. Each round removes at least one output, so it ends after at most as many rounds as outputs.
 */
export function permit(wanted: Commands, bands: Bands, memory: Remembered, fitting: Fitting): Permission {
  const word = wordOf(wanted);
  const refusals: Refusal[] = [];
  for (;;) {
    const judged = judgeAll(word, bands, memory, fitting);
    if (judged.trip !== undefined) {
      return { permitted: SAFE_COMMANDS, refusals, trip: judged.trip };
    }
    if (judged.refusals.length === 0) {
      return { permitted: refusals.length === 0 ? wanted : kept(wanted, word), refusals, trip: undefined };
    }
    for (const { output } of judged.refusals) word[output] = false;
    word.chargePulse &&= word.chargeValve;
    refusals.push(...judged.refusals);
  }
}

function judgeAll(
  word: Word,
  bands: Bands,
  memory: Remembered,
  fitting: Fitting,
): Omit<Permission, 'permitted'> {
  const view = { on: word, bands, memory, fitting };
  const refusals: Refusal[] = [];
  for (const row of INTERLOCKS) {
    const verdict = row.judge(view);
    if (verdict.trip !== undefined) return { refusals, trip: { row: row.id, reason: verdict.trip } };
    for (const output of verdict.forbids)
      if (word[output]) refusals.push({ output, row: row.id, unknown: blindTo(row, view, output) });
  }
  return { refusals, trip: undefined };
}

const kept = (wanted: Commands, word: Word): Commands =>
  commandsOf((output) => (word[output] ? wanted[output] : OFF));
