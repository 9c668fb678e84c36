// The file of the records: opened, brought to the newest schema, written whole or not at all.
import { mkdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { DatabaseSync, type SQLInputValue, type SQLOutputValue, type StatementSync } from 'node:sqlite';
import { APPLICATION_ID, MIGRATIONS } from './schema.ts';
import { StoreProblem, storeProblem } from './store-problem.ts';

export type Row = Readonly<Record<string, SQLOutputValue>>;

/** How long one process waits for another that writes: a board whose host is silent for 240 ms shuts everything by itself. */
const PATIENCE_MS = 120;

/** Of a row that may be missing: nothing is 0, or the empty text. */
export const numberIn = (row: Row | undefined, name: string): number => Number(row?.[name] ?? 0);
export const textIn = (row: Row | undefined, name: string): string => String(row?.[name] ?? '');
export const isEmpty = (row: Row | undefined, name: string): boolean => (row?.[name] ?? null) === null;
export const bytesIn = (row: Row, name: string): Uint8Array => row[name] as Uint8Array;

const isFolder = (place: string): boolean =>
  statSync(place, { throwIfNoEntry: false })?.isDirectory() === true;

/** One after the other: where the system takes no folder and says that there is none, Node asks without end for all at once. */
function makeFolder(folder: string): void {
  if (isFolder(folder)) return;
  makeFolder(path.dirname(folder));
  try {
    mkdirSync(folder);
  } catch (error) {
    // Another process may have been faster.
    if (!isFolder(folder)) throw error;
  }
}

/** A folder, a device or a pipe keeps no records. */
function checkOrdinary(file: string): void {
  const found = statSync(file, { throwIfNoEntry: false });
  if (found === undefined || found.isFile()) return;
  const what = found.isDirectory() ? 'it is a folder' : 'it is no ordinary file';
  throw new StoreProblem(`${file}: ${what}; give another file with --records`);
}

/**
 * Every method that touches the file throws a StoreProblem with the remedy. A commit is on the disk when it returns:
 * write-ahead log, full synchronous (sqlite.org/pragma.html#pragma_synchronous).
 */
export class Store {
  readonly path: string;
  readonly #db: DatabaseSync;
  readonly #prepared = new Map<string, StatementSync>();
  #writing = false;

  /** @throws StoreProblem when it cannot be opened, is no file of records, or is of a newer coldbench. */
  constructor(file: string) {
    this.path = file;
    this.#db = this.#attempt(() => {
      if (file !== ':memory:') {
        makeFolder(path.dirname(path.resolve(file)));
        checkOrdinary(file);
      }
      return new DatabaseSync(file, { timeout: PATIENCE_MS });
    });
    try {
      this.#attempt(() => this.#begin());
    } catch (error) {
      this.#db.close();
      throw error;
    }
  }

  #begin(): void {
    const version = this.#version();
    this.#db.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON');
    if (version < MIGRATIONS.length) this.write(() => this.#migrate());
  }

  /** What the file says of itself, before anything is written to it. */
  #version(): number {
    const id = numberIn(this.#db.prepare('PRAGMA application_id').get(), 'application_id');
    const version = numberIn(this.#db.prepare('PRAGMA user_version').get(), 'user_version');
    const tables = numberIn(this.#db.prepare('SELECT count(*) AS n FROM sqlite_schema').get(), 'n');
    if (id !== APPLICATION_ID && (id !== 0 || tables > 0))
      throw new StoreProblem(`${this.path}: it is no file of records; give another file with --records`);
    if (version > MIGRATIONS.length)
      throw new StoreProblem(
        `${this.path}: a newer coldbench has written it (schema ${version}, here ${MIGRATIONS.length}); use that one`,
      );
    return version;
  }

  /** Read again under the lock: another process may have been faster. */
  #migrate(): void {
    for (const sql of MIGRATIONS.slice(this.#version())) this.#db.exec(sql);
    this.#db.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${MIGRATIONS.length}`);
  }

  #attempt<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      throw storeProblem(this.path, error);
    }
  }

  #statement(sql: string): StatementSync {
    const known = this.#prepared.get(sql) ?? this.#db.prepare(sql);
    this.#prepared.set(sql, known);
    return known;
  }

  /** All of it is on the disk when this returns, or none of it is in the file. */
  write<T>(work: () => T): T {
    if (this.#writing) return work();
    return this.#attempt(() => {
      this.#db.exec('BEGIN IMMEDIATE');
      this.#writing = true;
      try {
        const result = work();
        this.#db.exec('COMMIT');
        return result;
      } catch (error) {
        if (this.#db.isTransaction) this.#db.exec('ROLLBACK');
        throw error;
      } finally {
        this.#writing = false;
      }
    });
  }

  /** One statement that changes something; answers the number of the row it has added. */
  run(sql: string, ...values: readonly SQLInputValue[]): number {
    return this.#attempt(() => Number(this.#statement(sql).run(...values).lastInsertRowid));
  }

  one(sql: string, ...values: readonly SQLInputValue[]): Row | undefined {
    return this.#attempt(() => this.#statement(sql).get(...values));
  }

  all(sql: string, ...values: readonly SQLInputValue[]): readonly Row[] {
    return this.#attempt(() => this.#statement(sql).all(...values));
  }

  /** What SQLite finds wrong with the file itself; nothing when it is whole. */
  damage(): readonly string[] {
    try {
      const rows = this.#db.prepare('PRAGMA integrity_check(5)').all();
      const found = rows.map((row) => textIn(row, 'integrity_check'));
      return found.length === 1 && found[0] === 'ok' ? [] : found;
    } catch (error) {
      return [(storeProblem(this.path, error) as Error).message];
    }
  }

  close(): void {
    if (this.#db.isOpen) this.#db.close();
  }
}
