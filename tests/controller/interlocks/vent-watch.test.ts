// A closed manifold that comes to the pressure of the room: what is called open to it, and what is not.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import { NOT_VENTING, ventOf, watchVent } from '../../../controller/interlocks/vent-watch.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { none, readingsAt } from '../support/readings.ts';

const SCAN_MS = 100;
const SPAN_PA = 160_000;
const ROOM_PA = 101_325;

const BARE = {
  withoutBarometer: false,
  joined: false,
  dry: true,
  pumpRuns: false,
  closedFromS: 0,
  hosePa: 600_000,
};

/** When it is seen, s; undefined when it is not. */
function seenAfterS(pressurePa: (s: number) => number, over: Partial<typeof BARE> = {}, untilS = 600) {
  const { withoutBarometer, joined, dry, pumpRuns, closedFromS, hosePa } = { ...BARE, ...over };
  let watch = NOT_VENTING;
  for (let nowMs = 0; nowMs <= untilS * 1000; nowMs += SCAN_MS) {
    const s = nowMs / 1000;
    const pa = pressurePa(s) + 20 * Math.sin(nowMs * 0.7);
    const readings = readingsAt(nowMs, {
      highSidePressurePa: hosePa,
      manifoldPressurePa: pa > SPAN_PA ? none('out-of-range') : pa,
      barometerPa: withoutBarometer ? none('not-fitted') : ROOM_PA,
    });
    const closed = !joined && s >= closedFromS;
    const input = { closed, joined, dry, pumpRuns };
    watch = watchVent(watch, see(readings, EQUIPMENT, nowMs), input, nowMs);
    if (ventOf(watch) === 'open') return s;
  }
  return undefined;
}

/** Towards the room within a fifth of a second, from a moment on. */
const blowsDown = (fromPa: number, atS: number) => (s: number) =>
  s < atS ? fromPa : ROOM_PA + (fromPa - ROOM_PA) * Math.exp(-(s - atS) / 0.2);

describe('A closed manifold is open to the room', () => {
  test.each([
    { what: 'that held six bar', from: 600_000 },
    { what: 'that held a vacuum', from: 200 },
  ])('when one $what comes to the pressure of the room within seconds', ({ from }) => {
    expect(seenAfterS(blowsDown(from, 0.1))).toBeLessThan(6);
    expect(seenAfterS(blowsDown(from, 200))).toBeLessThan(206);
    expect(seenAfterS(blowsDown(from, 0.1), { withoutBarometer: true })).toBeLessThan(6);
  });

  test('when one full of liquid blows down in ten seconds', () => {
    expect(seenAfterS((s) => Math.max(ROOM_PA, 600_000 - 50_000 * s))).toBeLessThan(15);
  });

  test('when pressure goes down through a pump that runs', () => {
    expect(seenAfterS((s) => 600_000 * Math.exp(-s / 0.1), { pumpRuns: true })).toBeLessThan(6);
  });
});

describe('A manifold with a hose joined to it is open to the room', () => {
  const joined = { joined: true, hosePa: ROOM_PA };

  test('when it falls to the pressure of the room within a minute and stays there', () => {
    expect(seenAfterS(blowsDown(300_000, 20), joined)).toBeLessThan(26);
    // A vehicle behind it, with a time constant of 12 s.
    expect(seenAfterS((s) => ROOM_PA + 460_000 * Math.exp(-s / 12), joined)).toBeLessThan(100);
  });

  test('and NOT when it rises to it: cold liquid in the vehicle may boil at just that pressure', () => {
    expect(seenAfterS(blowsDown(22_000, 20), joined)).toBeUndefined();
  });

  test.each([
    { what: 'takes longer', pa: (s: number) => ROOM_PA + 460_000 * Math.exp(-s / 60) },
    { what: 'comes to rest above it', pa: (s: number) => 112_000 + 400_000 * Math.exp(-s / 12) },
    { what: 'falls through it', pa: (s: number) => 560_000 * Math.exp(-s / 12) },
    { what: 'stood there from the start', pa: () => ROOM_PA },
  ])('and NOT when it $what', ({ pa }) => {
    expect(seenAfterS(pa, joined)).toBeUndefined();
  });
});

describe('A closed manifold is NOT called open', () => {
  test.each([
    { what: 'holds its pressure', pa: () => 600_000 },
    { what: 'holds its vacuum', pa: () => 300 },
    { what: 'stood at the pressure of the room from the start', pa: () => ROOM_PA },
    { what: 'fills up over hours', pa: (s: number) => 50_000 + 100 * Math.min(s, 513) },
    { what: 'rises through it to the pressure of the tank', pa: (s: number) => 300 + 3_000 * s },
    { what: 'falls through it into another segment', pa: (s: number) => 400_000 * Math.exp(-s / 2) },
    { what: 'comes to rest above it', pa: (s: number) => 120_000 + 300_000 * Math.exp(-s) },
    { what: 'comes to rest below it', pa: (s: number) => 80_000 - 79_000 * Math.exp(-s) },
  ])('when it $what', ({ pa }) => {
    expect(seenAfterS(pa)).toBeUndefined();
  });

  test('while a hose stands at the pressure of the room: a valve of its own may let that in', () => {
    for (const hosePa of [ROOM_PA, ROOM_PA - 19_900, ROOM_PA + 19_900])
      expect(seenAfterS(blowsDown(200, 1), { hosePa })).toBeUndefined();
    for (const hosePa of [ROOM_PA - 20_100, ROOM_PA + 20_100])
      expect(seenAfterS(blowsDown(200, 1), { hosePa })).toBeDefined();
    expect(
      seenAfterS((s) => 600_000 * Math.exp(-s / 0.1), { pumpRuns: true, hosePa: ROOM_PA }),
    ).toBeDefined();
  });

  test('while a valve is open', () => {
    expect(seenAfterS(blowsDown(600_000, 1), { closedFromS: 1e9 })).toBeUndefined();
  });

  test('when it came there before it was closed', () => {
    expect(seenAfterS(blowsDown(600_000, 1), { closedFromS: 3 })).toBeUndefined();
  });

  test('when liquid boils in it on the way up', () => {
    expect(seenAfterS(blowsDown(200, 1), { dry: false })).toBeUndefined();
  });

  test('when a running pump has drawn it down before', () => {
    expect(seenAfterS(() => 50, { pumpRuns: true })).toBeUndefined();
  });
});

const HIGH_PA = 600_000;
const CLOSED = { pa: ROOM_PA, hosePa: HIGH_PA, closed: true, joined: false, dry: true, pumpRuns: false };
type Sight = Partial<Omit<typeof CLOSED, 'pa'> & { readonly pa: number | ReturnType<typeof none> }>;

/** The same without noise, so that limits are exact; at the pressure of the room where nothing else is said. */
function openFromS(of: (s: number) => Sight): number | undefined {
  let watch = NOT_VENTING;
  for (let nowMs = 0; nowMs <= 70_000; nowMs += SCAN_MS) {
    const { pa, hosePa, ...input } = { ...CLOSED, ...of(nowMs / 1000) };
    const overSpan = typeof pa === 'number' && pa > SPAN_PA;
    const readings = readingsAt(nowMs, {
      highSidePressurePa: hosePa,
      lowSidePressurePa: HIGH_PA,
      manifoldPressurePa: overSpan ? none('out-of-range') : pa,
    });
    watch = watchVent(watch, see(readings, EQUIPMENT, nowMs), input, nowMs);
    if (ventOf(watch) === 'open') return nowMs / 1000;
  }
  return undefined;
}

describe('The pressure of the room', () => {
  /** High for a second, then what is said. */
  const thenS = (of: (s: number) => Sight) => openFromS((s) => (s < 1 ? { pa: HIGH_PA } : of(s)));

  test('is come to by a manifold that stays there for three seconds, within 700 Pa', () => {
    const waves = (byPa: number) => (s: number) => ({ pa: ROOM_PA + (Math.round(10 * s) % 2) * byPa });
    expect(thenS(() => ({}))).toBe(4);
    expect(thenS(waves(700))).toBe(4);
    expect(thenS(waves(701))).toBeUndefined();
  });

  test('is stayed at from when it is come to for good', () => {
    const away = (s: number) => s >= 3 && s < 3.5;
    expect(thenS((s) => (away(s) ? { pa: ROOM_PA + 10_000 } : {}))).toBe(6.5);
    expect(thenS((s) => (away(s) ? { hosePa: ROOM_PA } : {}))).toBe(6.5);
  });

  test('is come to within twenty seconds by a closed manifold, within sixty by what is joined to it', () => {
    const cameThere = (farPa: number, untilS: number, input: Sight = {}) =>
      openFromS((s) => ({ ...input, pa: s === 0 ? farPa : s < untilS ? ROOM_PA + 10_000 : ROOM_PA }));
    for (const farPa of [HIGH_PA, 200]) {
      expect(cameThere(farPa, 20)).toBe(23);
      expect(cameThere(farPa, 20.1)).toBeUndefined();
    }
    const joined = { closed: false, joined: true };
    expect(cameThere(HIGH_PA, 60, joined)).toBe(63);
    expect(cameThere(HIGH_PA, 60.1, joined)).toBeUndefined();
  });

  test('is come to from more than 40 kPa away', () => {
    const from = (pa: number) => openFromS((s) => (s < 1 ? { pa } : {}));
    expect([from(ROOM_PA + 40_001), from(ROOM_PA - 40_001)]).toEqual([4, 4]);
    expect([from(ROOM_PA + 40_000), from(ROOM_PA - 40_000)]).toEqual([undefined, undefined]);
  });

  test('is explained by a hose less than 20 kPa away', () => {
    expect(thenS(() => ({ hosePa: ROOM_PA + 20_000 }))).toBe(4);
    expect(thenS(() => ({ hosePa: ROOM_PA + 19_999 }))).toBeUndefined();
  });

  test('is NOT told while the manifold is unread, and what was before counts no more', () => {
    expect(thenS((s) => (s === 1 ? { pa: none('stale') } : {}))).toBeUndefined();
  });

  test('is NOT come to from above by what fell through it: liquid may bring it back', () => {
    const back = (dry: boolean) => thenS((s) => (s < 2 ? { pa: 200, dry } : { dry }));
    expect(back(false)).toBeUndefined();
    expect(back(true)).toBe(5);
  });

  test('stays told', () => {
    const seen = see(readingsAt(0), EQUIPMENT, 0);
    const open = { ...NOT_VENTING, open: true };
    for (const closed of [true, false])
      expect(ventOf(watchVent(open, seen, { ...CLOSED, closed }, 100))).toBe('open');
  });

  test('is passed by what a running pump draws down, and NOT by what stays at it or above', () => {
    const drawnTo = (pa: number, hosePa = HIGH_PA) => thenS(() => ({ pa, hosePa, pumpRuns: true }));
    expect(drawnTo(ROOM_PA - 1, ROOM_PA)).toBe(4);
    expect(drawnTo(ROOM_PA, ROOM_PA)).toBeUndefined();
    expect(drawnTo(ROOM_PA + 20_000)).toBeUndefined();
  });

  test('is NOT told by a vacuum beside which a pump starts', () => {
    expect(openFromS((s) => ({ pa: 200, pumpRuns: s >= 1 }))).toBeUndefined();
  });
});
