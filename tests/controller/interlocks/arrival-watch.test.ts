// When what arrives in the tank is called air: by the ideal gas law, R = 8.314 462 618 J/(mol·K) (CODATA 2018), with the molar
// masses of dry air, 28.965 g/mol, and of R-134a, 102.03 g/mol (both as in the tables of the fluids).
import { describe, expect, test } from 'vitest';
import {
  type ArrivalInput,
  arrivalOf,
  NOTHING_ARRIVES,
  watchArrival,
} from '../../../controller/interlocks/arrival-watch.ts';

const ROOM_M3 = 0.015;
const TANK_K = 293.15;
const AIR_KG_PER_MOL = 0.028_965;
const R134A_KG_PER_MOL = 0.102_03;
const START_MS = 400_000;
const SCAN_MS = 100;

const pressurePa = (kg: number, kgPerMol: number): number =>
  (kg / kgPerMol / ROOM_M3) * 8.314_462_618 * TANK_K;

type Shows = { readonly pa?: number; readonly kg?: number };
type Both = Required<Shows>;

const shown = ({ pa, kg }: Shows): ArrivalInput => ({
  tankPa: pa,
  tankKg: kg,
  roomM3: ROOM_M3,
  tankK: TANK_K,
});

/** When it is called air, ms after the start of the compressor; undefined if never within `ms`. */
function airAfterMs(at: (ms: number) => Shows | undefined, ms = 600_000): number | undefined {
  let watch = NOTHING_ARRIVES;
  for (let now = 0; now <= ms; now += SCAN_MS) {
    const shows = at(now);
    watch = watchArrival(watch, shows && shown(shows), START_MS + now);
    if (arrivalOf(watch) === 'air') return now;
  }
  return undefined;
}

/** A tank that takes up a gas that does not condense. */
const fed =
  (kgPerS: number, kgPerMol: number) =>
  (ms: number): Both => {
    const kg = (kgPerS * ms) / 1000;
    return { pa: 571_000 + pressurePa(kg, kgPerMol), kg: 8 + kg };
  };
/** 0.5 kPa/s. */
const AIR = fed((0.5e3 * AIR_KG_PER_MOL * ROOM_M3) / 8.314_462_618 / TANK_K, AIR_KG_PER_MOL);

describe('What arrives in the tank', () => {
  test('is air when it makes 40 kPa, and less than 8 g in 15 L have come by then', () => {
    const ms = airAfterMs(AIR)!;
    expect(ms).toBeGreaterThanOrEqual(80_000);
    expect(ms).toBeLessThanOrEqual(80_100);
    expect(AIR(ms).kg - 8).toBeLessThan(0.008);
  });

  test('is air when the scale shows nothing of it at all', () => {
    expect(airAfterMs((ms) => ({ pa: 571_000 + ms, kg: 8 }))).toBe(40_000);
  });

  test('is air however long the tank stood still before', () => {
    expect(airAfterMs((ms) => ({ pa: 571_000 + Math.max(0, ms - 100_000), kg: 8 }))).toBe(140_000);
  });

  test('is air however long refrigerant came before', () => {
    const dense = (ms: number) => ({ pa: 571_000 + 0.1 * ms, kg: 8 + 1.5e-6 * ms });
    const { pa, kg } = dense(300_000);
    const airy = (ms: number) => ({ pa: pa + AIR(ms).pa - 571_000, kg: kg + AIR(ms).kg - 8 });
    const ms = airAfterMs((now) => (now <= 300_000 ? dense(now) : airy(now - 300_000)))!;
    expect(ms - 300_000).toBeGreaterThanOrEqual(80_000);
    expect(ms - 300_000).toBeLessThanOrEqual(80_200);
  });

  test('is NOT air as vapour that does not condense', () => {
    expect(airAfterMs(fed(1.5e-3, R134A_KG_PER_MOL))).toBeUndefined();
  });

  test('is told from vapour at 60 g/mol', () => {
    expect(airAfterMs(fed(1e-3, 0.0599))).toBeDefined();
    expect(airAfterMs(fed(1e-3, 0.0601))).toBeUndefined();
  });

  test('is NOT air in a cold tank that warms by half a kelvin a minute while next to nothing comes', () => {
    // 18 kPa/K at 20 °C.
    expect(airAfterMs((ms) => ({ pa: 571_000 + (9_000 * ms) / 60_000, kg: 8 }))).toBeUndefined();
  });

  test('is NOT air when it takes two minutes and more', () => {
    expect(airAfterMs((ms) => ({ pa: 571_000 + (40_000 * ms) / 120_000, kg: 8 }))).toBe(120_000);
    expect(airAfterMs((ms) => ({ pa: 571_000 + (40_000 * ms) / 120_200, kg: 8 }))).toBeUndefined();
  });

  test('is NOT air for a gauge or a scale that was moved', () => {
    const calm = (ms: number): Both => ({ pa: 571_000 + 0.3 * ms, kg: 8 + 1.5e-6 * ms });
    const moved = (pa: number, kg: number) => (ms: number) => ({
      pa: calm(ms).pa + (ms >= 5_000 ? pa : 0),
      kg: calm(ms).kg + (ms >= 5_000 ? kg : 0),
    });
    expect(airAfterMs(moved(60_000, 0))).toBeUndefined();
    expect(airAfterMs(moved(0, -0.2))).toBeUndefined();
    expect(airAfterMs(moved(-60_000, 0.2))).toBeUndefined();
  });

  test('counts from a jump on: of more than 10 kPa or 5 g from one scan to the next', () => {
    const jumps = (pa: number, kg: number) =>
      airAfterMs((ms) => ({ pa: 571_000 + ms + (ms >= 20_000 ? pa : 0), kg: ms >= 20_000 ? kg : 0 }));
    expect(jumps(9_900, 0)).toBe(30_100);
    expect(jumps(10_000, 0)).toBe(60_000);
    expect(jumps(0, -0.005)).toBe(40_000);
    expect(jumps(0, -0.0051)).toBe(60_000);
  });

  test('is not judged while gauge or scale do not tell, and goes on from where it stood', () => {
    const rises = (ms: number): Both => ({ pa: 571_000 + ms, kg: 8 });
    expect(airAfterMs((ms) => ({ kg: rises(ms).kg }))).toBeUndefined();
    expect(airAfterMs((ms) => ({ pa: rises(ms).pa }))).toBeUndefined();
    expect(airAfterMs((ms) => (ms < 10_000 ? { kg: 8 } : rises(ms)))).toBe(50_000);
    expect(airAfterMs((ms) => (ms < 10_000 ? { pa: rises(ms).pa } : rises(ms)))).toBe(50_000);
    expect(airAfterMs((ms) => (ms > 10_000 && ms < 12_000 ? { kg: 8 } : rises(ms)))).toBe(40_000);
    expect(airAfterMs((ms) => (ms > 10_000 && ms < 12_000 ? { pa: rises(ms).pa } : rises(ms)))).toBe(40_000);
  });

  test('stays air for as long as the compressor runs, and is forgotten with it', () => {
    let watch = NOTHING_ARRIVES;
    for (let ms = 0; ms <= 40_000; ms += SCAN_MS)
      watch = watchArrival(watch, shown({ pa: 571_000 + ms, kg: 8 }), ms);
    expect(arrivalOf(watch)).toBe('air');
    for (let ms = 40_100; ms <= 50_000; ms += SCAN_MS)
      watch = watchArrival(watch, shown({ pa: 611_000, kg: 8 + 5e-6 * (ms - 40_000) }), ms);
    expect(arrivalOf(watch)).toBe('air');
    expect(watchArrival(watch, undefined, 50_100)).toBe(NOTHING_ARRIVES);
    expect(watchArrival(NOTHING_ARRIVES, undefined, 50_200)).toBe(NOTHING_ARRIVES);
    expect(watchArrival(NOTHING_ARRIVES, shown({ pa: 571_000, kg: 8 }), 5)).toEqual({
      from: { atMs: 5, pa: 571_000, kg: 8 },
      last: { atMs: 5, pa: 571_000, kg: 8 },
      air: false,
    });
    expect(arrivalOf(NOTHING_ARRIVES)).toBe('refrigerant');
    // Whoever starts again begins anew.
    expect(airAfterMs((ms) => (ms === 30_000 ? undefined : { pa: 571_000 + ms, kg: 8 }))).toBe(70_100);
  });
});
