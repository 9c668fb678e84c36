// The equipment file: what commissioning wrote down about a rig, checked, and turned into what the controller believes
// and how the sensors are read; or every reason why the rig may not be driven.
import { closeSync, fsyncSync, openSync, readFileSync, renameSync, writeSync } from 'node:fs';
import * as z from 'zod';
import type { Equipment } from '../../controller/equipment.ts';
import { type Standing, standingOf } from '../../hardware/commissioning/judge.ts';
import { LINES } from '../../hardware/commissioning/lines/index.ts';
import { type EquipmentRecord, LINE_IDS, type LineId, textIn } from '../../hardware/commissioning/record.ts';
import { commissionedSensors } from '../../hardware/commissioning/sensors.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import { FLUID_NAMES } from '../../sim/fluids/fluid.ts';
import { InputError } from '../cli/command.ts';
import { JsonError, parseJson } from '../scenario/json.ts';
import { commissionedEquipment } from './commissioned-equipment.ts';

const FORMAT = 'coldbench equipment';
const VERSION = 1;

const figure = z.union([z.number(), z.string(), z.boolean(), z.array(z.number()), z.array(z.string())]);
const lineSchema = z.strictObject({
  date: z.iso.datetime(),
  verdict: z.enum(['passed', 'failed']),
  why: z.string().optional(),
  figures: z.record(z.string(), figure),
  tolerances: z.array(z.string()),
  validDays: z.number().positive(),
});
const fileSchema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  lines: z.partialRecord(z.enum(LINE_IDS), lineSchema),
});

const MADE_BY = 'coldbench commission writes it';
const FILE_PROBLEMS: { readonly [code: string]: string } = {
  ENOENT: `there is no such equipment file; ${MADE_BY}`,
  EISDIR: 'is a directory; give the path of an equipment file',
  EACCES: 'may not be read; change its permissions or give another file',
};

function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new InputError(`${path}: ${FILE_PROBLEMS[code ?? ''] ?? message}`);
  }
}

function jsonOf(path: string, text: string): unknown {
  try {
    return parseJson(text);
  } catch (error) {
    if (error instanceof JsonError)
      throw new InputError(`${path}: ${error.message}; restore it from a copy, or commission the rig anew`);
    throw error;
  }
}

/** @throws InputError for a file that is missing, unreadable, not JSON, or not of this form, with the place. */
export function readRecord(path: string): EquipmentRecord {
  const parsed = fileSchema.safeParse(jsonOf(path, textOf(path)));
  if (parsed.success) return parsed.data.lines as EquipmentRecord;
  const [issue] = parsed.error.issues;
  const where = issue?.path.join('.') ?? '';
  throw new InputError(
    `${path}: ${where === '' ? 'the file' : where}: ${issue?.message ?? 'is wrong'}; restore it from a copy, or commission the rig anew`,
  );
}

/** Whole or not at all: beside the old one first, to the disk, then in its place. */
export function writeRecord(path: string, record: EquipmentRecord): void {
  const lines = Object.fromEntries(
    LINE_IDS.flatMap((id) => (record[id] === undefined ? [] : [[id, record[id]]])),
  );
  const text = `${JSON.stringify({ format: FORMAT, version: VERSION, lines }, undefined, 2)}\n`;
  const beside = `${path}.new`;
  const file = openSync(beside, 'w');
  try {
    writeSync(file, text);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  renameSync(beside, path);
}

export type Commissioned =
  | { readonly ok: true; readonly equipment: Equipment; readonly sensors: FittedSensors }
  | { readonly ok: false; readonly problems: readonly string[] };

const day = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** How to repeat one line. */
const repeat = (line: LineId, file: string, port: string): string =>
  `coldbench commission --port ${port} --file ${file} --line ${line}`;

function whyNot(standing: Standing): string | undefined {
  switch (standing.is) {
    case 'standing':
      return undefined;
    case 'missing':
      return 'is missing';
    case 'failed':
      return `failed on ${standing.date.slice(0, 10)} (${standing.why})`;
    case 'expired':
      return `expired on ${day(standing.untilMs)} (done on ${standing.date.slice(0, 10)})`;
  }
}

function whyUnknown({ facts }: EquipmentRecord): string | undefined {
  const refrigerant = textIn(facts?.figures ?? {}, 'refrigerant');
  return FLUID_NAMES.some((name) => name === refrigerant)
    ? undefined
    : `names a refrigerant that is not here, ${refrigerant}; known: ${FLUID_NAMES.join(', ')}`;
}

/** Every line that a rig must have and that does not stand, with its reason and how to repeat it alone. */
function problemsOf(record: EquipmentRecord, nowMs: number, file: string, port: string): readonly string[] {
  return LINES.filter(({ optional }) => optional !== true).flatMap((line) => {
    const why =
      whyNot(standingOf(line, record, nowMs)) ?? (line.id === 'facts' ? whyUnknown(record) : undefined);
    return why === undefined ? [] : [`${line.id} ${why}; repeat it: ${repeat(line.id, file, port)}`];
  });
}

/**
 * What the file of a rig says at a time: equipment and sensors, or every line that is missing, has failed or expired.
 * @param nowMs of the calendar, milliseconds since 1970.
 * @param port for the text of how to repeat a line.
 * @throws InputError where the file cannot be read or has not the form of one.
 */
export function readEquipment(path: string, nowMs: number, port = 'PORT'): Commissioned {
  const record = readRecord(path);
  const problems = problemsOf(record, nowMs, path, port);
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, equipment: commissionedEquipment(record), sensors: commissionedSensors(record) };
}
