// Reads a recording line by line, packed or not, with little memory; says where it was cut off or is not what was written.
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { createGunzip } from 'node:zlib';
import { InputError, textOf } from '../cli/command.ts';
import { clock } from '../units.ts';
import { Checked, FORMATS, type Header, LAYOUT, MARK, type Opening, type RecordedScan } from './recording.ts';
import { NoScan, scanOf } from './scan-lines.ts';

/** Plan, curves and equipment stand in the first line; a longer one is none of ours. */
const LONGEST_LINE = 1_048_576;
const GZIP_MAGIC = [0x1f, 0x8b];

/** A line that does not fit its checksum: what it says may not be what was read. */
type DamagedLine = { readonly line: number; readonly scan: number; readonly atMs: number };

/** The first damaged line, and how many there are. */
export type Damage = { readonly first: DamagedLine; readonly lines: number };

/** After 'is damaged: '. */
export function damageText({ first, lines }: Damage): string {
  const more = lines === 1 ? '' : `; so are ${lines - 1} more`;
  const when = `${clock(first.atMs)} (${first.atMs / 1000} s)`;
  return `line ${first.line}, scan ${first.scan} at ${when}, is not what was written${more}`;
}

export type Recording = {
  readonly opening: Opening;
  /** Of Coldbench, when it was written. */
  readonly version: string;
  /** Once. @throws InputError for a line that cannot be understood. */
  scans(): AsyncGenerator<RecordedScan>;
  /** So far. */
  readonly damage: Damage | undefined;
  /** What is wrong with its end, once that has been reached. */
  readonly cut: string | undefined;
};

/** A file that was cut off ends here; any other trouble is thrown. */
const isTear = (error: unknown): boolean => (error as NodeJS.ErrnoException).code === 'Z_BUF_ERROR';
const isUnpacking = (error: unknown): boolean =>
  String((error as NodeJS.ErrnoException).code).startsWith('Z_');

async function isPacked(path: string): Promise<boolean> {
  const file = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(2), 0, 2, 0);
    return bytesRead === 2 && GZIP_MAGIC.every((byte, at) => buffer[at] === byte);
  } finally {
    await file.close();
  }
}

type Line = { readonly text: string; readonly number: number; readonly whole: boolean };

/** @throws InputError for a line that is too long, and for what cannot be read or unpacked. */
async function* linesOf(path: string): AsyncGenerator<Line> {
  let rest = '';
  let number = 0;
  try {
    const packed = await isPacked(path);
    const bytes = createReadStream(path);
    const stream = packed ? bytes.pipe(createGunzip()) : bytes;
    bytes.on('error', (error) => stream.destroy(error));
    for await (const chunk of stream.setEncoding('utf8')) {
      const parts = (rest + chunk).split('\n');
      rest = parts.pop()!;
      if (rest.length > LONGEST_LINE) throw new InputError(`${path} is not a recording: it has no lines`);
      for (const text of parts) yield { text, number: ++number, whole: true };
    }
  } catch (error) {
    if (error instanceof InputError) throw error;
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      throw new InputError(
        `${path}: there is no such file; 'coldbench run --record FILE' writes a recording`,
      );
    if (!isTear(error)) {
      const what = isUnpacking(error) ? 'cannot unpack' : 'cannot read';
      const where = number === 0 ? '' : ` beyond line ${number}`;
      throw new InputError(`${what} ${path}${where}: ${textOf(error)}`);
    }
  }
  if (rest !== '') yield { text: rest, number: ++number, whole: false };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function headerOf(line: Line | undefined, path: string): Header {
  const header = parsed(line?.text ?? '') as Partial<Header> | undefined | null;
  if (line?.text.startsWith('time [s],'))
    throw new InputError(`${path} is a trace: a row a second is not enough; give what --record has written`);
  if (header?.coldbench !== MARK)
    throw new InputError(`${path} is not a recording; 'coldbench run --record FILE' writes one`);
  const formats = Object.values(FORMATS);
  if (!formats.some((format) => format === header.format))
    throw new InputError(
      `${path} has format ${header.format}, this version reads ${formats.join(' and ')}: read it with coldbench ${header.version}`,
    );
  const other = (Object.keys(LAYOUT) as (keyof typeof LAYOUT)[]).find(
    (key) => String(header[key]) !== String(LAYOUT[key]),
  );
  if (other !== undefined)
    throw new InputError(
      `${path} has other ${other === 'outputs' ? 'outputs' : 'sensors'} than this version knows: read it with coldbench ${header.version}`,
    );
  const { plan, equipment, atMs } = header;
  if (!Array.isArray(plan?.stages) || !Array.isArray(equipment?.fitted) || typeof atMs !== 'number')
    throw new InputError(`${path} does not say what its job was opened with: its first line is damaged`);
  return header as Header;
}

const scansIn = (line: unknown): number | undefined =>
  (line as { end?: { scans?: number } } | null | undefined)?.end?.scans;

class RecordingText implements Recording {
  readonly opening: Opening;
  readonly version: string;
  readonly #path: string;
  readonly #lines: AsyncGenerator<Line>;
  readonly #checked: Checked;
  #first: DamagedLine | undefined;
  #damaged = 0;
  #scans = 0;
  #last: RecordedScan | undefined;
  #cut: string | undefined;

  constructor(path: string, header: Header, lines: AsyncGenerator<Line>, checked: Checked) {
    this.opening = header;
    this.version = header.version;
    this.#path = path;
    this.#lines = lines;
    this.#checked = checked;
  }

  get damage(): Damage | undefined {
    return this.#first === undefined ? undefined : { first: this.#first, lines: this.#damaged };
  }

  get cut(): string | undefined {
    return this.#cut;
  }

  async *scans(): AsyncGenerator<RecordedScan> {
    for await (const line of this.#lines) {
      const holds = this.#checked.holds(line.text);
      if (!holds && !line.whole) break;
      const json = parsed(line.text);
      const end = scansIn(json);
      if (end !== undefined) {
        if (!holds || end !== this.#scans) this.#cut = `it has ${this.#scans} scans, and had ${end}`;
        return;
      }
      this.#scans += 1;
      const scan = this.#scanIn(json, line);
      if (!holds) this.#damage({ line: line.number, scan: this.#scans, atMs: scan.nowMs });
      this.#last = scan;
      yield scan;
    }
    this.#cut = `it was cut off after ${this.#scans} scans`;
  }

  #damage(damage: DamagedLine): void {
    this.#first ??= damage;
    this.#damaged += 1;
  }

  #scanIn(json: unknown, { number }: Line): RecordedScan {
    try {
      return scanOf(json, this.#last);
    } catch (error) {
      if (!(error instanceof NoScan)) throw error;
      throw new InputError(`${this.#path}, line ${number}, scan ${this.#scans}: it ${error.message}`);
    }
  }
}

/** @throws InputError when there is no recording there that this version can read. */
export async function readRecording(path: string): Promise<Recording> {
  const lines = linesOf(path);
  const { value: first } = await lines.next();
  const header = headerOf(first ?? undefined, path);
  const checked = new Checked();
  if (!checked.holds((first as Line).text))
    throw new InputError(
      `${path}: its first line is not what was written; what the job was opened with is lost`,
    );
  return new RecordingText(path, header, lines, checked);
}
