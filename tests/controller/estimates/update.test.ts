// What one scan makes of the estimates: which way refrigerant may pass, whether the tank is at rest, and who is silent.
import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import type { ScaleState } from '../../../controller/estimates/scale-state.ts';
import { see } from '../../../controller/estimates/seen.ts';
import { updateEstimates } from '../../../controller/estimates/update.ts';
import { openDeliveryWatch } from '../../../controller/interlocks/delivery-watch.ts';
import type { Output } from '../../../controller/signals.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { judgedOf, type Moment, momentOf } from '../support/moment.ts';
import { none, readingsAt, SILENT, type Values } from '../support/readings.ts';

const NOW_MS = 200_000;
const BEFORE_MS = 199_900;
/** At rest with 8 kg and hoses at 60 kPa, shut since the beginning. */
const SCALE: Partial<ScaleState> = {
  counts: 2_100_000,
  recent: [2_100_000],
  massKg: 8,
  slowMassKg: 8,
  variance: [1e-7, 0, 1e-9],
  calmHosePa: 60_000 - 101_325,
  atMs: BEFORE_MS,
  sameSinceMs: BEFORE_MS,
};
type Given = Moment & { readonly on?: readonly Output[]; readonly nowMs?: number; readonly reads?: Values };
function updated({ on, nowMs = NOW_MS, reads = {}, ...moment }: Given = {}) {
  const state = momentOf({
    ...moment,
    scale: { ...SCALE, ...moment.scale },
    memory: { lastScanMs: BEFORE_MS, ...moment.memory },
    state: { ...(on === undefined ? {} : { judged: judgedOf(...on) }), ...moment.state },
  });
  return updateEstimates(
    state,
    see(readingsAt(nowMs, { scaleCounts: 2_100_010, ...reads }), EQUIPMENT, nowMs),
    nowMs,
  );
}

describe('The path between tank and hoses', () => {
  test.each([
    [[], 'shut'],
    [['highSideValve', 'vacuumValve', 'vacuumPump'], 'shut'],
    [['recoveryValve'], 'into-tank'],
    [['compressor'], 'into-tank'],
    [['chargeValve'], 'out-of-tank'],
    [['airPurgeValve'], 'out-of-tank'],
    [['chargeValve', 'recoveryValve'], 'out-of-tank'],
  ] as const)('with %j open is %s', (on, path) => {
    expect(updated({ on })).toMatchObject({ path, scale: { path } });
  });

  test('is shut where nothing has been permitted yet', () => expect(updated().path).toBe('shut'));

  test('has changed now, or when it changed last', () => {
    const estimates = { path: 'into-tank', pathChangedAtMs: 150_000 } as const;
    expect(updated({ on: ['compressor'], estimates }).pathChangedAtMs).toBe(150_000);
    expect(updated({ on: [], estimates }).pathChangedAtMs).toBe(NOW_MS);
  });

  test('that has shut still brings what was under way, for three seconds', () => {
    const underWay = (shutForMs: number, on: readonly Output[] = []) =>
      updated({
        on,
        estimates: { pathChangedAtMs: NOW_MS - shutForMs },
        scale: { underWay: 'into-tank' },
      }).scale.underWay;
    expect(underWay(2_999)).toBe('into-tank');
    expect(underWay(3_000)).toBe('shut');
    expect(underWay(100, ['chargeValve'])).toBe('out-of-tank');
  });
});

describe('The compressor', () => {
  test('draws since it was first permitted, and no more when it is not', () => {
    const drawsSinceMs = 150_000;
    expect(updated({ on: ['compressor'], estimates: { drawsSinceMs } }).drawsSinceMs).toBe(drawsSinceMs);
    expect(updated({ on: ['compressor'] }).drawsSinceMs).toBe(NOW_MS);
    expect(updated({ on: ['recoveryValve'], estimates: { drawsSinceMs } }).drawsSinceMs).toBeUndefined();
    expect(updated({ estimates: { drawsSinceMs } }).drawsSinceMs).toBeUndefined();
  });

  test('and the pump warm the cell of the scale, by four degrees at last with twenty minutes for most of it', () => {
    const minute = { memory: { lastScanMs: NOW_MS - 60_000 } };
    for (const drive of ['compressor', 'vacuumPump'] as const)
      expect(updated({ ...minute, on: [drive] }).cellWarmerK).toBeCloseTo(4 / 20, 9);
    const warm = { ...minute, estimates: { cellWarmerK: 2 } };
    expect(updated({ ...warm, on: ['fanStop'] }).cellWarmerK).toBeCloseTo(2 - 2 / 20, 9);
    expect(updated(warm).cellWarmerK).toBeCloseTo(2 - 2 / 20, 9);
  });
});

describe('A rig', () => {
  const ALL_SILENT: Values = { ...SILENT, highSidePressurePa: none('stale') };
  const silentSince = (reads: Values, silentSinceMs?: number) =>
    updated({ reads, estimates: { silentSinceMs } }).silentSinceMs;

  test('of which nothing is heard is silent since then', () => {
    expect(silentSince(ALL_SILENT)).toBe(NOW_MS);
    expect(silentSince(ALL_SILENT, 180_000)).toBe(180_000);
  });

  test.each([
    ['emergencyStop', false],
    ['highPressureSwitch', false],
    ['fanFlow', true],
    ['scaleCounts', 2_100_000],
    ['manifoldPressurePa', 60_000],
    ['highSidePressurePa', 60_000],
  ] as const)('is NOT silent while anything is heard: %s', (sensor, value) =>
    expect(silentSince({ ...ALL_SILENT, [sensor]: value }, 180_000)).toBeUndefined(),
  );
});

describe('A drift of the zero', () => {
  /** A look at it begins where the tank is at rest, and ends where it is not. */
  const looks = (given: Given) => updated(given).drift.from !== undefined;
  const looking = { drift: { kgPerS: 0, from: { kg: 8, atMs: 190_000 } } };

  test('is looked for with everything shut, two minutes after that', () => {
    expect(updated().drift.from).toEqual({ kg: updated().scale.slowMassKg, atMs: NOW_MS });
    expect(looks({ estimates: { pathChangedAtMs: NOW_MS - 120_000 } })).toBe(true);
    expect(looks({ estimates: { pathChangedAtMs: NOW_MS - 119_999 } })).toBe(false);
  });

  test('is NOT looked for while something may pass, somebody leans, the hoses change or their force has just been learnt', () => {
    expect(looks({ estimates: looking })).toBe(true);
    const open = { ...looking, path: 'into-tank' } as const;
    expect(looks({ estimates: open, on: ['recoveryValve'] })).toBe(false);
    expect(looks({ estimates: looking, scale: { trust: 'disturbed' } })).toBe(false);
    expect(looks({ estimates: looking, scale: { calmHosePa: 0 } })).toBe(false);
    const hoseForce = { kgPerPa: 1e-9, sdKgPerPa: 1e-9 };
    expect(looks({ estimates: looking, accounts: { hoseForce } })).toBe(false);
    expect(looks({ estimates: looking, accounts: { hoseForce }, scale: { hoseForceKgPerPa: 1e-9 } })).toBe(
      true,
    );
  });
});

describe('The pressures', () => {
  test('are followed with a time of five seconds: of the manifold, and of the circuit', () => {
    const trend = { value: 50_000, perS: 0, atMs: NOW_MS - 5_000 };
    const reads = { manifoldPressurePa: 60_000 };
    const { manifold, circuit } = updated({ estimates: { manifold: trend, circuit: trend }, reads });
    // After one time constant what is left of a step is e to the minus two of it.
    const value = 60_000 - 10_000 * Math.exp(-2);
    expect([manifold!.value, circuit!.value]).toEqual([expect.closeTo(value, 6), expect.closeTo(value, 6)]);
  });

  test('of the circuit are those of the hose that a vehicle with one port is on', () => {
    const reads = {
      manifoldPressurePa: none('out-of-range'),
      highSidePressurePa: 300_000,
      lowSidePressurePa: 200_000,
    };
    expect(updated({ reads }).circuit!.value).toBe(200_000);
    expect(updated({ reads, ticket: { ports: 1 } }).circuit!.value).toBe(300_000);
    expect(updated({ reads }).manifold).toBeUndefined();
  });

  test('of joined sides are held against each other', () => {
    const joined = { sinceMs: NOW_MS - 20_000, apartPa: 0 };
    const reads = { highSidePressurePa: 300_000, lowSidePressurePa: 100_000 };
    expect(
      updated({ on: ['highSideValve', 'lowSideValve'], estimates: { joined }, reads }).joined.apartPa,
    ).toBe(200_000);
  });
});

describe('The scale', () => {
  test('weighs what is read, when it was read', () =>
    expect(updated().scale).toMatchObject({
      trust: 'trusted',
      recent: [2_100_000, 2_100_010],
      atMs: NOW_MS,
    }));

  test('knows the hoses that press on it, and by how much of it a sensor has only fallen silent', () => {
    const hoseForce = { kgPerPa: 2e-8, sdKgPerPa: 1e-9 };
    const pressed = { highSidePressurePa: 601_325, lowSidePressurePa: 601_325 };
    const given = { accounts: { hoseForce }, scale: { hoseForceKgPerPa: 2e-8, calmHosePa: 500_000 } };
    const { scale } = updated({ ...given, values: pressed, reads: { ...pressed, scaleCounts: 2_101_000 } });
    // 8.01 kg by the counts, of which the hoses are 10 g.
    expect(scale.massKg).toBeCloseTo(8, 3);
    expect(scale.calmHosePa).toBeCloseTo(500_000, 3);
    const apart = { highSidePressurePa: 901_325, lowSidePressurePa: 301_325 };
    const mute = { ...apart, lowSidePressurePa: none('stale'), scaleCounts: 2_101_000 };
    expect(updated({ ...given, values: apart, reads: mute }).scale.calmHosePa).toBeCloseTo(800_000, 3);
  });

  test('knows what the coil may give when something lands on it: what it kept and what was drawn, up to what it holds', () => {
    const gives = (drawnKg: number) => {
      const count = { ...startCount(0), drawnKg, totalKg: drawnKg };
      const deliveryWatch = { ...openDeliveryWatch(), count, startKg: 8, lastKg: 8 };
      const kept = { kg: 0.01, sdKg: 0.001, pushes: 0, share: 1 };
      return updated({
        on: ['compressor', 'recoveryValve'],
        memory: { deliveryWatch },
        accounts: { kept },
        scale: { recent: [2_200_000] },
        reads: { scaleCounts: 2_200_010 },
      }).scale;
    };
    expect(gives(0.05)).toMatchObject({ trust: 'disturbed', coilGivesKg: expect.closeTo(0.06, 9) });
    // 0.12 L of liquid.
    expect(gives(0.5).coilGivesKg).toBeCloseTo(0.12e-3 * 1295, 3);
  });
});
