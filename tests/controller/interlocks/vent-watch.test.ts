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
