// What interlocks and watches are told: what is known, and nothing in the place of what is not.

import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../controller/equipment.ts';
import { startCount } from '../../controller/estimates/condenser.ts';
import { mostKeptKg } from '../../controller/interlocks/given-watch.ts';
import { openMemory } from '../../controller/interlocks/memory.ts';
import type { Told } from '../../controller/interlocks/memory-watches.ts';
import { type Output, SAFE_COMMANDS } from '../../controller/signals.ts';
import { counted, want } from '../../controller/stages/stage.ts';
import { bandInput, isDenseInflow, toldOf } from '../../controller/told-interlocks.ts';
import { CALM_BANDS } from './support/calm.ts';
import { EQUIPMENT, R134A } from './support/machine.ts';
import { judgedOf, type Moment, momentOf, permittedOf, seenOf } from './support/moment.ts';
import { none, type Values } from './support/readings.ts';
import { weighingOf } from './support/weighings.ts';

function told(moment: Moment = {}, bands = CALM_BANDS): Told {
  const state = momentOf(moment);
  return toldOf(state, state.seen!, bands);
}
const FOREIGN: Equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };
const UNTRUSTED = ['not-read', 'disturbed', 'stuck'] as const;
const running = (...others: readonly Output[]) => ({
  judged: judgedOf('compressor', 'recoveryValve', ...others),
});

test('A dense inflow is what no air could bring, on a scale that is trusted', () => {
  const dense = (slowFlowKgPerS: number, trust: 'trusted' | 'disturbed' = 'trusted') =>
    isDenseInflow(momentOf({ scale: { slowFlowKgPerS, trust } }));
  expect(dense(6e-4)).toBe(false);
  expect(dense(7e-4)).toBe(true);
  expect(dense(7e-4, 'disturbed')).toBe(false);
});

describe('The tank at rest', () => {
  /** 8 kg by the counts, 10 g of them leant on, 10 g by hoses of 5 bar; 2 g is what those may be off by. */
  const HOSES: Values = { highSidePressurePa: 601_325, lowSidePressurePa: 601_325 };
  const STILL = { counts: 2_100_000, offsetKg: 0.01, calmHosePa: 500_000, hoseForceKgPerPa: 2e-8 } as const;
  const hoseForce = { kgPerPa: 0, sdKgPerPa: 4e-9 };
  const resting = (moment: Moment = {}, sensorTells = false) =>
    told({ values: HOSES, scale: STILL, ...moment, accounts: { hoseForce, ...moment.accounts } }).rest(
      sensorTells,
    );

  test('is told net of what leans on it and of its hoses, with what those may be off by', () =>
    expect(resting()).toEqual({
      kg: expect.closeTo(7.98, 9),
      hoseSdKg: expect.closeTo(0.002, 9),
      noiseKg: 0.0004,
      creepKgPerS: 0,
      worstOwnKgPerS: 0,
      sealedPa: undefined,
    }));

  test('creeps by a share of what has moved since it was weighed, in ten minutes', () => {
    const weighed = weighingOf(7.5, { offsetKg: 0.02 });
    expect(resting({ accounts: { weighed } })!.creepKgPerS).toBeCloseTo((0.0004 * 0.5) / 600, 12);
  });

  test('may creep far beyond its class by what has left it since, and by nothing that has come', () => {
    const worst = (kg: number) =>
      resting({ accounts: { weighed: weighingOf(kg, { offsetKg: 0.02 }) } })!.worstOwnKgPerS;
    expect(worst(8.5)).toBeCloseTo((0.02 * 0.5) / 600, 12);
    expect(worst(7.5)).toBe(0);
  });

  test('may fall by the dew that its heater dries off, and by none while anything else is on', () => {
    const worst = (output: 'tankHeater' | 'vacuumPump') =>
      resting({ state: { judged: judgedOf(output) } })!.worstOwnKgPerS;
    // 3 W/(m²·K) of free convection, 1.01 kJ/(kg·K) and 1.15 kg/m³ of air, 0.9 for the Lewis number, on 0.45 m²; water at 45 °C
    // against half of its pressure at 38 °C: 9.6 and 3.3 kPa.
    const kgPerS = ((0.45 * 3) / (1010 * 1.15 * 0.9)) * ((9600 - 3300) / (461.5 * 315));
    expect(worst('tankHeater') / kgPerS).toBeGreaterThan(0.9);
    expect(worst('tankHeater') / kgPerS).toBeLessThan(1.4);
    expect(worst('vacuumPump')).toBe(0);
  });

  test('comes with the sealed pressure only where the sensor tells of it', () =>
    expect(resting({}, true)!.sealedPa).toBe(60_000));

  test.each(UNTRUSTED)('is NOT told of a scale that is %s', (trust) =>
    expect(resting({ scale: { ...STILL, trust } })).toBeUndefined(),
  );

  test('is NOT told while the hoses press otherwise than they did in calm, by more than 10 kPa', () => {
    const pressed = (calmHosePa: number) => resting({ scale: { ...STILL, calmHosePa } });
    expect(pressed(490_000)).toBeDefined();
    expect(pressed(489_900)).toBeUndefined();
    expect(pressed(510_100)).toBeUndefined();
  });
});

describe('What may pour out of the tank', () => {
  const hoseForce = { kgPerPa: 2e-8, sdKgPerPa: 4e-9 };
  const HOSES: Values = { highSidePressurePa: 601_325, lowSidePressurePa: 601_325 };
  const pouring = (moment: Moment = {}) =>
    told({
      values: HOSES,
      scale: { counts: 2_100_000, offsetKg: 0.01 },
      accounts: { hoseForce },
      ...moment,
    }).pour();

  test('is watched on the raw scale, with the hoses that press on it', () =>
    expect(pouring()).toEqual({
      kg: 8,
      hosePa: 500_000,
      forceKgPerPa: 2e-8,
      forceSdKgPerPa: 4e-9,
      calm: true,
    }));

  test('is watched though somebody leans on the platform, which is NOT calm', () =>
    expect(pouring({ scale: { counts: 2_100_000, trust: 'disturbed' } })).toMatchObject({
      kg: 8,
      calm: false,
    }));

  test('is NOT seen on a scale that does not read, or is stuck', () => {
    expect(pouring({ scale: { trust: 'not-read' } })).toBeUndefined();
    expect(pouring({ scale: { trust: 'stuck' } })).toBeUndefined();
    expect(pouring({ values: { ...HOSES, scaleCounts: none('stale') } })).toBeUndefined();
  });
});

describe('What the compressor draws', () => {
  const drawing = (moment: Moment = {}) =>
    told({ state: running('highSideValve'), scale: { massKg: 8 }, ...moment });

  test('is told with what it draws from and into', () =>
    expect(drawing({ values: { lowSidePressurePa: 80_000, highSidePressurePa: 80_000 } }).delivery).toEqual({
      curve: R134A,
      running: true,
      suctionPa: 60_000,
      suctionSdShare: 0,
      tankPa: 571_710,
      tankSdPa: 5_000,
      ambientK: 293.15,
      temperatureSdK: 0.3,
      sweptM3PerS: 0.2417e-3,
      condenserM3: 0.12e-3,
      fanStopped: false,
      hoseGaugePa: 80_000 - 101_325,
      tankKg: 8,
    }));

  test('comes from either hose that stands open, and NOT from one that is let in for a moment', () => {
    const runs = (...state: readonly Moment[]) => state.map((each) => drawing(each).delivery!.running);
    const brief = counted(want('compressor', 'recoveryValve', 'highSideValve'), 'highSideValve', 80);
    const both = counted(
      want('compressor', 'recoveryValve', 'lowSideValve', 'highSideValve'),
      'highSideValve',
      80,
    );
    expect(
      runs(
        { state: running('lowSideValve') },
        { state: running() },
        { state: { judged: permittedOf(brief) } },
        { state: { judged: permittedOf(both) } },
        { equipment: FOREIGN, ticket: { service: 'recover' } },
      ),
    ).toEqual([true, false, false, true, false]);
  });

  test('meets a fan that is told to stop, or that stands', () => {
    expect(drawing({ state: running('highSideValve', 'fanStop') }).delivery!.fanStopped).toBe(true);
    expect(drawing({ values: { fanFlow: false } }).delivery!.fanStopped).toBe(true);
  });

  test.each(UNTRUSTED)('arrives nobody knows where on a scale that is %s', (trust) => {
    const { delivery, arrival } = drawing({ scale: { massKg: 8, trust } });
    expect(delivery!.tankKg).toBeUndefined();
    expect(arrival!.tankKg).toBeUndefined();
  });

  test('arrives over the liquid of the tank', () => {
    // 8 kg at 20 °C: 1225.3 kg/m³ (equation of Tillner-Roth and Baehr).
    expect(drawing().arrival).toEqual({
      tankPa: 571_710,
      tankKg: 8,
      roomM3: expect.closeTo(21.6e-3 - 8 / 1225.3, 9),
      tankK: 293.15,
    });
    expect(drawing({ values: { tankTemperatureK: none('stale') } }).arrival!.tankK).toBe(293.15);
    expect(drawing({ values: { tankTemperatureK: 303.15 } }).arrival!.tankK).toBe(303.15);
  });

  test('is NOT told of while it stands, but for a run that is still counted; nor what arrives in a foreign tank', () => {
    const stands: Moment = { state: { judged: judgedOf('highSideValve', 'recoveryValve') } };
    expect(drawing(stands)).toMatchObject({ delivery: undefined, arrival: undefined });
    expect(drawing({ state: {} }).delivery).toBeUndefined();
    const deliveryWatch = { ...openMemory(0).deliveryWatch, count: startCount(0) };
    expect(drawing({ ...stands, memory: { deliveryWatch } }).delivery).toMatchObject({ running: false });
    expect(drawing({ state: {}, memory: { deliveryWatch } }).delivery).toMatchObject({ running: false });
    expect(drawing({ equipment: FOREIGN, ticket: { service: 'recover' } }).arrival).toBeUndefined();
  });
});

describe('What has left the tank', () => {
  const given = (moment: Moment = {}, manifold = CALM_BANDS.manifold) =>
    told({ scale: { massKg: 8 }, ...moment }, { ...CALM_BANDS, manifold }).given;
  const open = (...outputs: readonly Output[]): Moment => ({
    state: { judged: judgedOf(...outputs) },
  });

  test('is told with all that may leave it and what may be kept', () =>
    expect(given()).toEqual({
      tankKg: 8,
      empty: false,
      holds: false,
      pressed: false,
      feeds: false,
      draws: false,
      // 600 g, 93 mL full of liquid at 1225.3 kg/m³, 30 g of tolerance and three times 10 g of hoses.
      mostKg: expect.closeTo(0.6 + 0.114 + 0.03 + 0.03, 3),
      keptKg: mostKeptKg(EQUIPMENT),
    }));

  test('is less where a warm room thins the liquid, and reckoned at 20 °C where no room is known', () => {
    const at = (ambientTemperatureK: Values['ambientTemperatureK']) =>
      given({ values: { ambientTemperatureK: ambientTemperatureK! } }).mostKg;
    expect(at(none('stale'))).toBe(at(293.15));
    expect(at(313.15)).toBeLessThan(at(293.15) - 0.005);
  });

  test.each(UNTRUSTED)('is NOT known on a scale that is %s', (trust) =>
    expect(given({ scale: { massKg: 8, trust } }).tankKg).toBeUndefined(),
  );

  test('stands in a vehicle that is joined: a vacuum is empty, unknown is neither', () => {
    const [empty, full, unknown] = [
      { empty: true, holds: false },
      { empty: false, holds: true },
      { empty: false, holds: false },
    ];
    for (const hose of ['highSideValve', 'lowSideValve'] as const) {
      expect(given(open(hose), 'vacuum')).toMatchObject(empty!);
      expect(given(open(hose), 'low')).toMatchObject(full!);
      expect(given(open(hose), 'over-limit')).toMatchObject(full!);
      expect(given(open(hose), 'unknown')).toMatchObject(unknown!);
    }
    expect(given({}, 'vacuum')).toMatchObject(unknown!);
    const brief = permittedOf(counted(want('highSideValve'), 'highSideValve', 80));
    expect(given({ state: { judged: brief } }, 'vacuum')).toMatchObject(unknown!);
    expect(given({ state: { judged: brief } }, 'low')).toMatchObject(unknown!);
  });

  test('is pressed where the high side stands above the atmosphere by more than three deviations', () => {
    const pressed = (highSidePressurePa: Values['highSidePressurePa']) =>
      given({ values: { highSidePressurePa: highSidePressurePa! } }).pressed;
    expect(pressed(101_325 + 22_500)).toBe(false);
    expect(pressed(101_325 + 22_501)).toBe(true);
    expect(pressed(none('stale'))).toBe(false);
  });

  test('is fed while the charge valve is open or has only just been shut, and drawn by compressor or recovery valve', () => {
    expect(given(open('chargeValve')).feeds).toBe(true);
    expect(given({ memory: { chargeShutSinceMs: undefined } }).feeds).toBe(true);
    expect(given(open('recoveryValve')).draws).toBe(true);
    expect(given(open('compressor')).draws).toBe(true);
  });
});

describe('The bands', () => {
  const bandsOf = (moment: Moment, wanted = SAFE_COMMANDS) => {
    const state = momentOf(moment);
    return bandInput(state, state.seen!, wanted);
  };

  test('are read from what is seen, with the counts of the scale and what the filter makes of them', () => {
    const input = bandsOf({ scale: { counts: 2_100_100, massKg: 7.9 } });
    const { plan } = momentOf();
    expect(input).toEqual({
      seen: seenOf(),
      equipment: EQUIPMENT,
      ticket: plan.ticket,
      curve: R134A,
      scaleTrust: 'trusted',
      scaleCounts: 2_100_100,
      scaleMassKg: 7.9,
      purges: false,
    });
    expect(bandsOf({}, want('airPurgeValve')).purges).toBe(true);
  });

  test('are told no counts where none are read, or the scale is stuck', () => {
    expect(bandsOf({ scale: { counts: 2_100_100, trust: 'stuck' } }).scaleCounts).toBeUndefined();
    expect(bandsOf({ scale: { counts: 2_100_100, trust: 'disturbed' } }).scaleCounts).toBe(2_100_100);
    expect(bandsOf({ values: { scaleCounts: none('stale') } }).scaleCounts).toBeUndefined();
  });
});
