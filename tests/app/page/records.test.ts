// The records behind the page: a job that it ran is kept and sealed, found and printed; upkeep bars a job until it is done.
import { mkdtempSync, rmSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Panel } from '../../../app/page/server/panel.ts';
import { RecordsDesk } from '../../../app/page/server/records-desk.ts';
import { breaks } from '../../../app/records/chain.ts';
import { readJob } from '../../../app/records/jobs.ts';
import { benchRecorder, openStore } from '../../../app/records/keep.ts';
import type { Store } from '../../../app/records/store.ts';
import { MEMORY } from '../../memory.ts';
import { beginJob, FakePage, get, newPanel, type Running, servePanel, TEACHER } from './panel.ts';

let folder: string;
let store: Store;
let panel: Panel;
let running: Running;
let page: FakePage;
let desk: RecordsDesk;
let wallMs = 0;

beforeAll(async () => {
  folder = mkdtempSync(path.join(MEMORY, 'coldbench-page-'));
  const file = path.join(folder, 'records.db');
  store = openStore(file);
  desk = new RecordsDesk(file);
  panel = newPanel(undefined, {
    wallClockMs: () => wallMs,
    recorderOf: (session, source, tell) => benchRecorder(store, session, source, { tell }),
  });
  // Before a page is there: whoever runs a job without a breath hears nobody meanwhile.
  runOut();
  running = await servePanel(undefined, panel, desk);
  page = new FakePage(running.served.port);
  await page.says({ type: 'take-control' });
  await page.hears('control');
  // A whole job, on a machine that others use as well.
}, 60_000);
afterAll(async () => {
  await running.served.close();
  await desk.close();
  store.close();
  rmSync(folder, { recursive: true });
});

function runOut(): void {
  beginJob(panel);
  for (let beats = 0; beats < 4000 && panel.bench.phase === 'job'; beats += 1) {
    wallMs += 100;
    panel.beat();
  }
  panel.leave(TEACHER);
}

const lookUp = async (words: string) => {
  await page.says({ type: 'look-up', words });
  return page.hears('records');
};

describe('records behind the page', () => {
  test('a job that the page ran is kept whole and sealed, and nothing is written to it afterwards', async () => {
    expect(panel.bench.phase).toBe('ended');
    expect(panel.snapshot('class').records?.job).toBe(1);
    for (let scans = 0; scans < 100; scans += 1) panel.bench.turn();
    expect(breaks(store)).toEqual([]);
    const record = readJob(store, 1)!;
    expect(record.line).toMatchObject({ outcome: 'completed', service: 'whole' });
    expect(record.line.chargedKg).toBeCloseTo(0.6, 1);
    const { jobs, machines } = await lookUp('demo completed');
    expect(jobs.map(({ id }) => id)).toEqual([1]);
    expect((await lookUp('lorry')).jobs).toEqual([]);
    expect(machines.map(({ machine }) => machine)).toEqual([record.line.machine]);
  });

  test('its report is a page that runs nothing, and is no secret of the truth', async () => {
    const { status, headers, body } = await get(running.served.port, '/report/1?units=us');
    expect(status).toBe(200);
    expect(body).toMatch(/Record of job 1/);
    expect(body).toMatch(/ oz/);
    expect(body).not.toMatch(/truth/i);
    const policy = String(headers['content-security-policy']);
    expect(policy).toMatch(/default-src 'none'; style-src 'sha256-[^']+';.*frame-ancestors 'self'/);
    expect((await get(running.served.port, '/report/99')).status).toBe(404);
    expect((await get(running.served.port, '/report/1/..')).status).toBe(404);
    expect((await get(running.served.port, '/report/1', { host: 'evil.example' })).status).toBe(421);
  });

  test('a scale found wrong bars the next job, and one found right does NOT', async () => {
    await page.says({ type: 'take-control' });
    const { machines } = await lookUp('');
    const entry = {
      type: 'upkeep-done',
      machine: machines[0]!.machine,
      item: 'scale-weights',
      failed: false,
    };
    await page.says({ type: 'choose', id: 'demo' });
    await page.shows(({ phase, blockers }) => phase === 'ready' && blockers.length === 0);
    await page.says({ ...entry, weightKg: 5, readKg: 5.1, stepG: 500 });
    const barred = await page.shows(({ blockers }) => blockers.length > 0);
    expect(barred.blockers.map(({ code }) => code)).toEqual(['scale-unchecked']);
    expect(barred.told.join()).toMatch(/Upkeep failed: Scale/);
    await page.says({ type: 'start' });
    expect((await page.hears('refused')).because).toMatch(/stands against/);
    await page.says({ ...entry, weightKg: 5, readKg: 5.001, stepG: 500 });
    await page.shows(({ blockers, told }) => blockers.length === 0 && told.length === 0);
    expect(breaks(store)).toEqual([]);
  });

  test('whoever has no control may look, and writes nothing', async () => {
    const other = new FakePage(running.served.port);
    await other.says({ type: 'look-up', words: '' });
    expect((await other.hears('records')).jobs.length).toBe(1);
    await other.says({ type: 'upkeep-done', machine: 'any', item: 'lay-up', failed: false });
    expect((await other.hears('refused')).because).toMatch(/take control first/);
    await page.says({ type: 'upkeep-done', machine: 'no such', item: 'lay-up', failed: false });
    expect((await page.hears('refused')).because).toMatch(/no such machine/);
    other.socket.close();
  });

  test('a job whose power fails is left open, and another one waits for what becomes of it', () => {
    const me = { audience: 'teacher' } as const;
    panel.come(me);
    panel.heed(me, { type: 'take-control' });
    panel.heed(me, { type: 'start' });
    panel.heed(me, { type: 'fault', fault: 'power-lost', on: true, shown: true });
    panel.bench.turn();
    const { outcome, told } = panel.snapshot('class');
    expect(outcome).toBe('power-lost');
    expect(told.join()).toMatch(/Job 2 is left open; coldbench resume/);
    panel.heed(me, { type: 'choose', id: 'demo' });
    expect(panel.snapshot('class').blockers.map(({ code }) => code)).toEqual(['job-left-open']);
  });
});
