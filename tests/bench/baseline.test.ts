import { expect, test } from 'vitest';
import { type KeptTopic, timesWorse, WORSE, yardstickMs } from './baseline.ts';
import { fullyNamed, type Row } from './row.ts';

const kept: KeptTopic = {
  machine: 'a machine',
  yardstickMs: 10,
  rows: [
    { what: 'a scan', value: 4, unit: 'µs' },
    { what: 'a flash', value: 8, unit: 'million/s' },
    { what: 'memory', value: 300, unit: 'MB' },
    { what: 'two workers against one', value: 1.9, unit: '×' },
  ],
};
const row = (what: string, value: number, unit: string): Row => ({ what, value, unit });

test('a machine of half the speed is no slower program', () => {
  expect(timesWorse(row('a scan', 8, 'µs'), kept, 20)).toBeCloseTo(1, 12);
  expect(timesWorse(row('a flash', 4, 'million/s'), kept, 20)).toBeCloseTo(1, 12);
  // What is no time does not depend on the machine's speed.
  expect(timesWorse(row('memory', 300, 'MB'), kept, 20)).toBeCloseTo(1, 12);
  expect(timesWorse(row('two workers against one', 1.9, '×'), kept, 20)).toBeCloseTo(1, 12);
});

test('a program that takes twice as long, or does half as much, is twice as bad on the same machine', () => {
  expect(timesWorse(row('a scan', 8, 'µs'), kept, 10)).toBeCloseTo(2, 12);
  expect(timesWorse(row('a flash', 4, 'million/s'), kept, 10)).toBeCloseTo(2, 12);
  expect(timesWorse(row('memory', 600, 'MB'), kept, 10)).toBeCloseTo(2, 12);
  expect(timesWorse(row('two workers against one', 0.95, '×'), kept, 10)).toBeCloseTo(2, 12);
  expect(WORSE).toBeLessThan(2);
});

test('a limit says which way is better, and what was not kept is not compared', () => {
  const better = { ...row('a scan', 8, 'µs'), limit: { atLeast: 1 } };
  expect(timesWorse(better, kept, 10)).toBeCloseTo(0.5, 12);
  expect(timesWorse(row('another', 8, 'µs'), kept, 10)).toBeUndefined();
  expect(timesWorse(row('a scan', 8, 'ms'), kept, 10)).toBeUndefined();
  expect(timesWorse(row('a scan', 8, 'µs'), undefined, 10)).toBeUndefined();
});

test('what is set in under two rows is two figures', () => {
  const rows = [
    row('first', 2, 's'),
    row('  of it scans', 1, 's'),
    row('warm', 1, 's'),
    row('  of it scans', 0.5, 's'),
  ];
  const named = fullyNamed(rows);
  expect(new Set(named.map(({ what }) => what)).size).toBe(4);
  const before = { ...kept, rows: named };
  expect(named.map((each) => timesWorse(each, before, 10))).toEqual([1, 1, 1, 1]);
});

test('the yardstick takes time', () => {
  expect(yardstickMs()).toBeGreaterThan(0);
});
