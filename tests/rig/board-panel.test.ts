// A real rig behind the page, with the real firmware on an emulated board: commissioned by answers, driven for a job, and dark whenever nobody is there.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import type { Message } from '../../app/page/messages.ts';
import { BoardPanel } from '../../app/page/server/board-panel.ts';
import type { Snapshot } from '../../app/page/shown.ts';
import type { CommissioningView } from '../../app/page/shown-board.ts';
import { breaks } from '../../app/records/chain.ts';
import { listJobs, readJob } from '../../app/records/jobs.ts';
import { JobRecorder } from '../../app/records/recorder.ts';
import { Store } from '../../app/records/store.ts';
import { StoreProblem } from '../../app/records/store-problem.ts';
import { readRecord } from '../../app/rig/equipment-file.ts';
import { Connection } from '../../hardware/connection.ts';
import { VirtualMachine } from '../app/rig/virtual-machine.ts';

const EQUIPMENT = 'tests/app/rig/equipment.json';
const START_MS = Date.parse('2031-05-07T00:00:00.000Z');
const CAR = {
  name: 'a small car',
  seed: 3,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
};

let folder: string;
let store: Store;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'coldbench-board-'));
  store = new Store(':memory:');
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

function board(without: readonly string[] = []) {
  const file = path.join(folder, 'rig.json');
  const kept = JSON.parse(readFileSync(EQUIPMENT, 'utf8')) as { lines: Record<string, unknown> };
  for (const line of without) delete kept.lines[line];
  writeFileSync(file, JSON.stringify(kept));
  const far = new VirtualMachine(CAR);
  const { nowMs } = far.time;
  const calendarMs = () => START_MS + nowMs();
  const records = { gone: false };
  const connection = new Connection({ open: far.open, nowMs });
  const panel = new BoardPanel({
    connection,
    file,
    nowMs,
    calendarMs,
    fluids: fluidOnce,
    recorderOf: (named, equipment, tell) => {
      if (records.gone) throw new StoreProblem('records.db: the disk answers with an error');
      const origin = { kind: 'rig', port: 'here', file } as const;
      return new JobRecorder({
        store,
        calendar: calendarMs,
        kept: { ...named, machine: 'rig', equipment, origin },
        tell,
      });
    },
  });
  const page = { audience: 'class' } as const;
  panel.come(page);
  const says = (message: Message) => panel.heed(page, message);
  says({ type: 'take-control' });
  const pass = async (ms: number, look: () => boolean = () => false) => {
    const untilMs = nowMs() + ms;
    while (nowMs() < untilMs && !look()) await far.time.sleep(Math.max(1, Math.min(panel.beat(), 20)));
  };
  const commissioning = () => panel.looks()[0] as CommissioningView;
  const snapshot = () => panel.looks()[1] as Snapshot | undefined;
  const answer = (text: string) =>
    says({ type: 'commission-answer', asked: commissioning().under!.ask!.asked, text });
  return { panel, page, far, file, says, pass, commissioning, snapshot, answer, records };
}

describe('commissioning from the page', () => {
  test('a line is led through by answers, kept at once, and the rig may be driven when every line stands', async () => {
    const { says, pass, commissioning, snapshot, answer, file, far } = board(['temperatures']);
    expect(commissioning()).toMatchObject({ ready: false, drivable: false });
    expect(snapshot()).toBeUndefined();
    expect(says({ type: 'start' })).toMatch(/not commissioned/);
    await pass(3_000);
    expect(says({ type: 'commission' })).toBeUndefined();
    await pass(2_000, () => commissioning().under?.ask !== undefined);
    const { asked } = commissioning().under!.ask!;
    expect(answer('')).toBeUndefined();
    await pass(500);
    expect(says({ type: 'commission-answer', asked, text: '' })).toMatch(/any longer/);
    expect(answer('warm')).toBeUndefined();
    await pass(500);
    expect(commissioning().said.at(-1)).toMatchObject({ kind: 'problem' });
    answer('0.2');
    await pass(500);
    for (let more = 0; more < 2; more += 1) {
      await pass(60_000, () => commissioning().under?.ask !== undefined);
      const { ok, value } = far.session.bench.readings().ambientTemperatureK as { ok: true; value: number };
      expect(ok).toBe(true);
      answer(`${(value - 273.15).toFixed(1)} C`);
      await pass(200);
    }
    await pass(60_000, () => commissioning().under === undefined);
    expect(readRecord(file).temperatures?.verdict).toBe('passed');
    expect(commissioning()).toMatchObject({ ready: true, drivable: true });
    expect(snapshot()?.phase).toBe('ready');
  });

  test('a page that is lost while an output is on leaves none on, and what was under way is to be begun anew', async () => {
    const { panel, page, says, pass, commissioning, answer, far } = board(['click-test']);
    const { hold } = far.machine;
    for (const sensor of [
      'tankPressurePa',
      'highSidePressurePa',
      'lowSidePressurePa',
      'manifoldPressurePa',
    ] as const)
      hold.call(far.machine, sensor, 101_325);
    await pass(3_000);
    says({ type: 'commission' });
    await pass(4_000, () => commissioning().under?.ask !== undefined);
    answer('yes');
    await pass(1_000, () => commissioning().under?.ask?.kind === 'enter');
    answer('');
    await pass(5_000, () => far.machine.word !== 0);
    expect(far.machine.word).not.toBe(0);
    panel.leave(page);
    await pass(150);
    expect(far.machine.word).toBe(0);
    expect(commissioning().under).toBeUndefined();
    expect(commissioning().ready).toBe(false);
  });

  test('whoever has no control commissions nothing, and what is the simulated bench’s is refused', () => {
    const { panel, says } = board();
    const other = { audience: 'class' } as const;
    panel.come(other);
    expect(panel.heed(other, { type: 'commission' })).toMatch(/take control first/);
    expect(says({ type: 'step' })).toMatch(/simulated bench/);
    expect(says({ type: 'fault', fault: 'fan-stopped', on: true, shown: true })).toMatch(/simulated bench/);
  });
});

describe('a job on a rig from the page', () => {
  test('is planned by what the scale and the tank show, drives the board, is recorded, and ends in order', async () => {
    const { panel, says, pass, snapshot, far } = board();
    expect(snapshot()).toMatchObject({ phase: 'ready' });
    await pass(5_000);
    const ticket = { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' };
    expect(says({ type: 'ticket', ticket: { ...ticket, refrigerant: 'R-1234yf' } })).toBeUndefined();
    await pass(2_500);
    expect(snapshot()!.blockers.length).toBeGreaterThan(0);
    expect(says({ type: 'start' })).toMatch(/stands against/);
    expect(far.words.some((word) => word !== 0)).toBe(false);
    says({ type: 'ticket', ticket });
    await pass(2_500);
    expect(snapshot()!.blockers).toEqual([]);
    expect(says({ type: 'start' })).toBeUndefined();
    await pass(500);
    const reply = (answer: object): string | undefined => {
      const { prompt } = snapshot()!;
      const asked = { prompt: prompt!.id, askedAtMs: prompt!.askedAtMs };
      return says({ type: 'answer', answer: { ...asked, ...answer } } as Message);
    };
    expect(reply({ kind: 'reading', refrigerant: 'R134a', purityPercent: 101 })).toMatch(/100 %/);
    expect(reply({ kind: 'reading', refrigerant: 'R134a', purityPercent: 99.8 })).toBeUndefined();
    await pass(60_000, () => snapshot()?.prompt?.id === 'connect-hoses');
    far.session.bench.operate('connect-hoses');
    reply({ kind: 'done' });
    await pass(300_000, () => far.machine.word !== 0 && snapshot()!.progress.stage === 'recover');
    expect(far.machine.word).not.toBe(0);
    expect(says({ type: 'commission' })).toMatch(/end that first/);

    // The board starts anew in the middle: it is dark, the job waits, and goes on only when somebody says so.
    far.parts.board.reset('brownOut');
    await pass(8_000, () => /back on the line/.test(snapshot()!.undriven ?? ''));
    await pass(300);
    expect(snapshot()!.told.join()).toMatch(/line/);
    expect(snapshot()!.progress.paused).toBe(true);
    expect(far.machine.word).toBe(0);
    expect(says({ type: 'say', what: 'resumed' })).toBeUndefined();
    await pass(1_000);
    expect(snapshot()!.undriven).toBeUndefined();
    expect(snapshot()!.progress.paused).toBe(false);

    expect(says({ type: 'say', what: 'aborted' })).toBeUndefined();
    await pass(120_000, () => snapshot()!.phase === 'ended');
    await pass(500);
    // What it has moved is weighed before the record is closed; nothing else begins meanwhile.
    expect(snapshot()!.told.join()).toMatch(/weighed once more/);
    expect(says({ type: 'choose', id: 'ticket' })).toMatch(/end that first/);
    await pass(120_000, () => panel.isIdle);
    await pass(300);
    expect(snapshot()!.told.join()).not.toMatch(/weighed once more/);
    expect(snapshot()).toMatchObject({ ticketWritten: false });
    expect(says({ type: 'say', what: 'by-hand-begun' })).toMatch(/ticket of the vehicle first/);
    expect(far.machine.word).toBe(0);
    const [job] = listJobs(store, {});
    expect(job).toMatchObject({ outcome: 'stopped', service: 'recover', machine: 'rig' });
    expect(breaks(store)).toEqual([]);
    const { document } = readJob(store, job!.id)!;
    const gainKg = far.session.bench.truth().tankRefrigerantKg - far.session.scenario.tank.contentKg;
    const { afterStop } = document as { afterStop: { tankGainG: number } };
    expect(Math.abs(afterStop.tankGainG - 1000 * gainKg)).toBeLessThan(5);
    expect(snapshot()!.records?.job).toBe(job!.id);
  });

  test('nothing begins by figures that nobody has read off this vehicle, neither the first job nor the next', async () => {
    const { says, pass, snapshot, far } = board();
    const codes = () => snapshot()!.blockers.map(({ code }) => code);
    await pass(5_000);
    expect(snapshot()).toMatchObject({ ticketWritten: false });
    expect(codes()).toEqual(['no-ticket']);
    expect(says({ type: 'start' })).toMatch(/stands against/);
    says({ type: 'ticket', ticket: CAR.ticket });
    await pass(2_500);
    expect(snapshot()).toMatchObject({ ticketWritten: true });
    expect(codes()).toEqual([]);
    // The next vehicle has a label of its own.
    says({ type: 'choose', id: 'ticket' });
    await pass(2_500);
    expect(codes()).toEqual(['no-ticket']);
    expect(far.words.some((word) => word !== 0)).toBe(false);
  });

  test('the server may end in the middle: everything is off and the record is closed, and nobody waits for a weighing', async () => {
    const { panel, says, pass, snapshot, far } = board();
    says({ type: 'ticket', ticket: CAR.ticket });
    await pass(4_000);
    expect(says({ type: 'start' })).toBeUndefined();
    await pass(2_000);
    panel.end();
    await pass(5_000, () => panel.isIdle);
    await pass(300);
    expect(panel.isIdle).toBe(true);
    expect(far.machine.word).toBe(0);
    expect(listJobs(store, {})[0]).toMatchObject({ outcome: 'stopped' });
    expect(snapshot()!.told.join()).not.toMatch(/weighed once more/);
  });

  test('an equipment file that was spoiled meanwhile, and records that are gone, are told, and nothing is driven', async () => {
    const { says, pass, commissioning, snapshot, file, far, records } = board();
    await pass(2_000);
    says({ type: 'ticket', ticket: CAR.ticket });
    await pass(3_000);
    expect(snapshot()!.blockers).toEqual([]);
    records.gone = true;
    await pass(4_500);
    expect(snapshot()!.blockers.map(({ code }) => code)).toEqual(['records-unread']);
    expect(says({ type: 'start' })).toMatch(/disk answers with an error/);
    says({ type: 'commission', line: 'temperatures' });
    await pass(500);
    writeFileSync(file, '{}');
    says({ type: 'commission-go', where: 'quit' });
    await pass(500);
    expect(commissioning()).toMatchObject({ drivable: false });
    expect(commissioning().problem).toMatch(/rig\.json/);
    expect(far.machine.word).toBe(0);
  });

  test('by hand the board obeys one wish after the other, and a page that is lost takes them back', async () => {
    const { panel, page, says, pass, snapshot, far } = board();
    await pass(5_000);
    expect(says({ type: 'say', what: 'by-hand-begun' })).toMatch(/ticket of the vehicle first/);
    says({ type: 'ticket', ticket: CAR.ticket });
    expect(says({ type: 'say', what: 'by-hand-begun' })).toBeUndefined();
    await pass(500);
    says({ type: 'wish', output: 'vacuumPump', on: true });
    await pass(1_000);
    expect(far.machine.word).not.toBe(0);
    expect(snapshot()!.outputs.find(({ output }) => output === 'vacuumPump')?.on).toBe(true);
    panel.leave(page);
    await pass(400);
    expect(far.machine.word).toBe(0);
  });

  test('by hand the word of the engine counts, and whoever ends it writes the ticket of the next vehicle anew', async () => {
    const { says, pass, snapshot, panel } = board();
    await pass(5_000);
    expect(says({ type: 'hands', action: 'start-engine' })).toMatch(/not worked by hand/);
    says({ type: 'ticket', ticket: CAR.ticket });
    says({ type: 'say', what: 'by-hand-begun' });
    await pass(500);
    const refusal = () =>
      snapshot()!.outputs.find(({ output }) => output === 'recoveryValve')?.refusal?.row ?? 'permitted';
    expect(refusal()).toBe('permitted');
    expect(says({ type: 'hands', action: 'connect-hoses' })).toMatch(/simulated bench/);
    expect(says({ type: 'hands', action: 'start-engine' })).toBeUndefined();
    await pass(500);
    expect(refusal()).toBe('IL-32');
    says({ type: 'hands', action: 'stop-engine' });
    await pass(500);
    expect(refusal()).toBe('permitted');
    says({ type: 'say', what: 'by-hand-ended' });
    await pass(500);
    expect(snapshot()).toMatchObject({ phase: 'ready', ticketWritten: false });
    expect(says({ type: 'say', what: 'by-hand-begun' })).toMatch(/ticket of the vehicle first/);
    expect(says({ type: 'start' })).toMatch(/stands against/);
    expect(panel.rig?.blockers.map(({ code }) => code)).toEqual(['no-ticket']);
  });

  test('a trip is reset before the next ticket is written: it is not forgotten with the vehicle before', async () => {
    const { says, pass, snapshot, far } = board();
    await pass(5_000);
    says({ type: 'ticket', ticket: CAR.ticket });
    says({ type: 'say', what: 'by-hand-begun' });
    await pass(500);
    far.session.bench.switchFault({ fault: 'emergency-stop' }, true);
    await pass(1_000);
    expect(snapshot()).toMatchObject({ phase: 'ready', trip: { reason: 'emergency-stop' } });
    for (const message of [{ type: 'ticket', ticket: CAR.ticket }, { type: 'start' }] as const)
      expect(says(message)).toMatch(/reset the trip first/);
    far.session.bench.switchFault({ fault: 'emergency-stop' }, false);
    await pass(1_000);
    says({ type: 'say', what: 'reset' });
    await pass(500);
    expect(snapshot()!.trip).toBeUndefined();
    expect(says({ type: 'ticket', ticket: CAR.ticket })).toBeUndefined();
  });

  test('a tank of another refrigerant than the ticket’s is not worked by hand either', async () => {
    const { says, pass, snapshot, far } = board();
    await pass(5_000);
    says({ type: 'ticket', ticket: { ...CAR.ticket, refrigerant: 'R-1234yf' } });
    expect(says({ type: 'say', what: 'by-hand-begun' })).toMatch(/tank holds R-134a, the ticket asks for/);
    await pass(500);
    expect(snapshot()).toMatchObject({ phase: 'ready' });
    expect(far.words.some((word) => word !== 0)).toBe(false);
  });
});
