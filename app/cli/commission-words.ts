// What commissioning says at a terminal: lines and their standing, questions with what may be typed, readings meanwhile.

import type { Reading } from '../../controller/signals.ts';
import type { Said } from '../../hardware/commissioning/engine.ts';
import { type Standing, standingOf } from '../../hardware/commissioning/judge.ts';
import type { Line, Question, Seen } from '../../hardware/commissioning/line.ts';
import { LINES, lineOf } from '../../hardware/commissioning/lines/index.ts';
import { whyMissing } from '../../hardware/commissioning/needs.ts';
import { shown, unitOf } from '../../hardware/commissioning/quantities.ts';
import type { EquipmentRecord } from '../../hardware/commissioning/record.ts';
import { OUTPUT_BITS } from '../../hardware/protocol.ts';
import { clock } from '../units.ts';
import { inLines } from './hand-words.ts';

const WIDTH = 100;
const INDENT = '    ';

const wrapped = (text: string, indent = INDENT): string =>
  inLines(text.split(' '), WIDTH - indent.length, ' ')
    .map((line) => `${indent}${line}\n`)
    .join('');

function standingText(standing: Standing): string {
  switch (standing.is) {
    case 'standing':
      return `passed, stands until ${new Date(standing.untilMs).toISOString().slice(0, 10)}`;
    case 'missing':
      return 'missing';
    case 'failed':
      return `failed on ${standing.date.slice(0, 10)}: ${standing.why}`;
    case 'expired':
      return `expired on ${new Date(standing.untilMs).toISOString().slice(0, 10)}`;
  }
}

const namesWidth = Math.max(...LINES.map(({ id }) => id.length));

/** Every line in order, with what it is worth now. */
export const listText = (record: EquipmentRecord, nowMs: number): string =>
  LINES.map((line) => {
    const optional = line.optional === true ? ' (optional)' : '';
    const why = whyMissing(line, record, nowMs);
    const waits = why === undefined ? '' : `, ${why}`;
    return `${line.id.padEnd(namesWidth)}  ${standingText(standingOf(line, record, nowMs))}${optional}${waits}\n`;
  }).join('');

const beginText = (line: Line): string => `\n${line.id}: ${line.title}\n${wrapped(line.why)}`;

export function saidText({ kind, line, text }: Said): string {
  switch (kind) {
    case 'begins':
      return beginText(lineOf(line));
    case 'tell':
      return wrapped(text);
    case 'problem':
      return wrapped(`That was not understood: ${text}.`);
    case 'passed':
      return `${INDENT}Passed. Valid for ${lineOf(line).validDays} days.\n`;
    case 'failed':
      return wrapped(`Failed: ${text}.`);
    case 'held-up':
      return `${line}: not run: ${text}\n`;
  }
}

export function mayBeTyped(question: Question): string {
  switch (question.kind) {
    case 'enter':
      return 'Enter when it is done';
    case 'yes-no':
      return 'yes or no';
    case 'text':
      return 'text';
    case 'number':
      return `${unitOf(question.quantity.kind)}; ${shown(question.quantity.kind, question.quantity.min)} to ${shown(question.quantity.kind, question.quantity.max)}`;
    case 'numbers':
      return `${unitOf(question.quantity.kind)}, with commas between`;
    case 'choice':
      return question.choices.join(', ');
    case 'choices':
      return `with commas between: ${question.choices.join(', ')}; or all, or none`;
  }
}

export const questionText = (question: Question): string =>
  wrapped(`? ${question.text} [${mayBeTyped(question)}]`);

/** Absolute, and said so: gauges that stand beside it show what lies above the room. */
const pressure = (name: string, reading: Reading): string =>
  `${name} ${reading.ok ? `${shown('pressure', reading.value)} abs.` : reading.reason}`;

const onText = (word: number): string =>
  OUTPUT_BITS.filter((_, bit) => (word >> bit) & 1).join(', ') || 'nothing';

/**
 * What the machine looks at, as its data sheets have it.
 * @param answers a board is there, though nothing can be read of it before its facts are known.
 * @param leftMs until something is asked or the line ends, where that is known.
 */
export function statusText({ readings, board }: Seen, answers: boolean, leftMs?: number): readonly string[] {
  if (!board.linked) return [answers ? 'the board answers' : 'no board answers yet'];
  const { highSidePressurePa, lowSidePressurePa, tankPressurePa, manifoldPressurePa, scaleCounts } = readings;
  return [
    ...(leftMs === undefined ? [] : [`${clock(leftMs)} to wait`]),
    `board ${board.state}${board.trip === 'none' ? '' : ` (${board.trip})`}`,
    `on: ${onText(board.word)}`,
    pressure('high', highSidePressurePa),
    pressure('low', lowSidePressurePa),
    pressure('tank', tankPressurePa),
    `manifold ${manifoldPressurePa.ok ? shown('vacuum', manifoldPressurePa.value) : manifoldPressurePa.reason}`,
    `scale ${scaleCounts.ok ? Math.round(scaleCounts.value) : scaleCounts.reason}`,
  ];
}
