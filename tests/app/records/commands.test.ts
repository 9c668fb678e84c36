import { existsSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { records } from '../../../app/cli/records.ts';
import { resume } from '../../../app/cli/resume.ts';
import { readJob } from '../../../app/records/jobs.ts';
import { balances, bookByHand } from '../../../app/records/ledger.ts';
import { reportPage } from '../../../app/records/report.ts';
import { enterUpkeep, upkeepBlockers } from '../../../app/records/upkeep.ts';
import { tankOf } from '../../../app/records/vessels.ts';
import { unitsFor } from '../../../app/units.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { CAR, completeRun, newFile, recordedRun, withStore } from './jobs.ts';
import { MACHINE, madeJob } from './made.ts';

const DAY_MS = 86_400_000;

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([records, resume], args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

let made = '';
let real = '';
beforeAll(async () => {
  [made, real] = [newFile(), newFile()];
  await withStore(made, (store) => {
    madeJob(store, { name: 'red car', at: '2026-03-01T10:00:00.000Z' });
    madeJob(store, { name: 'blue van', at: '2026-04-01T10:00:00.000Z', recoveredKg: 0.5 });
    const at = '2026-03-15T10:00:00.000Z';
    const vessel = tankOf(store, MACHINE)!;
    bookByHand(store, {
      movement: 'sent-away',
      vessel,
      massKg: 2,
      sdKg: 0.01,
      party: 'a reclaimer, 1 Road',
      at,
    });
  });
  await withStore(real, (store) =>
    completeRun(store, { ...CAR, ticket: { ...CAR.ticket, service: 'recover' } }),
  );
});

describe('what is kept can be looked at', () => {
  test('jobs are listed, the newest first, and found by words and dates', async () => {
    expect((await called('records', 'list', '--records', made)).out).toMatch(/blue van[\s\S]*red car/);
    const found = await called('records', 'list', 'RED', 'r-134a', '--records', made, '--json');
    expect(JSON.parse(found.out)).toMatchObject([{ id: 1, name: 'red car', chargedKg: 0.4 }]);
    const march = await called(
      'records',
      'list',
      '--from',
      '2026-03-01',
      '--to',
      '2026-03-01',
      '--records',
      made,
      '--json',
    );
    expect(JSON.parse(march.out)).toHaveLength(1);
  });

  test('amounts of a range of dates come with where they went, and with whose rules decide', async () => {
    const args = ['records', 'export', '--from', '2026-03-01', '--to', '2026-03-31', '--records', made];
    const { amounts, sentAway } = JSON.parse((await called(...args, '--json')).out);
    expect(amounts).toMatchObject([
      { refrigerant: 'R-134a', recoveredKg: 0.3, chargedKg: 0.4, sentAwayKg: 2 },
    ]);
    expect(sentAway).toMatchObject([{ party: 'a reclaimer, 1 Road' }]);
    expect((await called(...args, '--units', 'us')).out).toMatch(
      /sent away 4\.41 lb[\s\S]*Local rules come first/,
    );
    const [header, row] = (await called(...args, '--csv', '--units', 'us')).out.split('\n');
    expect(header).toMatch(/^from,to,refrigerant,recoveredKg,chargedKg,.*sentAwayKg/);
    expect(row).toBe('2026-03-01,2026-03-31,R-134a,0.3,0.4,0,2,0,0');
  });

  test('the report is a page of its own with the plots of the job, the ledger and the cautions, in SI and US units', async () => {
    const { out } = await called('records', 'report', '1', '--records', real);
    expect(out).toMatch(
      /^<!doctype html>[\s\S]*Tank by the scale, kg[\s\S]*bar absolute[\s\S]*not certified[\s\S]*<\/html>\n$/,
    );
    expect(out.match(/<polyline/g)?.length).toBeGreaterThanOrEqual(3);
    expect(out).not.toMatch(/src=|href=|NaN|undefined/);
    const us = (await called('records', 'report', '1', '--units', 'us', '--records', real)).out;
    expect(us).toMatch(/Tank by the scale, lb[\s\S]*psi absolute/);
    const csv = (await called('records', 'report', '1', '--csv', '--records', real)).out;
    expect(csv.split('\n').length).toBeGreaterThan(300);
  });

  test('the ledger agrees with the scale of the last weighing, and shows what does not', async () => {
    const [tank] = JSON.parse((await called('records', 'ledger', '--records', real, '--json')).out);
    expect(Math.abs(tank.differenceKg)).toBeLessThan(0.005);
    expect(Math.abs(tank.bookedKg - tank.weighedKg)).toBeLessThan(0.005);
  });

  test('a sound file verifies, and that nothing is open is said by resume', async () => {
    expect(await called('records', 'verify', '--records', real)).toMatchObject({ status: 0 });
    expect((await called('resume', '--records', real)).out).toMatch(/nothing to resume/);
  });

  test('a job left open shows what was under way and its choices; nothing is done without one', async () => {
    const file = newFile();
    await withStore(file, (store) =>
      recordedRun(store, CAR, { look: ({ nowMs }, loop) => nowMs > 200_000 && loop.die() }),
    );
    const { out, status } = await called('resume', '--records', file);
    expect(status).toBe(0);
    expect(out).toMatch(/Under way[\s\S]*Found[\s\S]*--choose go-on[\s\S]*--choose close/);
    expect((await called('records', 'verify', '--records', file)).out).toMatch(
      /every seal holds[\s\S]*Still open/,
    );
    expect((await called('resume', '--choose', 'closed', '--records', file)).err).toMatch(
      /did you mean close/,
    );
    expect((await called('resume', '--choose', 'close', '--records', file)).status).toBe(0);
    expect((await called('records', 'list', '--records', file)).out).toMatch(/stopped/);
  });
});

test('a file that is not there is told of where something is looked for, and not made', async () => {
  const file = newFile();
  for (const args of [['resume'], ['records', 'list'], ['records', 'verify'], ['records', 'ledger']]) {
    const { status, out, err } = await called(...args, '--records', file);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/there is no such file of records; give the one that was written\n$/);
  }
  expect(existsSync(file)).toBe(false);
});

describe('what a person books', () => {
  test('goes to vessels of the same refrigerant only, and to one that is there', async () => {
    const file = newFile();
    await withStore(file, (store) => madeJob(store));
    const book = (...args: string[]) => called('records', 'ledger', ...args, '--records', file);
    expect((await book('--add-cylinder', 'A', '--refrigerant', 'R-1234yf')).out).toMatch(
      /for good\. What is in it: --book stock --vessel 'A' --mass-kg M\./,
    );
    expect((await book('--add-cylinder', 'B', '--refrigerant', 'R-134a')).status).toBe(0);
    const from = ['--book', 'transferred', '--vessel', `tank of ${MACHINE}`, '--mass-kg', '1'];
    expect((await book(...from, '--to-vessel', 'A')).err).toMatch(/is for R-1234yf for good/);
    expect((await book(...from, '--to-vessel', 'B')).status).toBe(0);
    expect((await book('--book', 'sent-away', '--vessel', 'B', '--mass-kg', '1')).err).toMatch(
      /--party is missing/,
    );
    const told = JSON.parse((await book('--vessel', 'B', '--json')).out);
    expect(told).toMatchObject([{ bookedKg: 1, vessel: { name: 'B' } }]);
    expect((await called('records', 'verify', '--records', file)).status).toBe(0);
  });
});

test('the report of a filled tank names no charge and no vehicle', () =>
  withStore(newFile(), (store) => {
    const record = readJob(store, madeJob(store))!;
    const filled = { ...record, line: { ...record.line, service: 'fill-tank', nominalKg: 0 } };
    const page = reportPage(filled, [], '', unitsFor('si', 101_325));
    expect(page).toContain('fill-tank, R-134a, out of a supply cylinder');
    expect(page).not.toMatch(/nominal charge|opened/);
  }));

describe('stock', () => {
  test('is what there is: where something was booked before, only the difference is booked, and no gram twice', async () => {
    const file = newFile();
    await withStore(file, (store) => madeJob(store));
    const book = (...args: string[]) => called('records', 'ledger', ...args, '--records', file);
    await book('--add-cylinder', 'B', '--refrigerant', 'R-134a');
    const counted = (massKg: string) => book('--book', 'stock', '--vessel', 'B', '--mass-kg', massKg);
    const balance = async () => JSON.parse((await book('--vessel', 'B', '--json')).out)[0];
    expect((await counted('10')).status).toBe(0);
    expect(await balance()).toMatchObject({ bookedKg: 10, unexplainedKg: 0 });
    expect((await counted('9.5')).status).toBe(0);
    const { bookedKg, unexplainedKg, entries } = await balance();
    expect([bookedKg, unexplainedKg]).toEqual([9.5, -0.5]);
    expect(entries.map(({ movement }: { movement: string }) => movement)).toEqual(['unexplained', 'stock']);
    const bought = ['--book', 'bought', '--vessel', 'B', '--mass-kg', '1'];
    expect((await book(...bought, '--to-vessel', `tank of ${MACHINE}`)).err).toMatch(
      /belongs to transferred/,
    );
    expect(
      (await book('--book', 'transferred', '--vessel', 'B', '--mass-kg', '1', '--to-vessel', 'B')).err,
    ).toMatch(/name the other one/);
    expect((await called('records', 'verify', '--records', file)).status).toBe(0);
  });
});

describe('a cylinder for contaminated refrigerant', () => {
  test('has a ledger of its own: the machine’s tank neither gains what goes into it nor misses what it holds', () =>
    withStore(newFile(), async (store) => {
      const recover = { ...CAR, ticket: { ...CAR.ticket, service: 'recover' } };
      await completeRun(store, recover);
      const [own] = balances(store);
      await completeRun(store, { ...recover, tank: { contentKg: 2, contaminated: true } });
      const [same, cylinder] = balances(store);
      expect(same).toEqual(own);
      expect(cylinder).toMatchObject({ vessel: { kind: 'cylinder' }, unexplainedKg: 0 });
      expect(cylinder!.bookedKg).toBeGreaterThan(2.1);
    }));
});

describe('upkeep', () => {
  const at = '2026-03-01T10:00:00.000Z';
  const later = (days: number): number => Date.parse(at) + days * DAY_MS;
  const codes = (blockers: readonly { readonly code: string }[]) => blockers.map(({ code }) => code);

  test('locks charge and filling when the scale was not checked for sixty days, and not a day before', () =>
    withStore(newFile(), (store) => {
      madeJob(store, { at });
      expect(codes(upkeepBlockers(store, MACHINE, 'whole', later(59)))).toEqual([]);
      expect(codes(upkeepBlockers(store, MACHINE, 'whole', later(61)))).toEqual(['scale-unchecked']);
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(61)))).toEqual([]);
      expect(codes(upkeepBlockers(store, MACHINE, 'fill-tank', later(61)))).toEqual(['scale-unchecked']);
      const entry = { machine: MACHINE, at, item: 'scale-weights', figures: {} } as const;
      enterUpkeep(store, { ...entry, verdict: 'failed' });
      expect(codes(upkeepBlockers(store, MACHINE, 'whole', later(1)))).toEqual(['scale-unchecked']);
      enterUpkeep(store, { ...entry, verdict: 'passed' });
      expect(codes(upkeepBlockers(store, MACHINE, 'whole', later(1)))).toEqual([]);
    }));

  test('lets one more job through a spent filter-drier, and no second one', () =>
    withStore(newFile(), (store) => {
      madeJob(store, { at, recoveredKg: 0.1 });
      madeJob(store, { at: '2026-03-02T10:00:00.000Z', recoveredKg: 80 });
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(2)))).toEqual([]);
      madeJob(store, { at: '2026-03-03T10:00:00.000Z' });
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(3)))).toEqual(['filter-drier-spent']);
      enterUpkeep(store, {
        machine: MACHINE,
        at: '2026-03-04T10:00:00.000Z',
        item: 'filter-drier',
        verdict: 'done',
        figures: {},
      });
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(4)))).toEqual([]);
    }));

  test('keeps a machine that is laid up from any job until it is put back', () =>
    withStore(newFile(), (store) => {
      madeJob(store, { at });
      enterUpkeep(store, { machine: MACHINE, at, item: 'lay-up', verdict: 'done', figures: {} });
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(1)))).toEqual(['laid-up']);
      enterUpkeep(store, { machine: MACHINE, at, item: 'put-back', verdict: 'done', figures: {} });
      expect(codes(upkeepBlockers(store, MACHINE, 'recover', later(1)))).toEqual([]);
    }));

  test('of the scale is judged by its figures', async () => {
    const args = [
      'records',
      'upkeep',
      '--done',
      'scale-weights',
      '--weight-kg',
      '10',
      '--step-g',
      '500.5',
      '--records',
      made,
    ];
    expect((await called(...args, '--read-kg', '10.02')).out).toMatch(/scale-weights, failed/);
    expect((await called(...args, '--read-kg', '10.005')).out).toMatch(/scale-weights, passed/);
  });
});
