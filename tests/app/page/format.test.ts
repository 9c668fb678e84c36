// What is typed into the page's fields, by people who write numbers in their own way.
import { expect, test } from 'vitest';
import { isUnread, typedNumber } from '../../../app/page/web/format.ts';

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
