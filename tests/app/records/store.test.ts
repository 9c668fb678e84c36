import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { breaks } from '../../../app/records/chain.ts';
import { listJobs, readJob } from '../../../app/records/jobs.ts';
import { usualPlace } from '../../../app/records/place.ts';
import { MIGRATIONS } from '../../../app/records/schema.ts';
import { numberIn, Store } from '../../../app/records/store.ts';
import { newFile, recordsFolder, withStore } from './jobs.ts';
import { madeJob } from './made.ts';

const FIXTURES = path.join(import.meta.dirname, 'fixtures');

/** A file of an old schema, as it was when that was released. */
function oldFile(version: number): string {
  const file = newFile();
  const db = new DatabaseSync(file);
  db.exec(readFileSync(path.join(FIXTURES, `schema-${version}.sql`), 'utf8'));
  db.close();
  return file;
}

describe('the file of the records', () => {
  test('lies in the data folder of the user, where XDG says or where it says nothing', () => {
    expect(usualPlace({ XDG_DATA_HOME: '/data' })).toBe('/data/coldbench/records.db');
    expect(usualPlace({ XDG_DATA_HOME: 'relative' })).toMatch(/\.local\/share\/coldbench\/records\.db$/);
    expect(usualPlace({})).toMatch(/\.local\/share\/coldbench\/records\.db$/);
  });

  test('is written ahead and synchronously, so that what was committed survives a power cut', () =>
    withStore(newFile(), (store) => {
      expect(store.one('PRAGMA journal_mode')).toMatchObject({ journal_mode: 'wal' });
      expect(store.one('PRAGMA synchronous')).toMatchObject({ synchronous: 2 });
    }));

  test.each(MIGRATIONS.map((_, index) => index + 1))(
    'of schema %i is brought to the newest, its jobs can be read and its seals hold',
    (version) =>
      withStore(oldFile(version), (store) => {
        expect(store.one('PRAGMA user_version')).toMatchObject({ user_version: MIGRATIONS.length });
        const [job] = listJobs(store, {});
        expect(job).toMatchObject({ name: 'a job of long ago', outcome: 'completed', recoveredKg: 0.3 });
        expect(readJob(store, job!.id)?.document).toEqual({ name: 'a job of long ago' });
        expect(breaks(store)).toEqual([]);
        madeJob(store);
        expect(breaks(store)).toEqual([]);
      }),
  );

  test('of a newer coldbench is left alone, and that is said', () => {
    const file = newFile();
    new Store(file).close();
    const db = new DatabaseSync(file);
    db.exec('PRAGMA user_version = 99');
    db.close();
    expect(() => new Store(file)).toThrow(/a newer coldbench has written it \(schema 99/);
  });

  test.each([
    ['text', 'this is no database, and long enough to be looked at as one: '.repeat(20)],
    ['other tables', undefined],
  ])('with %s in it is no file of records, and is not written to', (_, text) => {
    const file = newFile();
    if (text !== undefined) writeFileSync(file, text);
    else {
      const db = new DatabaseSync(file);
      db.exec('CREATE TABLE a (b)');
      db.close();
    }
    const before = readFileSync(file);
    expect(() => new Store(file)).toThrow(/it is no file of records; give another file with --records/);
    expect(readFileSync(file)).toEqual(before);
  });

  test('in a place where nothing can be made says so in one line', () => {
    writeFileSync(path.join(recordsFolder(), 'a-file'), '');
    expect(() => new Store(path.join(recordsFolder(), 'a-file', 'records.db'))).toThrow(
      /give another file with --records/,
    );
    expect(() => new Store(recordsFolder())).toThrow(/it is a folder; give another file with --records/);
  });

  test.skipIf(!existsSync('/dev/null'))('is an ordinary one: a device is named as what it is', () => {
    expect(() => new Store('/dev/null')).toThrow(
      '/dev/null: it is no ordinary file; give another file with --records',
    );
  });

  test('makes the folders that lead to it', () =>
    withStore(path.join(recordsFolder(), 'made', 'of', 'two', 'records.db'), (store) => {
      expect(numberIn(store.one('SELECT count(*) AS n FROM jobs'), 'n')).toBe(0);
    }));

  test.skipIf(!existsSync('/proc'))('where the system takes no folder says so, and comes back', () => {
    const launcher = path.join(import.meta.dirname, '../../../app/coldbench.js');
    const args = [launcher, 'run', '--records', '/proc/of/nobody/records.db'];
    const { status, stderr } = spawnSync(process.execPath, args, { timeout: 20_000, encoding: 'utf8' });
    expect(status).toBe(2);
    expect(stderr).toMatch(
      /^coldbench: \/proc\/of\/nobody\/records\.db: [^\n]*mkdir '\/proc\/of'; give another file with --records\n$/,
    );
  });

  test.skipIf(process.getuid?.() === 0)(
    'in a folder that may only be read says so, and what is there can be read',
    async () => {
      const place = path.join(recordsFolder(), 'read-only');
      mkdirSync(place);
      const file = path.join(place, 'records.db');
      await withStore(file, (store) => madeJob(store));
      chmodSync(file, 0o444);
      chmodSync(place, 0o555);
      expect(() => new Store(path.join(place, 'new.db'))).toThrow(/cannot be opened/);
      chmodSync(place, 0o755);
    },
  );

  test('whose last page is damaged is found out, and what stands on the other pages is still there', async () => {
    const file = newFile();
    await withStore(file, (store) => {
      for (let job = 0; job < 30; job++) madeJob(store, { name: `car ${job}` });
    });
    const bytes = readFileSync(file);
    bytes.fill(0xaa, bytes.length - 4096);
    writeFileSync(file, bytes);
    await withStore(file, (store) => {
      expect(store.damage().length).toBeGreaterThan(0);
      expect(store.one('SELECT count(*) AS n FROM ledger')).toBeDefined();
    });
  });

  test('cut off in the middle is found out', async () => {
    const file = newFile();
    await withStore(file, (store) => {
      for (let job = 0; job < 30; job++) madeJob(store);
    });
    truncateSync(file, readFileSync(file).length >> 1);
    const found = (): readonly string[] => {
      try {
        const store = new Store(file);
        const damage = store.damage();
        store.close();
        return damage;
      } catch (error) {
        return [(error as Error).message];
      }
    };
    expect(found().join('\n')).not.toBe('');
  });

  test('that another process is writing to for too long says so, and is whole afterwards', async () => {
    const file = newFile();
    await withStore(file, (store) => madeJob(store));
    const other = new DatabaseSync(file);
    other.exec('BEGIN IMMEDIATE');
    await withStore(file, (store) => {
      expect(() => madeJob(store)).toThrow(/another coldbench is writing to it/);
      other.exec('ROLLBACK');
      other.close();
      madeJob(store);
      expect(listJobs(store, {})).toHaveLength(2);
    });
  });

  test('that can hold no more says that the disk is full, and keeps what it has', () =>
    withStore(newFile(), (store) => {
      madeJob(store, { name: 'before' });
      const pages = numberIn(store.one('PRAGMA page_count'), 'page_count');
      store.all(`PRAGMA max_page_count = ${pages}`);
      const fill = (): void => {
        for (let job = 0; job < 100; job++) madeJob(store, { name: 'x'.repeat(5000) });
      };
      expect(fill).toThrow(/the disk is full; make room and go on/);
      expect(store.damage()).toEqual([]);
      expect(breaks(store)).toEqual([]);
      expect(listJobs(store, { words: ['before'] })).toHaveLength(1);
    }));
});
