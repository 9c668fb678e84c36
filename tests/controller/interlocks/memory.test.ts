// What the interlocks remember, and how readings become classes.
import { describe, expect, test } from 'vitest';
import { netMassKg } from '../../../controller/estimates/scale.ts';
import { see } from '../../../controller/estimates/seen.ts';
import { BANDS, type Bands, classify, sameBands } from '../../../controller/interlocks/bands.ts';
import { type Memory, noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { noteReadings } from '../../../controller/interlocks/note-readings.ts';
import {
  MEMORY,
  type Remembered,
  recall,
  sameRemembered,
} from '../../../controller/interlocks/remembered.ts';
import { type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { EQUIPMENT, R134A, TICKET } from '../support/machine.ts';
import { none, readingsAt, type Values } from '../support/readings.ts';
import { newsOf } from '../support/watches.ts';

const MINIMUM_OFF_MS = 120_000;
const seen = (nowMs: number, values: Values = {}, equipment = EQUIPMENT) =>
  see(readingsAt(nowMs, values), equipment, nowMs);
const bands = (
  values: Values = {},
  counts = 2_100_000,
  equipment = EQUIPMENT,
  scaleMassKg = netMassKg(counts, EQUIPMENT),
) =>
  classify({
    seen: seen(0, values, equipment),
    equipment,
    ticket: TICKET,
    curve: R134A,
    scaleTrust: 'trusted',
    scaleCounts: counts,
    scaleMassKg,
    purges: true,
  });

/** Commands held for a while, a scan each 100 ms. */
function hold(
  memory: Memory,
  outputs: readonly Output[],
  fromMs: number,
  toMs: number,
  values: Values = {},
  dense = false,
): Memory {
  let held = memory;
  for (let nowMs = fromMs; nowMs <= toMs; nowMs += 100) {
    held = noteReadings(held, newsOf(seen(nowMs, values), dense), [], nowMs);
    held = noteCommands(held, outputs.length === 0 ? SAFE_COMMANDS : want(...outputs), undefined, nowMs);
  }
  return held;
}
const recalled = (memory: Memory, nowMs: number) => recall(memory, nowMs, MINIMUM_OFF_MS);

describe('Timers', () => {
  test('a controller that has just started does not know what ran before: the compressor must rest first', () => {
    expect(recalled(openMemory(0), 0).compressor).toBe('just-stopped');
    expect(recalled(hold(openMemory(0), [], 100, 120_000), 120_100).compressor).toBe('rested');
  });

  test('a compressor that stopped must rest its time again', () => {
    const running = hold(openMemory(0), ['recoveryValve', 'compressor'], 0, 5_000);
    expect(recalled(running, 5_000).compressor).toBe('running');
    const stopped = hold(running, [], 5_100, 60_000);
    expect(recalled(stopped, 60_000).compressor).toBe('just-stopped');
  });

  test('the pump is up to speed after three seconds and NOT before', () => {
    const on = hold(openMemory(0), ['vacuumPump'], 0, 2_900);
    expect(recalled(on, 2_900).pump).toBe('starting');
    expect(recalled(on, 3_000).pump).toBe('up-to-speed');
    expect(recalled(hold(on, [], 3_000, 3_000), 3_100).pump).toBe('off');
  });

  test('a side is joined a second after its valve opened, and apart as soon as it shuts', () => {
    const open = hold(openMemory(0), ['highSideValve'], 0, 1_000);
    expect(recalled(open, 1_000).highPath).toBe('joined');
    expect(recalled(open, 900).highPath).toBe('apart');
    expect(recalled(hold(open, [], 1_100, 1_100), 1_100).highPath).toBe('apart');
    const low = hold(openMemory(0), ['lowSideValve'], 0, 1_000);
    expect(recalled(low, 1_000)).toMatchObject({ lowPath: 'joined', highPath: 'apart' });
    expect(recalled(low, 900).lowPath).toBe('apart');
  });

  test('a scan that comes late or runs back is a jump, ten a second are steady', () => {
    const memory = hold(openMemory(0), [], 0, 1_000);
    expect(recalled(memory, 1_100).clock).toBe('steady');
    expect(recalled(memory, 3_100).clock).toBe('jumped');
    expect(recalled(memory, 900).clock).toBe('jumped');
    expect(recalled(memory, 1_000).clock).toBe('steady');
    expect(recalled(memory, 3_000).clock).toBe('steady');
  });

  test('a rig that is heard again after its board has dropped its outputs gets one word with everything off; a lost frame does NOT cost one', () => {
    const heard = (gapMs: number) => {
      const before = noteReadings(openMemory(0), newsOf(seen(1_000)), [], 1_000);
      const memory = { ...before, lastScanMs: 1_000 + gapMs - 100 };
      const back = noteReadings(memory, newsOf(seen(1_000 + gapMs)), [], 1_000 + gapMs);
      const then = { ...back, lastScanMs: 1_000 + gapMs };
      const after = noteReadings(then, newsOf(seen(1_100 + gapMs)), [], 1_100 + gapMs);
      return [recalled(back, 1_000 + gapMs).clock, recalled(after, 1_100 + gapMs).clock];
    };
    expect(heard(300)).toEqual(['jumped', 'steady']);
    expect(heard(40_000)).toEqual(['jumped', 'steady']);
    expect(heard(200)).toEqual(['steady', 'steady']);
  });

  test('fan flow is proven after two seconds and lost at once', () => {
    const moving = hold(openMemory(0), [], 0, 2_000);
    expect(recalled(moving, 2_000).fan).toBe('proven');
    expect(recalled(hold(moving, [], 2_100, 2_100, { fanFlow: none('stale') }), 2_100).fan).toBe('unproven');
  });

  test('the first trip is kept', () => {
    const first = noteCommands(openMemory(0), SAFE_COMMANDS, { row: 'IL-04', reason: 'a', atMs: 0 }, 0);
    const second = noteCommands(first, SAFE_COMMANDS, { row: 'IL-05', reason: 'b', atMs: 100 }, 100);
    expect(second.trip?.row).toBe('IL-04');
    expect(recalled(second, 100).trip).toBe('latched');
    expect(recalled(openMemory(0), 0).trip).toBe('none');
  });

  test('what the watches have found is what the rows are told', () => {
    const memory = openMemory(0);
    expect(recalled(memory, 0)).toMatchObject({ restMass: 'steady', delivery: 'free', purge: 'some-left' });
    const pours = { ...memory, pourWatch: { ...memory.pourWatch, pours: true } };
    expect(recalled(pours, 0).restMass).toBe('falling');
    const blocks = [10, 9.998, 9.996, 9.994].map((kg) => ({ kg, hoseSdKg: 0 }));
    const falls = { ...memory, lossWatch: { ...memory.lossWatch, noiseKg: 4e-4, blocks } };
    expect(recalled(falls, 0).restMass).toBe('falling');
    const blocked = { ...memory, deliveryWatch: { ...memory.deliveryWatch, blocked: true } };
    expect(recalled(blocked, 0).delivery).toBe('blocked');
    expect(recalled(memory, 0).vent).toBe('shut');
    const vents = { ...memory, ventWatch: { ...memory.ventWatch, open: true } };
    expect(recalled(vents, 0).vent).toBe('open');
    expect(recalled({ ...memory, purgedMs: 29_999 }, 0).purge).toBe('some-left');
    expect(recalled({ ...memory, purgedMs: 30_000 }, 0).purge).toBe('spent');
  });
});

describe('Air in the suction', () => {
  const steady = { manifoldPressurePa: 101_000 };
  test('a suction that stands at the barometer for a minute is air', () => {
    expect(recalled(hold(openMemory(0), [], 0, 60_000, steady), 60_000).suction).toBe('steady-at-barometer');
  });
  test('the same with a flow that air cannot make is NOT', () => {
    expect(recalled(hold(openMemory(0), [], 0, 60_000, steady, true), 60_000).suction).toBe('clear');
  });
  test('a suction that passes through the barometer is NOT', () => {
    let memory = openMemory(0);
    for (let nowMs = 0; nowMs <= 60_000; nowMs += 100) {
      memory = noteReadings(
        memory,
        newsOf(seen(nowMs, { manifoldPressurePa: 106_000 - nowMs / 10 })),
        [],
        nowMs,
      );
    }
    expect(recalled(memory, 60_000).suction).toBe('clear');
  });
});

describe('Valves that move', () => {
  const SEATS = [
    ['highSideValve', 'highSeat'],
    ['lowSideValve', 'lowSeat'],
    ['chargeValve', 'chargeSeat'],
    ['vacuumValve', 'vacuumSeat'],
    ['recoveryValve', 'recoverySeat'],
    ['separatorDrainValve', 'drainSeat'],
    ['oilValve', 'oilSeat'],
    ['dyeValve', 'dyeSeat'],
  ] as const;
  test.each(SEATS)('%s counts as open until it has been told to be shut for 300 ms', (valve, seat) => {
    const open = hold(openMemory(0), [valve], 1_000, 2_000);
    expect(recalled(open, 2_000)[seat]).toBe('may-be-open');
    const told = hold(open, [], 2_100, 2_300);
    expect(recalled(told, 2_300)[seat]).toBe('may-be-open');
    expect(recalled(hold(told, [], 2_400, 2_400), 2_400)[seat]).toBe('shut');
  });
  test.each(SEATS)('%s is shut when the controller starts: the board has seen to that', (_, seat) => {
    expect(recalled(openMemory(0), 0)[seat]).toBe('shut');
  });
});

describe('Liquid in the manifold', () => {
  test('is remembered from charging until the absolute sensor has shown the manifold low for a while', () => {
    const charged = hold(openMemory(0), ['highSideValve', 'chargeValve'], 0, 1_000, {
      manifoldPressurePa: none('out-of-range'),
    });
    expect(recalled(charged, 1_000).manifoldHolds).toBe('liquid');
    const high = hold(charged, [], 1_100, 60_000, { manifoldPressurePa: 150_000 });
    expect(recalled(high, 60_000).manifoldHolds).toBe('liquid');
    const low = hold(high, [], 60_100, 75_000, { manifoldPressurePa: 60_000 });
    expect(recalled(low, 75_000).manifoldHolds).toBe('no-liquid');
  });
});

describe('Bands', () => {
  test('a sensor that is open, stale or not a number is unknown, never vacuum', () => {
    expect(bands({ manifoldPressurePa: none('open-circuit') }).manifold).toBe('unknown');
    expect(bands({ manifoldPressurePa: Number.NaN }).manifold).toBe('unknown');
    const stale = classify({
      seen: see(readingsAt(0), EQUIPMENT, 5_000),
      equipment: EQUIPMENT,
      ticket: TICKET,
      curve: R134A,
      scaleTrust: 'trusted',
      scaleCounts: 0,
      scaleMassKg: 0,
      purges: true,
    });
    expect(stale.manifold).toBe('unknown');
    expect(stale.emergencyStop).toBe('unknown');
  });

  test('the manifold is classed against the compressor floor, the barometer and the pump limit', () => {
    expect(bands({ manifoldPressurePa: 10_000 }).manifold).toBe('vacuum');
    expect(bands({ manifoldPressurePa: 60_000 }).manifold).toBe('low');
    expect(bands({ manifoldPressurePa: 101_000 }).manifold).toBe('barometric');
    expect(bands({ manifoldPressurePa: 111_000 }).manifold).toBe('over-limit');
    expect(bands({ manifoldPressurePa: 159_900 }).manifold).toBe('over-limit');
  });

  const counts = (kg: number) => EQUIPMENT.scale.zeroCounts + kg * EQUIPMENT.scale.countsPerKg;

  // 17.28 kg, and 0.12 L of condenser at 1295 kg/m³.
  test('the tank is full at its limit, less what the condenser may give yet', () => {
    expect(bands({}, counts(17.13)).tankMass).toBe('full');
    expect(bands({}, counts(17.12)).tankMass).toBe('normal');
    const unread = classify({
      seen: seen(0),
      equipment: EQUIPMENT,
      ticket: TICKET,
      curve: R134A,
      scaleTrust: 'trusted',
      scaleCounts: undefined,
      scaleMassKg: 8,
      purges: true,
    });
    expect([unread.tankMass, unread.tankLiquid, unread.scale]).toEqual(['unknown', 'unknown', 'doubtful']);
  });

  test('a platform that is lifted makes no room in the tank, and one that is leaned on no liquid', () => {
    expect(bands({}, counts(14), EQUIPMENT, 17.3).tankMass).toBe('full');
    expect(bands({}, counts(14), EQUIPMENT, 14.1).tankMass).toBe('normal');
    expect(bands({}, counts(17.3), EQUIPMENT, 14).tankMass).toBe('full');
    expect(bands({}, counts(4), EQUIPMENT, 1.2).tankLiquid).toBe('short');
    expect(bands({}, counts(1.2), EQUIPMENT, 4).tankLiquid).toBe('short');
    expect(bands({}, counts(4), EQUIPMENT, 4).tankLiquid).toBe('enough');
    const unreckoned = bands({}, counts(4), EQUIPMENT, Number.NaN);
    expect([unreckoned.tankMass, unreckoned.tankLiquid]).toEqual(['full', 'short']);
  });

  test('a figure of the equipment that is no number never permits', () => {
    const { tank, compressor, vacuumPump } = EQUIPMENT;
    const nameless = bands({}, counts(8), {
      ...EQUIPMENT,
      tank: { ...tank, fillLimitKg: Number.NaN, reserveKg: Number.NaN, temperatureLimitK: Number.NaN },
      compressor: { ...compressor, cutOutPa: Number.NaN },
      vacuumPump: { ...vacuumPump, openLimitPa: Number.NaN },
    });
    expect(nameless).toMatchObject({
      tankMass: 'full',
      tankLiquid: 'short',
      tankTemperature: 'hot',
      tankPressure: 'high',
      manifold: 'over-limit',
    });
    expect(bands({}, counts(8))).toMatchObject({ tankMass: 'normal', tankLiquid: 'enough' });
  });

  test('saturation data of another refrigerant say nothing of the liquid in the tank', () => {
    const other = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' } };
    expect(bands({}, counts(8), other).tankLiquid).toBe('unknown');
  });

  describe('liquid over the dip tube, its reserve 1 kg', () => {
    const liquid = (kg: number, tankTemperatureK: number | ReturnType<typeof none>) =>
      bands({ tankTemperatureK }, counts(kg)).tankLiquid;

    test('is enough with 1.58 kg in the tank at 20 °C (0.58 kg of vapour), and NOT with less', () => {
      expect(liquid(1.59, 293.15)).toBe('enough');
      expect(liquid(1.57, 293.15)).toBe('short');
    });

    test('is NOT enough at 40 °C, where 0.5 kg more is vapour', () => {
      expect(liquid(1.59, 313.15)).toBe('short');
      expect(liquid(2.05, 313.15)).toBe('enough');
    });

    test('is never enough with the reserve alone, however cold: the tank will warm', () => {
      for (const celsius of [-40, -20, 0, 20, 60]) expect(liquid(1, celsius + 273.15)).toBe('short');
      expect(liquid(1.57, 253.15)).toBe('short');
    });

    test('is unknown without a temperature, unless there is enough for the hottest tank allowed', () => {
      expect(liquid(2, none('open-circuit'))).toBe('unknown');
      expect(liquid(1, none('open-circuit'))).toBe('unknown');
      expect(liquid(8, none('open-circuit'))).toBe('enough');
    });
  });

  test('tank pressure is high at nine tenths of the cut-out, when its sensor reads that far', () => {
    const far = { ...EQUIPMENT, pressure: { ...EQUIPMENT.pressure, tankSpanPa: 4_000_000 } };
    expect(bands({ tankPressurePa: 2_250_001 }, 0, far).tankPressure).toBe('high');
    expect(bands({ tankPressurePa: 2_240_000 }, 0, far).tankPressure).toBe('normal');
  });

  test('tank pressure is high before its sensor runs out of range', () => {
    expect(bands({ tankPressurePa: 0.96 * EQUIPMENT.pressure.tankSpanPa }).tankPressure).toBe('high');
    expect(bands({ tankPressurePa: 0.94 * EQUIPMENT.pressure.tankSpanPa }).tankPressure).toBe('normal');
    expect(bands({ tankPressurePa: none('short-circuit') }).tankPressure).toBe('unknown');
  });

  test('only a known non-flammable refrigerant counts as one', () => {
    const holding = (refrigerant: string) => ({ ...EQUIPMENT, tank: { ...EQUIPMENT.tank, refrigerant } });
    expect(bands({}, 0, holding('R-134a')).flammability).toBe('none');
    expect(bands({}, 0, holding('R-1234yf')).flammability).toBe('mild');
    expect(bands({}, 0, holding('something new')).flammability).toBe('mild');
  });

  test('a hose above the tank by more than the sensors may be off is a reverse flow', () => {
    expect(bands({ highSidePressurePa: 900_000, tankPressurePa: 571_000 }).chargeDirection).toBe('reverse');
    expect(bands({ highSidePressurePa: 575_000, tankPressurePa: 571_000 }).chargeDirection).toBe('forward');
    expect(bands({ highSidePressurePa: none('stale') }).chargeDirection).toBe('unknown');
  });

  test('a hard-wired switch that reports not-fitted is unknown', () => {
    expect(bands({ emergencyStop: none('not-fitted') }).emergencyStop).toBe('unknown');
    expect(bands({ gasAlarm: none('not-fitted') }).gasAlarm).toBe('not-fitted');
  });
});

describe('A change that the interlocks must judge', () => {
  /** The first word of every name, and the same with one name at another word. */
  function* oneOff(words: { readonly [name: string]: readonly string[] }) {
    const first = Object.fromEntries(Object.entries(words).map(([name, [word]]) => [name, word]));
    for (const [name, others] of Object.entries(words))
      for (const word of others.slice(1)) yield { first, other: { ...first, [name]: word }, name };
  }

  test('is seen in every single band, and nothing is seen where nothing changed', () => {
    for (const { first, other, name } of oneOff(BANDS)) {
      expect(sameBands(first as Bands, other as Bands), name).toBe(false);
      expect(sameBands(first as Bands, { ...first } as Bands)).toBe(true);
    }
  });

  test('is seen in everything that is remembered, and nothing is seen where nothing changed', () => {
    for (const { first, other, name } of oneOff(MEMORY)) {
      expect(sameRemembered(first as Remembered, other as Remembered), name).toBe(false);
      expect(sameRemembered(first as Remembered, { ...first } as Remembered)).toBe(true);
    }
  });
});

describe('The rest of the tank', () => {
  const RESTED_MS = 7_200_000;

  test('is known by what was typed, or by two hours in which the machine itself left the tank alone', () => {
    expect(recalled(openMemory(0), 0).tankRest).toBe('stirred');
    expect(recalled(openMemory(0, RESTED_MS), 0).tankRest).toBe('rested');
    expect(recalled(openMemory(0, RESTED_MS - 1), 0).tankRest).toBe('stirred');
    expect(recalled(openMemory(0), RESTED_MS).tankRest).toBe('rested');
  });

  test.each(['compressor', 'recoveryValve', 'chargeValve', 'tankHeater'] as const)(
    'is over as soon as %s is on, and begins anew when it is off',
    (output) => {
      const stirred = hold(openMemory(0, RESTED_MS), [output], 100, 100);
      expect(recalled(stirred, 200).tankRest).toBe('stirred');
      expect(recalled(stirred, 100 + RESTED_MS).tankRest).toBe('rested');
    },
  );

  test('is NOT disturbed by pump, hoses or the purge valve itself', () => {
    const held = hold(openMemory(0, RESTED_MS), ['vacuumPump', 'highSideValve', 'airPurgeValve'], 100, 1_000);
    expect(recalled(held, 1_100).tankRest).toBe('rested');
  });

  test('a purge may last thirty seconds in all, however it is cut up', () => {
    let held = openMemory(0, RESTED_MS);
    for (let pulse = 0; pulse < 29; pulse += 1) {
      held = hold(held, ['airPurgeValve'], pulse * 10_000 + 100, pulse * 10_000 + 1_000);
      held = hold(held, [], pulse * 10_000 + 1_100, pulse * 10_000 + 10_000);
    }
    expect(recalled(held, 290_000).purge).toBe('some-left');
    held = hold(held, ['airPurgeValve'], 290_100, 292_200);
    expect(recalled(held, 292_300).purge).toBe('spent');
  });
});

describe('Air in the tank, as the interlocks see it,', () => {
  const tankAir = (values: Values, equipment = EQUIPMENT) => bands(values, 2_100_000, equipment).tankAir;
  /** 5 kPa and 0.3 K by the curve: 7.3 kPa. */
  const SD_PA = 7_300;

  test('is some above one standard deviation of what its sensors are off, and none below', () => {
    expect(tankAir({ tankPressurePa: 571_710 + 1.1 * SD_PA })).toBe('some');
    expect(tankAir({ tankPressurePa: 571_710 + 0.9 * SD_PA })).toBe('none');
  });

  test('is not judged in a tank that is cold, or warmer or colder than the room', () => {
    const air = { tankPressurePa: 800_000 };
    expect(tankAir(air)).toBe('some');
    expect(tankAir({ ...air, tankTemperatureK: 290.15, ambientTemperatureK: 290.15 })).toBe('unsettled');
    expect(tankAir({ ...air, tankTemperatureK: 296.65 })).toBe('unsettled');
    expect(tankAir({ ...air, ambientTemperatureK: 296.65 })).toBe('unsettled');
  });

  test('is unknown without a sensor, and in a cylinder of which nobody knows what it holds', () => {
    const air = { tankPressurePa: 800_000 };
    for (const sensor of ['tankPressurePa', 'tankTemperatureK', 'ambientTemperatureK'] as const)
      expect(tankAir({ ...air, [sensor]: none('open-circuit') })).toBe('unknown');
    const cylinder = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };
    expect(tankAir(air, cylinder)).toBe('unknown');
  });
});
