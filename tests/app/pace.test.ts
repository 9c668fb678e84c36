import { expect, test } from 'vitest';
import { Pace } from '../../app/run/by-hand.ts';

test('simulated time follows the wall clock in whole scans, and owes the rest', () => {
  let wallMs = 1_000;
  const pace = new Pace(() => wallMs, 2);
  expect(pace.dueMs()).toBe(0);
  wallMs += 130;
  expect(pace.dueMs()).toBe(200);
  wallMs += 20;
  expect(pace.dueMs()).toBe(100);
});

test('a computer that slept does not make it jump, nor a clock that ran back', () => {
  let wallMs = 0;
  const pace = new Pace(() => wallMs, 1);
  wallMs = 3_600_000;
  expect(pace.dueMs()).toBe(1_000);
  wallMs = 0;
  expect(pace.dueMs()).toBe(0);
});
