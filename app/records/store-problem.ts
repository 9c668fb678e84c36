// What is wrong with the file of the records, in one line with its remedy.
import { InputError } from '../cli/command.ts';

/** SQLite's primary result codes (sqlite.org/rescode.html); the extended ones have them in their low byte. */
const TEXTS: { readonly [code: number]: string } = {
  5: 'another coldbench is writing to it and does not let go; wait until it is done',
  8: 'it may only be read; change its permissions or give another file with --records',
  10: 'the disk answers with an error; copy the file to another disk and look at this one',
  11: 'it is damaged; restore the last backup, keep the damaged file, and see docs/records.md',
  13: 'the disk is full; make room and go on: nothing that was written is lost',
  14: 'it cannot be opened; create its folder, or give another file with --records',
  26: 'it is no file of records; give another file with --records',
};

type SqliteError = Error & { readonly errcode?: number };

/** Nothing can be read or written there: the remedy is in the message. */
export class StoreProblem extends InputError {}

const isSqlite = (error: unknown): error is SqliteError =>
  error instanceof Error && (error as NodeJS.ErrnoException).code === 'ERR_SQLITE_ERROR';

/** Whatever SQLite or the file system said of a file, as a problem with its remedy; anything else as it is. */
export function storeProblem(path: string, error: unknown): unknown {
  if (error instanceof StoreProblem) return error;
  if (isSqlite(error)) {
    const text = TEXTS[(error.errcode ?? 0) & 0xff];
    return new StoreProblem(`${path}: ${text ?? error.message}`);
  }
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === undefined || !/^E[A-Z]+$/.test(code)) return error;
  return new StoreProblem(`${path}: ${message}; give another file with --records`);
}
