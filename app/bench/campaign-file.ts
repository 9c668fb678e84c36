// The file of a campaign: a header and a line for every job in its order, plain JSON lines without clock times, host or path.
import { closeSync, fstatSync, ftruncateSync, openSync, readSync, writeSync } from 'node:fs';
import * as z from 'zod';
import { InputError } from '../cli/command.ts';
import type { JobRow } from './campaign-job.ts';
import type { CampaignPlan } from './plan.ts';

const FORMAT = 'coldbench campaign 1';

/** One of several files of the same campaign, `of` altogether. */
export type Shard = { readonly index: number; readonly of: number };

export type Header = {
  readonly format: typeof FORMAT;
  /** Which code made the figures. */
  readonly logic: string;
  readonly seed: number;
  readonly jobs: number;
  readonly shard?: Shard;
  readonly plan: CampaignPlan;
};

export const headerOf = (about: Omit<Header, 'format' | 'shard'>, shard?: Shard): Header => {
  const { logic, seed, jobs, plan } = about;
  return { format: FORMAT, logic, seed, jobs, ...(shard === undefined ? {} : { shard }), plan };
};

/** Jobs of a shard, in one stretch: from `first` to `last`, counted from 1. */
export function jobsOf({ jobs, shard }: Pick<Header, 'jobs' | 'shard'>): { first: number; last: number } {
  if (shard === undefined) return { first: 1, last: jobs };
  const upTo = (index: number): number => Math.floor((jobs * index) / shard.of);
  return { first: upTo(shard.index - 1) + 1, last: upTo(shard.index) };
}

export const lineOf = (value: Header | JobRow): string => `${JSON.stringify(value)}\n`;

const CHUNK_BYTES = 1 << 16;
const NEWLINE = 0x0a;

/** Every whole line with the place where it ends; what follows the last line end is none. */
function* linesIn(file: number): Generator<{ text: string; endByte: number }> {
  const chunk = Buffer.allocUnsafe(CHUNK_BYTES);
  let pending: Buffer[] = [];
  let position = 0;
  for (;;) {
    const bytes = readSync(file, chunk, 0, CHUNK_BYTES, position);
    if (bytes === 0) return;
    let from = 0;
    for (let at = chunk.indexOf(NEWLINE); at >= 0 && at < bytes; at = chunk.indexOf(NEWLINE, from)) {
      const text = Buffer.concat([...pending, chunk.subarray(from, at)]).toString('utf8');
      pending = [];
      from = at + 1;
      yield { text, endByte: position + from };
      if (from >= bytes) break;
    }
    if (from < bytes) pending.push(Buffer.from(chunk.subarray(from, bytes)));
    position += bytes;
  }
}

const whole = z.number().int().min(1);
const headerSchema = z.strictObject({
  format: z.literal(FORMAT),
  logic: z.string(),
  seed: z.number().int().min(0),
  jobs: whole,
  shard: z.strictObject({ index: whole, of: whole }).optional(),
  plan: z.record(z.string(), z.unknown()),
});
const rowSchema = z.looseObject({ job: whole, seed: z.number(), outcome: z.string() });

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function headerIn(text: string, path: string): Header {
  const header = headerSchema.safeParse(parsed(text));
  if (header.success) return header.data as unknown as Header;
  throw new InputError(
    `${path}: is not the file of a campaign; give one that coldbench campaign --out has written`,
  );
}

function problem(code: string | undefined, message: string): string {
  if (code === 'ENOENT') return 'there is no such file; coldbench campaign --out writes one';
  if (code === 'EISDIR') return 'is a directory; give the path of a file';
  if (code === 'EACCES') return 'may not be opened; change its permissions or give another file';
  return message;
}

function opened(path: string, flags: string): number {
  try {
    return openSync(path, flags);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new InputError(`${path}: ${problem(code, message)}`);
  }
}

type Visit = {
  /** Called once, with the first line. */
  readonly begin?: (header: Header) => void;
  /** Called for each job, with its line as it stands. */
  readonly row?: (row: JobRow, line: string) => void;
};

type Walked = { readonly header: Header | undefined; readonly next: number; readonly endByte: number };

/** Goes through a file from its start; jobs must follow each other as the header says. */
function walk(file: number, path: string, { begin, row: visit }: Visit): Walked {
  let header: Header | undefined;
  let next = 1;
  let last = 0;
  let endByte = 0;
  for (const { text, endByte: at } of linesIn(file)) {
    if (header === undefined) {
      header = headerIn(text, path);
      ({ first: next, last } = jobsOf(header));
      begin?.(header);
    } else {
      const row = rowSchema.safeParse(parsed(text));
      if (!row.success) throw new InputError(`${path}: where job ${next} must be there is no line of a job`);
      const { job } = row.data;
      if (job !== next || job > last)
        throw new InputError(
          `${path}: job ${job} stands where ${job > last ? 'the file must end' : `job ${next} must be`}`,
        );
      visit?.(row.data as JobRow, `${text}\n`);
      next++;
    }
    endByte = at;
  }
  return { header, next, endByte };
}

/**
 * Reads a file line by line.
 * @throws InputError where it is no file of a campaign, or where it is not complete.
 */
export function readCampaign(path: string, visit: Visit): Header {
  const file = opened(path, 'r');
  try {
    const { header, next } = walk(file, path, visit);
    if (header === undefined) headerIn('', path);
    const { last } = jobsOf(header!);
    if (next <= last)
      throw new InputError(
        `${path}: jobs ${next} to ${last} are missing; the same coldbench campaign with --out goes on with them`,
      );
    return header!;
  } finally {
    closeSync(file);
  }
}

const DIFFERS: { readonly [K in keyof Header]-?: (known: Header, wanted: Header) => string } = {
  format: () => 'another format',
  logic: ({ logic }, wanted) => `logic ${logic}, and this is ${wanted.logic}`,
  seed: ({ seed }, wanted) => `seed ${seed}, not ${wanted.seed}`,
  jobs: ({ jobs }, wanted) => `${jobs} jobs, not ${wanted.jobs}`,
  shard: ({ shard }) => (shard === undefined ? 'no shard' : `shard ${shard.index}/${shard.of}`),
  plan: () => 'another plan',
};

/** What two headers do not have in common, in words; the shard only where it is asked for. */
export function differenceOf(
  known: Header,
  wanted: Header,
  keys: readonly (keyof Header)[],
): string | undefined {
  const key = keys.find((one) => JSON.stringify(known[one]) !== JSON.stringify(wanted[one]));
  return key === undefined ? undefined : DIFFERS[key](known, wanted);
}

const SAME_CAMPAIGN: readonly (keyof Header)[] = ['format', 'plan', 'seed', 'jobs', 'shard'];

/** A file that is being written, job after job. */
export class CampaignFile {
  readonly #file: number;

  private constructor(file: number) {
    this.#file = file;
  }

  /**
   * Begins the file, or goes on where a run before has ended; a line that was torn off is taken away. A complete file may be
   * of another logic: there is nothing to go on with, and `header` is its own.
   * @param known is called with each job that is there already.
   * @throws InputError when it is the file of another campaign, or none: it is left as it was.
   */
  static open(
    path: string,
    wanted: Header,
    known: (row: JobRow) => void,
  ): { out: CampaignFile; next: number; header: Header } {
    const file = opened(path, 'a+');
    try {
      const refuse = (difference: string | undefined, remedy: string): void => {
        if (difference !== undefined)
          throw new InputError(
            `${path}: was begun with ${difference}; give --out another file, or ${remedy}`,
          );
      };
      const { header, next, endByte } = walk(file, path, {
        begin: (header) =>
          refuse(differenceOf(header, wanted, SAME_CAMPAIGN), 'the same plan, seed, jobs and shard'),
        row: known,
      });
      if (header !== undefined && next <= jobsOf(header).last)
        refuse(differenceOf(header, wanted, ['logic']), 'go on with the code that began it');
      // Less than a header may be torn off as well; more than that is no file of ours.
      const { size } = fstatSync(file);
      if (header === undefined && size > 0 && !isTornHeader(file, size, wanted)) headerIn('', path);
      ftruncateSync(file, endByte);
      const out = new CampaignFile(file);
      if (header !== undefined) return { out, next, header };
      out.#write(lineOf(wanted));
      return { out, next: jobsOf(wanted).first, header: wanted };
    } catch (error) {
      closeSync(file);
      throw error;
    }
  }

  add(row: JobRow): void {
    this.#write(lineOf(row));
  }

  close(): void {
    closeSync(this.#file);
  }

  #write(line: string): void {
    try {
      writeSync(this.#file, line);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      throw new InputError(`cannot write the jobs (${code}); free some room, and the same command goes on`);
    }
  }
}

function isTornHeader(file: number, size: number, wanted: Header): boolean {
  const line = Buffer.from(lineOf(wanted));
  if (size >= line.length) return false;
  const there = Buffer.alloc(size);
  readSync(file, there, 0, size, 0);
  return line.subarray(0, size).equals(there);
}
/** Every row of a complete file. @throws as `readCampaign`. */
export function rowsIn(path: string): { header: Header; rows: readonly JobRow[] } {
  const rows: JobRow[] = [];
  const header = readCampaign(path, { row: (row) => void rows.push(row) });
  return { header, rows };
}
