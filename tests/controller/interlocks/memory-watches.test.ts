// What is handed to the watches by weight, delivery and charge, and when: through which open path the tank may lose unseen.
import { describe, expect, test } from 'vitest';
import { NOT_WEIGHED, type RestWeight } from '../../../controller/interlocks/loss-watch.ts';
import { type Memory, noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { type Told, watchWeights } from '../../../controller/interlocks/memory-watches.ts';
import { NOT_POURING } from '../../../controller/interlocks/pour-watch.ts';
import { type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { R134A } from '../support/machine.ts';
import { NOTHING_TOLD } from '../support/watches.ts';

const REST: RestWeight = {
  kg: 8,
  hoseSdKg: 0,
  noiseKg: 4e-4,
  creepKgPerS: 0,
  worstOwnKgPerS: 0,
  sealedPa: undefined,
};

const told = (memory: Memory, ...on: readonly Output[]): Memory =>
  noteCommands(memory, on.length === 0 ? SAFE_COMMANDS : want(...on), undefined, 1_000);

const noted = (memory: Memory, news: Partial<Told>, nowMs: number): Memory => ({
  ...memory,
  ...watchWeights(memory, memory, { ...NOTHING_TOLD, ...news }, nowMs),
});

/** Whether the scale is asked what the tank weighs, and whether the absolute sensor counts as a second witness. */
function asked(memory: Memory): 'not' | 'alone' | 'with-the-sensor' {
  let answer: ReturnType<typeof asked> = 'not';
  const rest: Told['rest'] = (tells) => {
    answer = tells ? 'with-the-sensor' : 'alone';
    return undefined;
  };
  noted(memory, { rest }, 1_100);
  return answer;
}

describe('A shut tank', () => {
  const dry = { ...openMemory(0), manifoldLiquid: false };

  test('is weighed alone while liquid lies in the manifold, and with the sensor when it is dry', () => {
    expect(asked(told(openMemory(0)))).toBe('alone');
    expect(asked(told(dry))).toBe('with-the-sensor');
  });

  test('is weighed with the high side open; with the low side too only where the sensor tells', () => {
    expect(asked(told(openMemory(0), 'highSideValve'))).toBe('alone');
    expect(asked(told(openMemory(0), 'lowSideValve'))).toBe('not');
    expect(asked(told(dry, 'lowSideValve'))).toBe('with-the-sensor');
    expect(asked(told(dry, 'lowSideValve', 'highSideValve'))).toBe('with-the-sensor');
  });

  const PATHS = [
    'recoveryValve',
    'vacuumValve',
    'chargeValve',
    'oilValve',
    'dyeValve',
    'separatorDrainValve',
    'airPurgeValve',
    'compressor',
  ] as const;
  test.each(PATHS)('is NOT weighed while %s is on', (output) => {
    expect(asked(told(dry, output))).toBe('not');
    expect(asked(told(dry, 'highSideValve', output))).toBe('not');
  });

  test('is weighed beside a running pump only where a closed manifold cannot tell', () => {
    const pumping = told(dry, 'vacuumPump');
    expect(asked(pumping)).toBe('alone');
    const telling = { ...pumping, seatWatch: { ...pumping.seatWatch, fromPa: 50 } };
    expect(asked(telling)).toBe('not');
    expect(asked(told(dry, 'vacuumPump', 'highSideValve'))).toBe('not');
  });

  test('is weighed alone in a closed manifold that cannot tell, and with the sensor in one that can', () => {
    const shut = told(openMemory(0));
    expect(asked({ ...shut, seatWatch: { ...shut.seatWatch, fromPa: 50 } })).toBe('alone');
    const tells = told(dry);
    expect(asked({ ...tells, seatWatch: { ...tells.seatWatch, fromPa: 50 } })).toBe('with-the-sensor');
  });

  test('has its weight noted', () => {
    const shut = told(openMemory(0));
    const weighed = noted(shut, { rest: () => REST }, 2_000);
    expect(weighed).toEqual({ ...shut, lossWatch: { ...NOT_WEIGHED, noiseKg: 4e-4, sinceMs: 6_000 } });
    expect(noted(shut, { rest: () => undefined }, 2_000)).toEqual(shut);
    expect(noted(told(weighed, 'chargeValve'), { rest: () => REST }, 2_100).lossWatch).toEqual(NOT_WEIGHED);
  });
});

describe('A tank without a way out', () => {
  const weight = { kg: 8, hosePa: 0, forceKgPerPa: 0, forceSdKgPerPa: 0, calm: true };
  const pourWatched = (...on: readonly Output[]): boolean =>
    noted(told(openMemory(0), ...on), { pour: () => weight }, 2_000).pourWatch.sinceMs !== undefined;

  test('must not pour out, whatever else is open', () => {
    expect(pourWatched()).toBe(true);
    expect(pourWatched('highSideValve', 'lowSideValve', 'recoveryValve', 'compressor')).toBe(true);
    expect(pourWatched('vacuumValve', 'vacuumPump')).toBe(true);
  });

  test('is NOT one while it is charged from, or purged', () => {
    expect(pourWatched('chargeValve')).toBe(false);
    expect(pourWatched('airPurgeValve')).toBe(false);
  });

  test('has what it weighs noted, and nothing while it is not weighed', () => {
    const shut = told(openMemory(0));
    expect(noted(shut, { pour: () => weight }, 2_000)).toEqual({
      ...shut,
      pourWatch: { ...NOT_POURING, sinceMs: 3_500 },
      trickleWatch: { ...NOT_POURING, sinceMs: 3_500 },
      seepWatch: { ...NOT_POURING, sinceMs: 3_500 },
    });
    const restless = noted(shut, { pour: () => ({ ...weight, calm: false }) }, 2_000);
    expect(restless.trickleWatch.sinceMs).toBe(3_500);
    expect(restless.seepWatch).toBe(shut.seepWatch);
    expect(noted(shut, { pour: () => undefined }, 2_000)).toEqual(shut);
  });
});

describe.each(['pourWatch', 'trickleWatch', 'seepWatch'] as const)('What the %s has gathered', (name) => {
  test('is forgotten once it is not told what the tank weighs, whatever the others have gathered', () => {
    const gathers = { ...told(openMemory(0)), [name]: { ...NOT_POURING, sinceMs: 500 } };
    expect(noted(gathers, { pour: () => undefined }, 2_000)[name]).toBe(NOT_POURING);
  });
});

describe('What is drawn and what is given', () => {
  const memory = openMemory(0);

  test('is noted when it changes, and leaves the memory as it is when not', () => {
    const input = {
      curve: R134A,
      running: true,
      suctionPa: 300_000,
      suctionSdShare: 0,
      tankPa: 571_710,
      tankSdPa: 5_000,
      ambientK: 293.15,
      temperatureSdK: 0.3,
      condenserM3: 0.12e-3,
      sweptM3PerS: 2e-4,
      fanStopped: false,
      hoseGaugePa: 0,
      tankKg: 8,
    };
    const drawn = noted(memory, { delivery: input }, 100);
    expect(drawn).toEqual({ ...memory, deliveryWatch: drawn.deliveryWatch });
    expect(drawn.deliveryWatch).toMatchObject({ startKg: 8, blocked: false });
    expect(noted(memory, { delivery: { ...input, running: false } }, 100)).toEqual(memory);
  });

  test('so is what makes the tank rise', () => {
    const input = { tankPa: 571_710, tankKg: 8, roomM3: 0.015, tankK: 293.15 };
    const drawn = noted(memory, { arrival: input }, 100);
    expect(drawn).toEqual({ ...memory, arrivalWatch: drawn.arrivalWatch });
    expect(drawn.arrivalWatch.from).toEqual({ atMs: 100, pa: 571_710, kg: 8 });
    expect(noted(drawn, {}, 200)).toEqual(memory);
  });

  test('so is what has left the tank for the vehicle', () => {
    const input = {
      tankKg: 8,
      empty: true,
      holds: false,
      pressed: false,
      feeds: false,
      draws: false,
      keptKg: 0.2,
      mostKg: 1,
    };
    const given = noted(memory, { given: input }, 0);
    expect(given).toEqual({
      ...memory,
      givenWatch: { ...memory.givenWatch, fromKg: 8, emptied: true },
    });
    expect(noted(given, { given: input }, 100)).toEqual(given);
  });
});
