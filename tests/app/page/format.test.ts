// Figures as the page shows them, and what is typed into its fields by people who write numbers in their own way.
import { expect, test } from 'vitest';
import { inOne, isUnread, parted, typedNumber } from '../../../app/page/web/format.ts';

test('a point or a comma; nothing typed is nothing, and what cannot be read is told from that', () => {
  expect(['2.5', '2,5', ' 7 ', '', ' ', '4 %', '1.234,5', 'none'].map(typedNumber)).toEqual([
    2.5,
    2.5,
    7,
    undefined,
    undefined,
    undefined,
    undefined,
    undefined,
  ]);
  expect(['', '  ', '2,5'].some(isUnread)).toBe(false);
  expect(['4 %', '1.234,5', 'none'].every(isUnread)).toBe(true);
});

test('a figure reads the same wherever it stands: thousands apart, a minus that is one', () => {
  expect(parted('59973 Pa')).toEqual({ value: '59\u202f973', unit: 'Pa' });
  expect(inOne('59973 Pa')).toBe('59\u202f973 Pa');
  expect(inOne('1234567 micron')).toBe('1\u202f234\u202f567 micron');
  expect(inOne('-0.41 bar g')).toBe('−0.41 bar g');
  expect(inOne('-1240 Pa abs')).toBe('−1\u202f240 Pa abs');
});
