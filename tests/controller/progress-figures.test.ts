// What the live view shows of a job: where it stands, and the figures beside it.

import { describe, expect, test } from 'vitest';
import { progress } from '../../controller/progress.ts';
import { promptOf } from '../../controller/prompts.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { enterPartialCharge } from '../../controller/stages/charge.ts';
import { enterStage } from '../../controller/stages/index.ts';
import { enterLeakCheck } from '../../controller/stages/leak-check.ts';
import { enterRecoverHoses } from '../../controller/stages/recover-hoses.ts';
import type { ByHand } from '../../controller/wishes.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { none } from './support/readings.ts';
import { weighingOf } from './support/weighings.ts';

const figuresOf = (moment: Moment) => progress(momentOf(moment), 0).figures;
const BY_HAND: ByHand = { sinceMs: 0, wishes: [], wanted: SAFE_COMMANDS, fallen: [], next: [] };

describe('The place', () => {
  const { chart, visits } = momentOf();
  const at = (state: Moment['state'], nowMs = 90_000) => progress(momentOf({ state: state ?? {} }), nowMs);
  const ENDED = { ...chart, value: 'completed' } as const;

  test('is the newest visit with the time since it began, and how long the rest may take', () => {
    const third = [...visits, visits[0]!, { stage: 'settle', startedAtMs: 60_000 } as const];
    expect(at({ visits: third })).toMatchObject({ stage: 'settle', stageElapsedMs: 30_000, ended: false });
    expect(at({ visits: third }).remainingMs!.low).toBeGreaterThan(0);
  });

  test('of a job that has ended is no stage, and nothing is left of it', () => {
    const shown = at({ chart: ENDED, visits });
    expect(shown).toMatchObject({ stage: 'finished', ended: true, stageElapsedMs: 0, paused: false });
    expect(Object.keys(shown)).not.toContain('remainingMs');
    expect(at({ chart: { ...chart, value: 'idle' } })).toMatchObject({ stage: 'idle', ended: true });
  });

  test('of work by hand is no stage either, and it has NOT ended', () => {
    const shown = at({ chart: ENDED, visits, byHand: BY_HAND });
    expect(shown).toMatchObject({ stage: 'by-hand', ended: false, stageElapsedMs: 0 });
    expect(Object.keys(shown)).not.toContain('remainingMs');
  });

  test('is paused by the operator or by a trip, and else NOT', () => {
    expect(at({ chart: { ...chart, value: 'paused' } }).paused).toBe(true);
    expect(at({ chart: { ...chart, value: 'tripped' } }).paused).toBe(true);
    expect(at({}).paused).toBe(false);
  });

  test('comes with the question that stands, and with none where none does', () => {
    const prompt = promptOf('connect-hoses', 0, 'two-ports');
    expect(at({ prompt }).prompt).toBe(prompt);
    expect(Object.keys(at({}))).not.toContain('prompt');
  });
});

describe('The figures', () => {
  const ALL = { ventTemperatureK: 281, vehicleVacuumPa: 900 };
  const READ = {
    lowSidePa: 60_000,
    highSidePa: 60_000,
    manifoldPa: 60_000,
    vehicleVacuumPa: 900,
    tankPa: 571_710,
    tankTemperatureK: 293.15,
    ventK: 281,
  };
  const unweighed: Moment = { values: ALL, scale: { trust: 'not-read', massKg: 8 } };

  test('are what is read', () => expect(figuresOf(unweighed)).toStrictEqual(READ));

  test.each([
    ['lowSidePressurePa', 'lowSidePa'],
    ['highSidePressurePa', 'highSidePa'],
    ['manifoldPressurePa', 'manifoldPa'],
    ['vehicleVacuumPa', 'vehicleVacuumPa'],
    ['tankPressurePa', 'tankPa'],
    ['tankTemperatureK', 'tankTemperatureK'],
    ['ventTemperatureK', 'ventK'],
  ] as const)('leave out what is not: %s', (sensor, figure) => {
    const { [figure]: _, ...others } = READ;
    const values = { ...ALL, [sensor]: none('stale') };
    expect(figuresOf({ ...unweighed, values })).toStrictEqual(others);
  });

  test('leave out the capped low hose of a vehicle with one port, but NOT by hand', () => {
    const onePort: Moment = { ...unweighed, ticket: { ports: 1 } };
    expect(Object.keys(figuresOf(onePort))).not.toContain('lowSidePa');
    expect(figuresOf({ ...onePort, state: { byHand: BY_HAND } }).lowSidePa).toBe(60_000);
  });

  test('have the tank with its flow once the scale is read, though somebody leans on it', () => {
    const scale = { trust: 'disturbed', massKg: 8, flowKgPerS: 0.01 } as const;
    expect(figuresOf({ values: ALL, scale })).toStrictEqual({ ...READ, tankNetKg: 8, flowKgPerS: 0.01 });
  });

  test('are none before the first scan', () => {
    expect(figuresOf({ scale: { massKg: 8 }, state: { seen: undefined } })).toStrictEqual({});
  });
});

describe('What has moved', () => {
  /** The tank was weighed with 8 kg and shows 200 g less. */
  const given = { massKg: 7.8 };
  const charge = { ...enterPartialCharge(0), reference: weighingOf(8), targetKg: 0.6 };
  const movedOf = (moment: Moment) => {
    const { phaseKg, targetKg } = figuresOf({ scale: given, ...moment });
    return [phaseKg, targetKg];
  };
  const near = (kg: number) => expect.closeTo(kg, 6);

  test('in a charge is what the tank has given since its weighing, beside the target', () => {
    expect(movedOf({ stage: charge })).toEqual([near(0.2), 0.6]);
    const state = figuresOf({ scale: given, stage: { ...charge, reference: undefined, targetKg: 0 } });
    expect(Object.keys(state)).not.toContain('phaseKg');
    expect(Object.keys(state)).not.toContain('targetKg');
  });

  test('is the same in the partial charge of a leak check, and nothing in one that lets nothing in', () => {
    expect(movedOf({ stage: { ...enterLeakCheck(0), admission: charge } })).toEqual([near(0.2), 0.6]);
    expect(movedOf({ stage: { ...enterLeakCheck(0), admission: undefined } })).toEqual([
      undefined,
      undefined,
    ]);
  });

  const weighed = weighingOf(8);
  const taken = { massKg: 8.2 };

  test('in a recovery is what was booked and what the tank has gained since', () => {
    const stage = enterStage('recover', 0);
    const moved = (accounts: Moment['accounts']) => movedOf({ stage, scale: taken, accounts: accounts! })[0];
    expect(moved({ weighed, recoveredKg: 0.3 })).toEqual(near(0.5));
    expect(moved({ weighed })).toEqual(near(0.2));
    expect(moved({ recoveredKg: 0.3 })).toBeUndefined();
  });

  test('at the hoses is the same of what they gave, and at the hand-over only what was booked', () => {
    const stage = enterRecoverHoses(0);
    const moved = (accounts: Moment['accounts'], step = stage.step) =>
      movedOf({ stage: { ...stage, step }, scale: taken, accounts: accounts! })[0];
    expect(moved({ weighed, hoseRecoveredKg: 0.03, recoveredKg: 9 })).toEqual(near(0.23));
    expect(moved({ weighed })).toEqual(near(0.2));
    expect(moved({ weighed, hoseRecoveredKg: 0.03 }, 'hand-over')).toBe(0.03);
    expect(moved({ hoseRecoveredKg: 0.03 })).toBeUndefined();
  });

  test('is nothing in a stage that moves nothing, nor where no stage runs', () => {
    const accounts = { weighed, recoveredKg: 0.3, hoseRecoveredKg: 0.03 };
    expect(movedOf({ stage: enterStage('hold', 0), accounts })).toEqual([undefined, undefined]);
    expect(movedOf({ accounts, state: { stage: undefined } })).toEqual([undefined, undefined]);
  });
});
