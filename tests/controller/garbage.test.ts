// Garbage into the scan: it never throws, never commands a forbidden combination, and its state stays plain data.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { progress } from '../../controller/progress.ts';
import { jobResult } from '../../controller/result.ts';
import { scan } from '../../controller/scan.ts';
import { OUTPUTS, type Readings, SAFE_COMMANDS } from '../../controller/signals.ts';
import { readingsAt } from './support/readings.ts';
import { STARTS, wish } from './support/starts.ts';
import { unsafe } from './support/unsafe.ts';

const SEED = 20_260_102;

const numbers = fc.oneof(
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, -0, -1, 1e300, -1e300),
  fc.double(),
  fc.double({ min: 0, max: 2e6, noNaN: true }),
);
const SENSORS = Object.keys(readingsAt(0)) as (keyof Readings)[];

const reading = (sensor: keyof Readings, nowMs: number): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 4, arbitrary: fc.constant(readingsAt(nowMs)[sensor]) },
    fc.record({
      ok: fc.constant(true),
      value: numbers,
      atMs: fc.constantFrom(nowMs, nowMs - 1e6, nowMs + 1e6, Number.NaN),
    }),
    fc.constantFrom(
      { ok: false, reason: 'open-circuit' },
      { ok: false, reason: 'stale' },
      { ok: false, reason: 'not-fitted' },
      undefined,
      null,
      42,
      'text',
      {},
      { ok: true },
      { ok: true, value: 'text', atMs: nowMs },
      { ok: true, value: true, atMs: nowMs },
    ),
  );
const readingsOf = (nowMs: number): fc.Arbitrary<Readings> =>
  fc.record(
    Object.fromEntries(SENSORS.map((sensor) => [sensor, reading(sensor, nowMs)])),
  ) as unknown as fc.Arbitrary<Readings>;

const events = fc.array(
  fc.constantFrom<unknown>(
    { type: 'paused' },
    { type: 'resumed' },
    { type: 'reset' },
    { type: 'confirmed', prompt: 'connect-hoses' },
    { type: 'confirmed', prompt: 'close-couplers' },
    { type: 'confirmed', prompt: 'warm-vehicle' },
    { type: 'identified', result: { refrigerant: 'R-134a', purityPercent: Number.NaN } },
    { type: 'confirmed', prompt: 'start-engine' },
    { type: 'confirmed', prompt: 'stop-engine' },
    { type: 'confirmed', prompt: 'close-high-coupler' },
    { type: 'entered', prompt: 'read-catch-bottle', volumeM3: Number.NaN },
    { type: 'entered', prompt: 'read-catch-bottle', volumeM3: 1e9 },
    { type: 'entered' },
    { type: 'identified' },
    { type: 'by-hand-begun' },
    { type: 'by-hand-ended' },
    { type: 'all-wished-off' },
    ...OUTPUTS.map((output) => wish(output, true)),
    { type: 'wished', output: 'vacuumValve', on: true, offAfterMs: 150 },
    { type: 'wished', output: 'chargeValve', on: true, offAfterMs: Number.NaN },
    { type: 'wished', output: 'door', on: true },
    { type: 'wished' },
    { type: 'unheard-of' },
    null,
    undefined,
  ),
  { maxLength: 2 },
);

describe('Garbage', () => {
  test('of every kind, in every stage, never throws and never leaves an unsafe word', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...STARTS),
        fc.array(fc.tuple(fc.constantFrom(100, 100, 100, 0, -5_000, 60_000, Number.NaN), fc.nat()), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.infiniteStream(events),
        fc.gen(),
        (start, steps, heard, gen) => {
          let state = start;
          let nowMs = start.memory.lastScanMs;
          for (const [stepMs] of steps) {
            const atMs = nowMs + stepMs;
            const readings = gen(readingsOf, Number.isFinite(atMs) ? atMs : nowMs);
            const result = scan(state, readings, atMs, heard.next().value as never);
            expect(unsafe(result.commands)).toBeUndefined();
            expect(JSON.stringify(JSON.parse(JSON.stringify(result.state)))).toBe(
              JSON.stringify(result.state),
            );
            expect(JSON.stringify(result.state)).not.toMatch(/:null(?!,"spoiled)/);
            expect(() => [progress(result.state, atMs), jobResult(result.state)]).not.toThrow();
            state = result.state;
            if (Number.isFinite(atMs)) nowMs = Math.max(nowMs, atMs);
          }
        },
      ),
      { seed: SEED, numRuns: 1_000 },
    );
  });

  test('no readings at all is the safe state', () => {
    for (const start of STARTS) {
      const nothing = scan(start, undefined as never, start.memory.lastScanMs + 100, []);
      expect(nothing.commands).toEqual(SAFE_COMMANDS);
      const empty = scan(start, {} as never, start.memory.lastScanMs + 100, []);
      expect(empty.commands).toEqual(SAFE_COMMANDS);
    }
  });

  test('a fault of the controller itself trips and says so', () => {
    const start = STARTS[3]!;
    const broken = { ...start, plan: { ...start.plan, weighing: undefined, curve: undefined } } as never;
    let result = scan(broken, readingsAt(start.memory.lastScanMs + 100), start.memory.lastScanMs + 100, []);
    for (let i = 2; i < 100 && result.state.memory.trip === undefined; i += 1) {
      const nowMs = start.memory.lastScanMs + 100 * i;
      result = scan(result.state, readingsAt(nowMs), nowMs, [{ type: 'confirmed', prompt: 'connect-hoses' }]);
    }
    expect(result.state.memory.trip?.row).toBe('controller');
    expect(result.commands).toEqual(SAFE_COMMANDS);
    expect(result.notices.map(({ code }) => code)).toContain('tripped');
  });
});
