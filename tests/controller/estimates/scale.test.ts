// The scale chain against streams whose truth is known.
import { describe, expect, test } from 'vitest';
import { median, updateScale } from '../../../controller/estimates/scale.ts';
import { openScale } from '../../../controller/estimates/scale-state.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { feed, noise, type Truth } from './scale-stream.ts';

describe('The scale chain', () => {
  test('the median of five agrees with sorting for every order', () => {
    for (let i = 0; i < 3_000; i += 1) {
      const values = [0, 1, 2, 3, 4].map((k) => Math.round(4 * noise(5 * i + k)));
      expect(median(values) === [...values].sort((a, b) => a - b)[2]).toBe(true);
    }
  });

  test('follows a constant flow: mass within a gram, flow within half a gram a second', () => {
    const state = feed((t) => ({ kg: 8 - 0.02 * t, path: 'out-of-tank' }), 20);
    expect(state.trust).toBe('trusted');
    expect(Math.abs(state.massKg - (8 - 0.02 * 20 + 0.004))).toBeLessThan(0.001);
    expect(Math.abs(state.flowKgPerS + 0.02)).toBeLessThan(0.0005);
  });

  test('a valve that opens at full flow within a scan is no bump, and the mass does not fall behind', () => {
    const opens = (t: number) =>
      ({ kg: 8 - 0.025 * Math.max(t - 10, 0), path: t > 10 ? 'out-of-tank' : 'shut' }) as const;
    const rested = feed(opens, 10);
    for (let t = 11; t <= 16; t++) {
      const state = feed(opens, t, rested, 10);
      expect(state.trust).toBe('trusted');
      expect(Math.abs(state.massKg - opens(t).kg)).toBeLessThan(0.009);
    }
  });

  test('the slow flow tells 0.1 g/s from none', () => {
    const trickle = feed((t) => ({ kg: 8 + 0.0002 * t, path: 'into-tank' }), 120);
    const none = feed(() => ({ kg: 8, path: 'into-tank' }), 120);
    expect(trickle.slowFlowKgPerS).toBeGreaterThan(0.00015);
    expect(Math.abs(none.slowFlowKgPerS)).toBeLessThan(0.0001);
  });

  test('a single spike of kilograms leaves no mark', () => {
    const state = feed((t) => ({ kg: 8, addedKg: Math.abs(t - 10) < 0.01 ? -4 : 0 }), 12);
    expect(state.trust).toBe('trusted');
    expect(Math.abs(state.massKg - 8)).toBeLessThan(0.001);
    expect(state.bumps).toBe(0);
  });

  test('someone leaning on the machine for eight seconds is not refrigerant', () => {
    const lean: Truth = (t) => ({ kg: 8, addedKg: t > 10 && t < 18 ? 3 : 0 });
    expect(feed(lean, 12).trust).toBe('disturbed');
    const after = feed(lean, 30);
    expect(after.trust).toBe('trusted');
    expect(Math.abs(after.massKg - 8)).toBeLessThan(0.002);
  });

  test('a tool left on the platform becomes an offset, not mass', () => {
    const after = feed((t) => ({ kg: 8, addedKg: t > 10 ? 0.4 : 0 }), 30);
    expect(after.trust).toBe('trusted');
    expect(after.bumps).toBe(1);
    expect(Math.abs(after.offsetKg - 0.4)).toBeLessThan(0.002);
    expect(Math.abs(after.massKg - 8)).toBeLessThan(0.002);
  });

  test('a bump in the middle of a charge is bridged: the valve shuts and the mass given is known to a few grams', () => {
    const charging: Truth = (t) => {
      const openS = Math.min(t, 10.4);
      return {
        kg: 8 - 0.02 * openS,
        path: t < 10.4 ? 'out-of-tank' : 'shut',
        addedKg: t > 10 && t < 14 ? 2 : 0,
      };
    };
    const after = feed(charging, 40);
    expect(after.trust).toBe('trusted');
    expect(Math.abs(after.massKg - (8 - 0.02 * 10.4))).toBeLessThan(0.005);
  });

  test.each([0.2, 0.9, 1.2, 1.6, 2.0])(
    'something put down within %d s while the compressor draws is no refrigerant',
    (withinS) => {
      const drawn = (s: number): number => 8 + 0.003 * Math.max(s - 5, 0);
      const put = (s: number): number => 0.2 * Math.min(Math.max((s - 60) / withinS, 0), 1);
      const state = feed((s) => ({ kg: drawn(s), path: 'into-tank', addedKg: put(s) }), 80);
      expect(state.bumps).toBe(1);
      expect(Math.abs(state.massKg - drawn(80))).toBeLessThan(0.02);
    },
  );
  test('a hand that leans and lets go twice within half a minute of a run leaves the mass known', () => {
    const drawn = (s: number): number => 8 + 0.008 * Math.max(s - 5, 0);
    const leans = (s: number): number => (s > 20 && s < 26.2 ? -0.175 : s > 34 && s < 37 ? 1.2 : 0);
    const state = feed((s) => ({ kg: drawn(s), path: s > 5 ? 'into-tank' : 'shut', addedKg: leans(s) }), 60);
    expect(state.trust).toBe('trusted');
    expect(Math.abs(state.massKg - drawn(60))).toBeLessThan(0.015);
  });
  test('a tool of 70 g put down in a draw and taken away again is no refrigerant either time', () => {
    const drawn = (s: number): number => 8 + 0.001 * Math.max(s - 5, 0);
    const tool = (s: number): number => (s > 60 && s < 73 ? -0.07 : 0);
    const state = feed(
      (s) => ({ kg: drawn(s), path: s > 5 ? 'into-tank' : 'shut', drawsSinceS: 5, addedKg: tool(s) }),
      100,
    );
    expect(Math.abs(state.massKg - drawn(100))).toBeLessThan(0.008);
  });
  test('someone who leans for eight seconds while a draw ebbs away leaves nothing on the scale', () => {
    const drawn = (s: number): number => 8 + 0.009 * Math.min(Math.max(s - 5, 0), 15.5);
    const leans = (s: number): number => (s > 20 && s < 29 ? 3.3 : 0);
    const state = feed(
      (s) => ({ kg: drawn(s), path: s > 5 ? 'into-tank' : 'shut', drawsSinceS: 5, addedKg: leans(s) }),
      60,
    );
    expect(Math.abs(state.massKg - drawn(60))).toBeLessThan(0.003);
    expect(state.offsetKg).toBe(0);
  });
  test('someone who leans while the compressor starts hides no refrigerant that came meanwhile', () => {
    const drawn = (s: number): number => 8 + 0.008 * Math.max(s - 20, 0);
    const leans = (s: number): number => (s > 19.8 && s < 21 ? 0.9 : 0);
    const state = feed(
      (s) => ({
        kg: drawn(s),
        path: s > 5 ? 'into-tank' : 'shut',
        ...(s > 20 ? { drawsSinceS: 20 } : {}),
        addedKg: leans(s),
      }),
      60,
    );
    expect(state.bumps).toBe(0);
    expect(Math.abs(state.massKg - drawn(60))).toBeLessThan(0.003);
  });
  test('a knock just after the charge valve opened is no bump: what flows on until it is shut again is refrigerant', () => {
    const flow = (s: number): number => 0.022 * Math.min(Math.max(s - 5, 0), 1.35);
    const knock = (s: number): number => (s > 5.8 && s < 6.3 ? 0.15 : 0);
    const state = feed(
      (s) => ({
        kg: 8 - flow(s),
        path: s > 5 && s < 5.9 ? 'out-of-tank' : 'shut',
        settling: s >= 5.9 && s < 8.9,
        addedKg: knock(s),
      }),
      30,
    );
    expect(state.offsetKg).toBe(0);
    expect(Math.abs(state.massKg - (8 - flow(30)))).toBeLessThan(0.002);
  });
  test('pressure coming into the hoses is the hoses, NOT a bump', () => {
    const state = feed((t) => ({ kg: 8, addedKg: t > 10 ? 0.012 : 0, hosePa: t > 10 ? 470_000 : 0 }), 30);
    expect(state.bumps).toBe(0);
    expect(Math.abs(state.massKg - 8.012)).toBeLessThan(0.001);
  });

  test('a known hose force is taken out of the mass', () => {
    const force = 2e-8;
    const state = feed(
      (t) => ({ kg: 8, addedKg: t > 10 ? force * 5e5 : 0, hosePa: t > 10 ? 5e5 : 0 }),
      30,
      openScale(),
      0,
      force,
    );
    expect(Math.abs(state.massKg - 8)).toBeLessThan(0.001);
    expect(state.trust).toBe('trusted');
  });

  test('the same code for seconds is a dead converter', () => {
    let state = feed(() => ({ kg: 8 }), 5);
    for (let i = 51; i <= 80; i += 1) {
      state = updateScale(
        state,
        {
          counts: 2_100_000,
          atMs: i * 100,
          path: 'out-of-tank',
          settling: false,
          drawsSinceMs: undefined,
          coil: undefined,
          hoseGaugePa: 0,
          hoseForceKgPerPa: 0,
          hoseForceSdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd,
        },
        EQUIPMENT,
      );
    }
    expect(state.trust).toBe('stuck');
  });

  test('a reading that was seen before changes nothing', () => {
    const state = feed(() => ({ kg: 8 }), 5);
    const input = {
      counts: 2_100_000,
      atMs: 5_000,
      path: 'shut',
      settling: false,
      drawsSinceMs: undefined,
      coil: undefined,
      hoseGaugePa: 0,
      hoseForceKgPerPa: 0,
      hoseForceSdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd,
    } as const;
    expect(updateScale(state, input, EQUIPMENT)).toBe(state);
  });
});
