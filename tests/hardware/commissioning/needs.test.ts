// A line that has failed stops what rests on it, by name, and nothing else.
import { expect, it } from 'vitest';
import { readRecord } from '../../../app/rig/equipment-file.ts';
import { beginSession, step } from '../../../hardware/commissioning/engine.ts';
import { LINES, lineOf } from '../../../hardware/commissioning/lines/index.ts';
import { whyNotRun } from '../../../hardware/commissioning/needs.ts';
import type { EquipmentRecord, LineId } from '../../../hardware/commissioning/record.ts';
import { seenWith } from './support.ts';

const PASSED = readRecord('tests/app/rig/equipment.json');
const NOW = PASSED['leak-test']!.date;
const NOW_MS = Date.parse(NOW);

const without = (...lines: readonly LineId[]): EquipmentRecord =>
  Object.fromEntries(Object.entries(PASSED).filter(([id]) => !lines.includes(id as LineId)));
const failing = (record: EquipmentRecord, id: LineId): EquipmentRecord => ({
  ...record,
  [id]: { ...PASSED[id]!, verdict: 'failed', why: 'broken' },
});
const why = (id: LineId, record: EquipmentRecord): string | undefined =>
  whyNotRun(lineOf(id), record, NOW_MS);

it('nothing waits where all stands; what is only missing is to be run first', () => {
  expect(LINES.filter(({ id }) => why(id, PASSED) !== undefined)).toEqual([]);
  expect(why('leak-test', without('volumes'))).toBe('needs the line volumes first');
});

it('the failure itself is named, also where what lies between could not be run', () => {
  const record = failing(without('click-test', 'atmosphere', 'second-point'), 'alarms');
  for (const id of ['click-test', 'atmosphere', 'dead-time', 'in-flight'] as const)
    expect(why(id, record)).toBe('waits for alarms, which has failed');
  for (const id of ['emergency-stop', 'high-pressure', 'scale', 'temperatures'] as const)
    expect(why(id, record)).toBeUndefined();
});

it('a session says so of each, and goes on with what rests on others', () => {
  const record = failing(without('click-test', 'atmosphere', 'temperatures'), 'alarms');
  let session = beginSession({ record, refrigerants: ['R-134a'], nowMs: NOW_MS });
  const said: string[] = [];
  const given = { seen: seenWith({}, {}, 0), nowMs: 0, date: NOW };
  session = step(session, { ...given, answer: { go: 'skip' } }).session;
  while (session.under === undefined) {
    const turn = step(session, given);
    session = turn.session;
    said.push(...turn.says.map(({ kind, line, text }) => `${line} ${kind}: ${text}`));
  }
  expect(said).toEqual([
    'click-test held-up: waits for alarms, which has failed',
    'atmosphere held-up: waits for alarms, which has failed',
    'temperatures begins: Thermometers',
  ]);
});
