import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { breaks, canonical } from '../../../app/records/chain.ts';
import { openJobRecord, readJob } from '../../../app/records/jobs.ts';
import { bookByHand } from '../../../app/records/ledger.ts';
import { textIn } from '../../../app/records/store.ts';
import { enterUpkeep } from '../../../app/records/upkeep.ts';
import { tankOf } from '../../../app/records/vessels.ts';
import { newFile, withStore } from './jobs.ts';
import { MACHINE, madeJob } from './made.ts';

/** Three jobs, an entry by hand and a piece of upkeep. */
async function sealedFile(): Promise<string> {
  const file = newFile();
  await withStore(file, (store) => {
    for (const name of ['one', 'two', 'three']) madeJob(store, { name });
    const at = '2026-03-02T10:00:00.000Z';
    const vessel = tankOf(store, MACHINE)!;
    bookByHand(store, { movement: 'sent-away', vessel, massKg: 2, sdKg: 0.01, party: 'a reclaimer', at });
    enterUpkeep(store, { machine: MACHINE, at, item: 'pump-oil', verdict: 'done', figures: {} });
  });
  return file;
}

/** Someone with a tool of their own, whom no trigger stops. */
function tamper(file: string, sql: string): void {
  const db = new DatabaseSync(file);
  for (const row of db.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").all())
    db.exec(`DROP TRIGGER ${textIn(row, 'name')}`);
  db.exec('PRAGMA foreign_keys = OFF');
  db.exec(sql);
  db.close();
}

const SWAP = `
  UPDATE seals SET subject_id = -1 WHERE position = 1;
  UPDATE seals SET subject_id = 1 WHERE position = 2;
  UPDATE seals SET subject_id = 2 WHERE position = 1;`;

describe('the chain of seals', () => {
  test('holds over closed jobs, entries by hand and upkeep, also while a job is open', async () => {
    await withStore(await sealedFile(), (store) => {
      const { ticket, equipment, plan, origin } = readJob(store, 1)!;
      const opening = { name: 'open', machine: MACHINE, ticket, equipment, plan: JSON.parse(plan), origin };
      openJobRecord(store, opening, '2026-03-03T10:00:00.000Z');
      expect(breaks(store)).toEqual([]);
    });
  });

  test.each([
    [
      'a gram in the ledger',
      'UPDATE ledger SET mass_kg = mass_kg + 0.001 WHERE id = 3',
      /job 2: it was changed/,
    ],
    ['a gram in the job', 'UPDATE jobs SET charged_kg = 0.401 WHERE id = 1', /job 1: it was changed/],
    [
      'a calibration',
      'UPDATE calibrations SET counts_per_kg = counts_per_kg * 1.001',
      /job 1: it was changed/,
    ],
    ["a tank's refrigerant", "UPDATE vessels SET refrigerant = 'R-12'", /job 1: it was changed/],
    [
      'an entry by hand',
      "UPDATE ledger SET party = 'nobody' WHERE job IS NULL",
      /ledger entry 7: it was changed/,
    ],
    ['upkeep', "UPDATE upkeep SET at = '2026-04-01'", /upkeep entry 1: it was changed/],
  ])('shows that %s was changed', async (_, sql, found) => {
    const file = await sealedFile();
    tamper(file, sql);
    await withStore(file, (store) => expect(breaks(store).join('\n')).toMatch(found));
  });

  test.each([
    ['a job that was removed', 'DELETE FROM jobs WHERE id = 2', /job 2: it was sealed and is gone/],
    [
      'a job that was removed with its seal',
      'DELETE FROM jobs WHERE id = 2; DELETE FROM seals WHERE position = 2',
      /Before job 3 a seal is missing/,
    ],
    ['jobs in another order', SWAP, /job 2: it was changed, or its place in the order was/],
    [
      'the last seal that was removed',
      'DELETE FROM seals WHERE position = 5',
      /The end of the chain is missing/,
    ],
    [
      'a job that was slipped in',
      'INSERT INTO jobs SELECT 9, name, service, refrigerant, nominal_kg, machine, opened_at, closed_at, outcome, recovered_kg, charged_kg, holder, equipment, calibration, tank, ticket, origin, plan FROM jobs WHERE id = 1',
      /job 9: it stands there without a seal/,
    ],
  ])('shows %s', async (_, sql, found) => {
    const file = await sealedFile();
    tamper(file, sql);
    await withStore(file, (store) => expect(breaks(store).join('\n')).toMatch(found));
  });

  test.each([
    ['UPDATE jobs SET charged_kg = 1 WHERE id = 1', /a closed job is not changed/],
    ['DELETE FROM jobs WHERE id = 1', /records are not deleted/],
    ['UPDATE ledger SET mass_kg = 1 WHERE id = 1', /the ledger is only added to/],
    ["UPDATE vessels SET refrigerant = 'R-12'", /a tank keeps its refrigerant for good/],
    ["UPDATE documents SET body = '{}'", /a closed job is not changed/],
    ['DELETE FROM upkeep', /upkeep is only added to/],
  ])('is not needed against a slip: %s is refused', async (sql, why) => {
    await withStore(await sealedFile(), (store) => expect(() => store.run(sql)).toThrow(why));
  });

  test('is made from a text that does not depend on the order of keys, and drops what is absent', () => {
    expect(canonical({ b: [1, { d: undefined, c: null }], a: 'é' })).toBe('{"a":"é","b":[1,{"c":null}]}');
    expect(canonical({ a: 'é', b: [1, { c: null }] })).toBe(canonical({ b: [1, { c: null }], a: 'é' }));
  });
});
