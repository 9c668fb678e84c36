// A hundred thousand scans of garbage against what the readings alone would allow, told without the controller's code.
import { describe, expect, test } from 'vitest';
import type { OperatorEvent } from '../../controller/operator.ts';
import { type ControllerState, scan } from '../../controller/scan.ts';
import { type Commands, OUTPUTS, type Output, type Readings } from '../../controller/signals.ts';
import { Random } from '../../sim/random.ts';
import { readingsAt } from './support/readings.ts';
import { STARTS, wish } from './support/starts.ts';
import { unsafe } from './support/unsafe.ts';

const SEED = 20_260_303;
const SCANS = 100_000;
const SCANS_OF_A_RUN = 50;

const SENSORS = Object.keys(readingsAt(0)) as (keyof Readings)[];
const VALUES = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  0,
  -0,
  -1,
  1e300,
  -1e300,
  5e-324,
];
const NOTHING = [
  undefined,
  null,
  42,
  'text',
  {},
  { ok: true },
  { ok: 'yes', value: 1 },
  { ok: false, reason: 'stale' },
];
const STEPS_MS = [100, 100, 100, 100, 100, 100, 0, -5_000, 60_000, Number.NaN, Number.POSITIVE_INFINITY];
const EVENTS = [
  { type: 'paused' },
  { type: 'resumed' },
  { type: 'reset' },
  { type: 'confirmed', prompt: 'connect-hoses' },
  { type: 'confirmed', prompt: 'start-engine' },
  { type: 'confirmed', prompt: 'stop-engine' },
  { type: 'by-hand-begun' },
  ...OUTPUTS.map((output) => wish(output, true)),
  { type: 'wished', output: 'chargeValve', on: true, offAfterMs: Number.NaN },
  { type: 'entered', prompt: 'read-catch-bottle', volumeM3: Number.NaN },
  { type: 'unheard-of' },
  null,
] as unknown as readonly OperatorEvent[];

const one = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)]!;

function spoilt(random: Random, sensor: keyof Readings, nowMs: number, readings: Readings): unknown {
  const fate = random.uniform();
  if (fate < 0.2) return one(random, NOTHING);
  const atMs = one(random, [nowMs, nowMs, nowMs - 1e6, nowMs + 1e6, Number.NaN]);
  if (fate < 0.5) return { ok: true, value: one(random, VALUES), atMs };
  if (fate < 0.6) return { ok: true, value: one(random, ['text', true, [], {}]), atMs };
  if (fate < 0.8) return { ok: true, value: random.uniform() * 3e6, atMs };
  const { ok, ...rest } = readings[sensor];
  return { ...rest, ok, atMs };
}

function garbage(random: Random, nowMs: number): Readings {
  const readings = readingsAt(nowMs);
  const share = one(random, [0, 0, 0.02, 0.2, 0.8]);
  const entries = SENSORS.map((sensor) => [
    sensor,
    random.uniform() < share ? spoilt(random, sensor, nowMs, readings) : readings[sensor],
  ]);
  return Object.fromEntries(entries) as Readings;
}

type Raw = { readonly ok?: unknown; readonly value?: unknown; readonly atMs?: unknown } | null | undefined;

/** The number or word that a reading has, where anybody may believe that it has one. */
function told(reading: unknown, nowMs: number): unknown {
  const raw = reading as Raw;
  if (typeof raw !== 'object' || raw === null || raw.ok !== true) return undefined;
  return typeof raw.atMs === 'number' && Math.abs(raw.atMs - nowMs) <= 1_000 ? raw.value : undefined;
}

const isNumber = (value: unknown, least: number, most: number): value is number =>
  typeof value === 'number' && value >= least && value <= most;

/** What may not be on whatever else is so, by these readings and the time since the last scan. */
function mayNot(readings: Readings, nowMs: number, gapMs: number): readonly Output[] {
  if (!(gapMs >= 0 && gapMs <= 2_000) || told(readings.emergencyStop, nowMs) !== false) return OUTPUTS;
  const off: Output[] = [];
  const counts = told(readings.scaleCounts, nowMs);
  if (!isNumber(counts, -(2 ** 31), 2 ** 31)) off.push('chargeValve', 'recoveryValve', 'compressor');
  const tankPa = told(readings.tankPressurePa, nowMs);
  if (!isNumber(tankPa, -2e5, 1e7)) off.push('recoveryValve', 'compressor', 'tankHeater', 'chargeValve');
  const manifoldPa = told(readings.manifoldPressurePa, nowMs);
  if (!isNumber(manifoldPa, -1e4, 1.6e5))
    off.push('vacuumValve', 'oilValve', 'dyeValve', 'separatorDrainValve');
  if (!isNumber(told(readings.tankTemperatureK, nowMs), 150, 450)) off.push('tankHeater');
  if (told(readings.highPressureSwitch, nowMs) !== false)
    off.push('recoveryValve', 'compressor', 'tankHeater');
  return off;
}

/** What is on and may not be. */
function wrong(commands: Commands, readings: Readings, nowMs: number, gapMs: number): readonly string[] {
  const forbidden = mayNot(readings, nowMs, gapMs).filter((output) => commands[output].on);
  const word = unsafe(commands);
  return word === undefined ? forbidden : [...forbidden, word];
}

describe('A hundred thousand scans of garbage', () => {
  const random = new Random(SEED, 'garbage');
  let trips = 0;
  let worked = 0;

  function ran(start: ControllerState): void {
    let state = start;
    let nowMs = start.memory.lastScanMs;
    for (let i = 0; i < SCANS_OF_A_RUN; i += 1) {
      const atMs = nowMs + one(random, STEPS_MS);
      const believedMs = Number.isFinite(atMs) ? atMs : state.memory.lastScanMs;
      const readings = garbage(random, believedMs);
      const events = random.uniform() < 0.3 ? [one(random, EVENTS)] : [];
      const gapMs = believedMs - state.memory.lastScanMs;
      const result = scan(state, readings, atMs, events);
      const found = wrong(result.commands, readings, believedMs, gapMs);
      if (found.length > 0)
        expect.fail(`${found} at ${believedMs} of ${state.stage?.stage}: ${JSON.stringify(readings)}`);
      if (OUTPUTS.some((output) => result.commands[output].on)) worked += 1;
      state = result.state;
      nowMs = believedMs;
    }
    if (state.memory.trip !== undefined) trips += 1;
    const text = JSON.stringify(state);
    if (JSON.stringify(JSON.parse(text)) !== text || /:null(?!,"spoiled)/.test(text))
      expect.fail(
        `a state that is no plain data after ${start.stage?.stage}: ${[...text.matchAll(/.{0,80}:null.{0,60}/g)].map(String).join(' ; ')}`,
      );
  }

  test('none throws, and none commands what its readings cannot allow', () => {
    for (let scans = 0; scans < SCANS; scans += SCANS_OF_A_RUN) ran(one(random, STARTS));
    expect(worked).toBeGreaterThan(SCANS / 50);
    expect(trips).toBeGreaterThan(0);
  });

  test('a word that goes on without its readings would be found', () => {
    const start = STARTS.find(({ judged }) => judged?.permitted.chargeValve.on === true)!;
    const nowMs = start.memory.lastScanMs;
    const blind = {
      ...readingsAt(nowMs),
      scaleCounts: { ok: true, value: Number.NaN, atMs: nowMs },
    } as Readings;
    expect(wrong(start.judged!.permitted, readingsAt(nowMs), nowMs, 100)).toEqual([]);
    expect(wrong(start.judged!.permitted, blind, nowMs, 100)).toEqual(['chargeValve']);
  });
});
