// `coldbench export`: a recording in open formats.
import path from 'node:path';
import { csv } from '../bench/csv.ts';
import { type ExportTo, exportRecording } from '../bench/export.ts';
import { damageText, readRecording } from '../bench/read-recording.ts';
import { vcd } from '../bench/vcd.ts';
import { clock } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { isSameFile } from './text-file.ts';

const HELP = `Usage: coldbench export RECORDING FILE...

Writes what 'coldbench run', 'job', 'resume' or 'hand' has written with --record, or 'panel' with --recordings, in open
formats, by the ending of each FILE:

  .csv      a row for every scan, with the unit of each column in the header
  .parquet  the same columns as Apache Parquet
  .vcd      outputs, switches, readings and stage as a value change dump (IEEE 1364), for a viewer of waveforms

Everything is SI, pressure is absolute. A file that is there already is replaced when the new one is whole.

Exit status: 0 written, 2 a recording that cannot be read or is not what was written, or a place that cannot be written.
`;

const MOST_FILES = 16;

const FORMATS: { readonly [ending: string]: () => Promise<ExportTo> } = {
  '.csv': async () => csv,
  '.vcd': async () => vcd,
  // Loaded by those who want it.
  '.parquet': async () => (await import('../bench/parquet.ts')).parquet,
};

async function formatOf(file: string): Promise<ExportTo> {
  const ending = path.extname(file).toLowerCase();
  const format = FORMATS[ending];
  if (format === undefined)
    throw new InputError(`${file}: the ending says the format; give ${Object.keys(FORMATS).join(', ')}`);
  return format();
}

async function runExport(args: readonly string[], terminal: Terminal): Promise<number> {
  const { positionals } = splitArguments(args, {}, 1 + MOST_FILES);
  const [source, ...paths] = positionals;
  if (source === undefined || paths.length === 0)
    throw new InputError('give a recording and a file to write; coldbench export --help shows the formats');
  const twice = paths.find((file, at) => paths.indexOf(file) !== at);
  if (twice !== undefined) throw new InputError(`${twice} is given twice; give it once`);
  const files = [];
  for (const file of paths) {
    if (isSameFile(file, source)) throw new InputError(`${file} is the recording itself; give another file`);
    files.push({ path: file, to: await formatOf(file) });
  }
  const recording = await readRecording(source);
  const { scans, lastedMs } = await exportRecording(recording, files);
  terminal.out(`${scans} scans over ${clock(lastedMs)}: ${paths.join(', ')}\n`);
  if (recording.cut !== undefined) terminal.err(`${source} is not whole: ${recording.cut}\n`);
  if (recording.damage !== undefined)
    throw new InputError(`${source} is damaged: ${damageText(recording.damage)}`);
  return EXIT.completed;
}

export const exportCommand: CliCommand = {
  name: 'export',
  summary: 'a recorded job as CSV, Parquet or a waveform (VCD)',
  help: HELP,
  run: runExport,
};
