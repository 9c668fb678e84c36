// A job left off, moment by moment: what comes next, what the tank has gained, and what the vehicle may hold.

import { describe, expect, test } from 'vitest';
import {
  type AfterCut,
  gainSinceBooked,
  isLeftOpen,
  reopened,
  standAfterCut,
} from '../../controller/after-cut.ts';
import { openMemory } from '../../controller/interlocks/memory.ts';
import type { Stage } from '../../controller/stages.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { weighingOf } from './support/weighings.ts';

const FIRST = weighingOf(8, { atMs: 1_000 });
/** The charge valve was open after the first weighing. */
const STIRRED: Moment['memory'] = { tankStirredAtMs: 2_000 };
const stands = (moment: Moment, nowKg?: number): AfterCut =>
  standAfterCut(momentOf(moment), nowKg === undefined ? undefined : weighingOf(nowKg, { atMs: 9_000 }));
const near = (kg: number) => expect.closeTo(kg, 6);

describe('What comes next', () => {
  const next = (moment: Moment, ...stages: readonly Stage[]) => {
    const visits = stages.map((stage) => ({ stage, startedAtMs: 0 }));
    return stands({ ...moment, state: { visits } }).next;
  };
  const weighed = { accounts: { weighedFirst: FIRST } };

  test('is by the newest visit to recovery, leak check or evacuation', () => {
    expect(next(weighed, 'recover', 'evacuate', 'hold')).toBe('evacuate-again');
    expect(next(weighed, 'evacuate', 'hold', 'recover', 'rest')).toBe('recover-again');
    expect(next({ ...weighed, ticket: { leakCheck: true } }, 'evacuate', 'leak-check')).toBe('recover-again');
    expect(next(weighed, 'settle')).toBe('recover-again');
  });

  test('is to begin anew where nothing was weighed, or the service recovers nothing', () => {
    expect(next({}, 'settle')).toBe('begin-anew');
    expect(next({ ...weighed, ticket: { service: 'evacuate-and-charge' } }, 'settle')).toBe('begin-anew');
  });

  test('is to go on filling a tank that was being filled', () => {
    const ticket = { service: 'fill-tank' } as const;
    expect(next({ ...weighed, ticket }, 'fill')).toBe('fill-again');
    expect(next({ ticket }, 'fill')).toBe('begin-anew');
  });

  test('is by what was booked of a charge, before anything else', () => {
    const charging = { accounts: { weighedFirst: FIRST, weighedBeforeCharge: FIRST } };
    expect(next(charging, 'evacuate')).toBe('draw-hoses-back');
    expect(next({ accounts: { ...charging.accounts, netChargeKg: 0.6 } }, 'evacuate')).toBe('nothing');
  });
});

test('An engine that is not known to stand may run', () => {
  const may = (engine: 'off' | 'running' | 'suspected') =>
    stands({ memory: { engineWatch: { ...openMemory(0).engineWatch, engine } } }).engineMayRun;
  expect([may('off'), may('running'), may('suspected')]).toEqual([false, true, true]);
});

test('A machine that is opened again keeps what it learnt and what it must not forget, and no job', () => {
  const hoseForce = { kgPerPa: 1e-8, sdKgPerPa: 1e-9 };
  const trip = { row: 'IL-24', reason: 'gas-alarm', atMs: 5 };
  const engineWatch = { ...openMemory(0).engineWatch, engine: 'running' } as const;
  const journal = momentOf({
    accounts: { hoseForce, recoveredKg: 0.3 },
    memory: { trip, engineWatch, purgedMs: 7, highOpenSinceMs: 3 },
  });
  const again = reopened(journal, 60_000);
  expect(again).toMatchObject({ chart: { value: 'idle' }, stage: undefined, visits: [] });
  expect(again.accounts).toMatchObject({ hoseForce, recoveredKg: undefined });
  expect(again.memory).toEqual({ ...openMemory(60_000), trip, engineWatch, purgedMs: 7 });
});

describe('The tank', () => {
  const weighed = { weighedFirst: FIRST };

  test('has gained what the scale shows, where a path to it has been open since', () => {
    expect(stands({ accounts: weighed, memory: STIRRED! }, 8.005)).toMatchObject({ tankGainKg: near(0.005) });
    for (const memory of [{ purgedMs: 1 }, { purging: true }])
      expect(stands({ accounts: weighed, memory }, 7.995)).toMatchObject({ tankGainKg: near(-0.005) });
    // It was stirred before it was weighed, and not since.
    expect(stands({ accounts: weighed, memory: { tankStirredAtMs: 1_000 } }, 8.005).tankGainKg).toBe(0);
  });

  test('has gained nothing where none was, unless the scale shows three deviations', () => {
    // A bump of 2 g that nobody saw, 0.2 g of each mean, 0.1 g of hidden warmth: 2.02 g.
    expect(stands({ accounts: weighed }, 8.006)).toMatchObject({ tankGainKg: 0, uncertaintyKg: 0.001 });
    expect(stands({ accounts: weighed }, 7.9939)).toMatchObject({ tankGainKg: near(-0.0061) });
    expect(stands({ accounts: weighed }, 8.0061).uncertaintyKg).toBeCloseTo(2 * 0.00202, 4);
  });

  test('that cannot be weighed has gained nothing where nothing was open, and else nobody knows', () => {
    expect(stands({ accounts: weighed })).toMatchObject({ tankGainKg: 0, uncertaintyKg: 0.001 });
    expect(Object.keys(stands({ accounts: weighed, memory: STIRRED! }))).not.toContain('tankGainKg');
    expect(Object.keys(stands({}, 8))).toEqual(['next', 'engineMayRun']);
  });

  test('is weighed without what leant on its platform before the cut, and one bump more in doubt', () => {
    const scale = { offsetKg: 3, bumps: 4, undecidedVarianceKg2: 4e-6 };
    const before = { ...FIRST, bumps: 4 };
    const { tankGainKg, uncertaintyKg } = stands(
      { accounts: { weighedFirst: before }, memory: STIRRED!, scale },
      11.2,
    );
    expect(tankGainKg).toBeCloseTo(0.2, 6);
    expect(uncertaintyKg).toBeCloseTo(2 * Math.hypot(0.002, 0.002), 3);
  });
});

describe('The vehicle', () => {
  const charging: Moment = {
    accounts: { weighedFirst: weighingOf(5), weighedBeforeCharge: FIRST },
    memory: STIRRED!,
  };
  /** 126 mL of hoses and manifold, with liquid of 0 °C: 1294.8 kg/m³ (equation of Tillner-Roth and Baehr). */
  const ROOM_KG = 126e-6 * 1294.8;
  const COIL_KG = 0.12e-3 * 1294.8;
  const held = (moment: Moment, nowKg = 7.6) => stands({ ...charging, ...moment }, nowKg).vehicle!;

  test('holds no less than left the tank and found no room on its way, and no more than left it', () => {
    const { leastKg, mostKg } = held({});
    const sd2Kg = stands(charging, 7.6).uncertaintyKg!;
    expect(leastKg).toBeCloseTo(0.4 - sd2Kg - ROOM_KG, 3);
    expect(mostKg).toBeCloseTo(0.4 + sd2Kg, 3);
    expect(mostKg - leastKg).toBeGreaterThan(ROOM_KG);
  });

  test('may be short by what the condenser has room for, where the compressor has run since the weighing', () => {
    const { leastKg } = held({});
    const ran = (compressorOffSinceMs: number | undefined) =>
      leastKg - held({ memory: { ...STIRRED, compressorOffSinceMs } }).leastKg;
    expect(ran(1_000)).toBe(0);
    expect(ran(1_001)).toBeCloseTo(COIL_KG, 4);
    expect(ran(undefined)).toBeCloseTo(COIL_KG, 4);
  });

  test('is reckoned with the warmth of the room then, before, or at 20 °C', () => {
    const leastAt = (nowK: number | undefined, beforeK: number | undefined) => {
      const accounts = { weighedBeforeCharge: { ...FIRST, ambientK: beforeK } };
      const after = weighingOf(7.6, { atMs: 9_000, ambientK: nowK });
      const { vehicle, uncertaintyKg } = standAfterCut(momentOf({ ...charging, accounts }), after);
      return vehicle!.leastKg + uncertaintyKg!;
    };
    // Colder liquid is denser, and more of it finds room.
    expect(leastAt(273.15, 293.15)).toBeLessThan(leastAt(293.15, 293.15) - 0.005);
    expect(leastAt(undefined, 273.15)).toBeCloseTo(leastAt(273.15, 293.15), 9);
    expect(leastAt(undefined, undefined)).toBeCloseTo(leastAt(293.15, 293.15), 9);
  });

  test('may hold what the coil kept before, and what a recovery leaves in its oil', () => {
    const { mostKg } = held({});
    const keptBeforeCharge = { kg: 0.03, sdKg: 0, pushes: 0, share: 1 };
    const more = (accounts: Moment['accounts']) =>
      held({ accounts: { ...charging.accounts, ...accounts } }).mostKg - mostKg;
    expect(more({ keptBeforeCharge })).toBeCloseTo(0.03, 3);
    expect(more({ recoveredKg: 0.5 })).toBeCloseTo(0.0009, 6);
    expect(more({ keptBeforeCharge: { ...keptBeforeCharge, kg: 0, sdKg: 0.02 } })).toBeGreaterThan(0.03);
  });

  test('is never said to hold less than nothing, nor anything at least once track of it is lost', () => {
    expect(held({}, 7.9).leastKg).toBe(0);
    expect(held({}, 8.2)).toEqual({ leastKg: 0, mostKg: 0 });
    const lost = held({ accounts: { ...charging.accounts, lostTrack: true } });
    expect(lost).toEqual({ leastKg: 0, mostKg: held({}).mostKg });
  });

  test('is NOT spoken of before its charge has begun', () =>
    expect(Object.keys(stands({ accounts: { weighedFirst: FIRST }, memory: STIRRED! }, 7.6))).not.toContain(
      'vehicle',
    ));
});

describe('A job that was stopped', () => {
  const { chart } = momentOf();
  const leftOpen = (value: 'stopped' | 'completed', moment: Moment) =>
    isLeftOpen(momentOf({ ...moment, state: { chart: { ...chart, value } } }));

  test('is left open where a path to the tank has been opened since its last weighing', () => {
    const weighed = { weighedFirst: FIRST };
    expect(leftOpen('stopped', { accounts: weighed, memory: STIRRED! })).toBe(true);
    expect(leftOpen('completed', { accounts: weighed, memory: STIRRED! })).toBe(false);
    expect(leftOpen('stopped', { accounts: weighed })).toBe(false);
    expect(leftOpen('stopped', { memory: STIRRED! })).toBe(false);
    const later = { ...weighed, weighed: { ...FIRST, atMs: 3_000 } };
    expect(leftOpen('stopped', { accounts: later, memory: STIRRED! })).toBe(false);
  });

  test('has gained since it was last booked what the scale shows', () => {
    const since = (accounts: Moment['accounts'], nowKg?: number) =>
      gainSinceBooked(
        momentOf({ accounts: accounts!, memory: STIRRED! }),
        nowKg === undefined ? undefined : weighingOf(nowKg),
      )?.massKg;
    expect(since({ weighedFirst: FIRST, weighed: { ...FIRST, counts: FIRST.counts + 10_000 } }, 8.3)).toEqual(
      near(0.2),
    );
    expect(since({ weighedFirst: FIRST }, 8.3)).toEqual(near(0.3));
    expect(since({ weighedFirst: FIRST })).toBeUndefined();
    expect(since({}, 8.3)).toBeUndefined();
  });
});
