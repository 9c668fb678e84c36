// What a stage takes up again after a pause: what the pause has spoilt starts over, what was measured is kept.
import { describe, expect, test } from 'vitest';
import { startCount } from '../../../controller/estimates/condenser.ts';
import { stageInput } from '../../../controller/stage-input.ts';
import { enterAddOil } from '../../../controller/stages/add-oil.ts';
import { enterCharge } from '../../../controller/stages/charge.ts';
import type { DataOf, StageData } from '../../../controller/stages/data.ts';
import { enterDrainOil } from '../../../controller/stages/drain-oil.ts';
import { enterEvacuate } from '../../../controller/stages/evacuate.ts';
import { enterFill } from '../../../controller/stages/fill.ts';
import { enterStage, resumeStage, stepStage } from '../../../controller/stages/index.ts';
import { enterLeakCheck } from '../../../controller/stages/leak-check.ts';
import { enterPurgeAir } from '../../../controller/stages/purge-air.ts';
import { enterRecover } from '../../../controller/stages/recover.ts';
import { enterRecoverHoses } from '../../../controller/stages/recover-hoses.ts';
import { enterRest } from '../../../controller/stages/rest.ts';
import { enterSettle } from '../../../controller/stages/settle.ts';
import { STAGES, type Stage } from '../../../controller/stages.ts';
import { momentOf } from '../support/moment.ts';

/** Half of a weighing, which no pause may join to the other half. */
const HALF = { sinceMs: 0, quietSinceMs: 0, samples: 9, sum: 9, hosePaSum: 9, lastAtMs: 0 };
/** Entered at 0, paused after ten seconds for a minute. */
const PAUSED_MS = 10_000;
const NOW_MS = 70_000;
const SHIFTED_MS = 60_000;
const resumed = <D extends StageData>(data: D, pausedAtMs = PAUSED_MS): StageData =>
  resumeStage(data, pausedAtMs, NOW_MS);

describe('Each stage', () => {
  test.each(STAGES)('is entered under its own name, and now: %s', (stage) =>
    expect(enterStage(stage, 5)).toMatchObject({ stage, sinceMs: 5, stepSinceMs: 5 }),
  );

  test.each(STAGES)(
    'is stepped by its own hand, at its beginning with nothing on that moves refrigerant: %s',
    (stage) => {
      const state = momentOf({ scale: { massKg: 8, counts: 2_100_000 }, stage: enterStage(stage, 0) });
      const step = stepStage(state.stage!, stageInput(state, [], 0));
      expect(step.data.stage).toBe(stage);
      expect(step.wanted.chargeValve.on || step.wanted.compressor.on).toBe(false);
    },
  );

  const MOVED: readonly Stage[] = [
    'identify',
    'fill',
    'purge-air',
    'settle',
    'recover',
    'drain-oil',
    'repair',
    'evacuate',
    'add-oil',
    'leak-check',
    'charge',
    'recover-hoses',
  ];
  test.each(MOVED)('has its deadline moved by the pause: %s', (stage) =>
    expect(resumed(enterStage(stage, 0)).sinceMs).toBe(SHIFTED_MS),
  );

  test.each(['rest', 'hold', 'verify', 'clear-hoses'] as const)('or starts over: %s', (stage) =>
    expect(resumed(enterStage(stage, 0))).toEqual(enterStage(stage, NOW_MS)),
  );

  test('has NO deadline moved back by a clock that jumps', () =>
    expect(resumed(enterStage('identify', 0), NOW_MS + 5_000).sinceMs).toBe(0));
});

test('A question that stood at the identifier stands anew', () =>
  expect(resumed(enterStage('identify', 0))).toEqual({
    stage: 'identify',
    step: 'ask',
    sinceMs: SHIFTED_MS,
    stepSinceMs: NOW_MS,
  }));

test('A filling looks at its scale from now on, and starts its compressor anew', () => {
  const before = {
    ...enterFill(0),
    step: 'draw',
    weighing: HALF,
    compressorSinceMs: 4,
    openings: 3,
  } as const;
  expect(resumed(before)).toEqual({
    ...before,
    sinceMs: SHIFTED_MS,
    stepSinceMs: NOW_MS,
    drawnSinceMs: NOW_MS,
    weighing: undefined,
    compressorSinceMs: undefined,
  });
});

describe('A purge', () => {
  const before = { ...enterPurgeAir(0), bursts: 2, weighing: HALF };

  test('counts the burst that was cut off, and looks at the tank before the next', () =>
    expect(resumed({ ...before, step: 'burst' })).toMatchObject({
      step: 'rest',
      bursts: 3,
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
    }));

  test('goes on with anything else, its weighing begun afresh', () =>
    expect(resumed({ ...before, step: 'weigh-after' })).toEqual({
      ...before,
      step: 'weigh-after',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      weighing: undefined,
    }));
});

describe('A vehicle that is being looked at', () => {
  const pulseTest = { highFromPa: 1, lowFromPa: 1, highLowestPa: 1, lowLowestPa: 1 };
  const before = { ...enterSettle(0), apart: { sinceMs: 0, fromPa: 1 }, pulseTest, weighing: HALF };

  test.each(['look', 'join', 'apart', 'pulse'] as const)('is looked at anew: %s', (step) =>
    expect(resumed({ ...before, step })).toEqual({
      ...before,
      step: 'look',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      apart: undefined,
      pulseTest: undefined,
    }),
  );

  test.each(['weigh', 'flush', 'connect', 'warm-stop', 'weigh-connected'] as const)(
    'or goes on: %s',
    (step) =>
      expect(resumed({ ...before, step })).toEqual({
        ...before,
        step,
        sinceMs: SHIFTED_MS,
        stepSinceMs: NOW_MS,
        weighing: undefined,
      }),
  );

  test('has its engine stopped where one was running: nobody knows for how long by now', () =>
    expect(resumed({ ...before, step: 'warm' })).toMatchObject({
      step: 'warm-stop',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
    }));
});

describe('A recovery', () => {
  const count = { ...startCount(0), drawnKg: 0.2, coilWarmerK: 5 };
  const before = { ...enterRecover(0), compressorSinceMs: 2_000, lowSinceMs: 9_000, count, weighing: HALF };

  test('draws anew with what it has counted, into a coil that has cooled', () =>
    expect(resumed(before)).toEqual({
      ...enterRecover(NOW_MS),
      sinceMs: SHIFTED_MS,
      count: { ...count, atMs: NOW_MS, coilWarmerK: 0 },
    }));

  test('that has ended is weighed afresh, and its draw is NOT forgotten', () => {
    const weighs = { ...before, step: 'weigh', why: 'trickle' } as const;
    expect(resumed(weighs)).toEqual({ ...weighs, sinceMs: SHIFTED_MS, weighing: undefined });
  });

  test('that rests starts its rest over, unless that has been decided', () => {
    const rest = { ...enterRest(0), samplesPa: [1, 2], verdict: 'rose', weighing: HALF } as const;
    expect(resumed({ ...rest, step: 'open' })).toEqual(enterRest(NOW_MS));
    const weighs = { ...rest, step: 'weigh' } as const;
    expect(resumed(weighs)).toEqual({ ...weighs, sinceMs: SHIFTED_MS, weighing: undefined });
  });
});

test('A drain looks at the separator before its next opening, but one that is over goes on to its end', () => {
  const before = { ...enterDrainOil(0), step: 'drain', fired: true, pulseMs: 30, weighing: HALF } as const;
  const moved = { sinceMs: SHIFTED_MS, stepSinceMs: NOW_MS, fired: false };
  expect(resumed(before)).toEqual({ ...before, ...moved, step: 'look', pulseMs: 0 });
  const over = { ...before, step: 'return', why: 'drained' } as const;
  expect(resumed(over)).toEqual({ ...over, ...moved, weighing: undefined });
});

test('A repair goes on, weighed afresh', () =>
  expect(resumed({ ...enterStage('repair', 0), weighing: HALF } as DataOf<'repair'>)).toMatchObject({
    stepSinceMs: NOW_MS,
    weighing: undefined,
  }));

test('An evacuation keeps the time it has pumped, how low it came and what was told, and joins anew', () => {
  const before: DataOf<'evacuate'> = {
    ...enterEvacuate(0),
    step: 'pump',
    pumpingSinceMs: 6_000,
    pumpedMs: 30_000,
    lowestPa: 250,
    boilingTold: true,
    plateau: true,
    flatLooks: 2,
  };
  expect(resumed(before)).toEqual({
    ...enterEvacuate(NOW_MS),
    sinceMs: SHIFTED_MS,
    pumpedMs: 34_000,
    lowestPa: 250,
    boilingTold: true,
  });
});

describe('Oil', () => {
  /** A millilitre a second, for eight seconds. */
  const before = { ...enterAddOil(0), flowM3PerS: 1e-6, doseMs: 8_000, givenM3: 5e-6 };
  const given = (over: Partial<DataOf<'add-oil'>>, pausedAtMs = PAUSED_MS): DataOf<'add-oil'> =>
    resumed({ ...before, ...over }, pausedAtMs) as DataOf<'add-oil'>;

  test('that ran in before the pause counts, up to where its valve was to shut', () => {
    const dosing = given({ step: 'dose', stepSinceMs: 7_000 });
    expect(dosing).toEqual({
      ...before,
      step: 'open',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      doseMs: 0,
      givenM3: expect.closeTo(8e-6, 12),
    });
    expect(given({ step: 'dose', stepSinceMs: 0 }).givenM3).toBeCloseTo(13e-6, 12);
    expect(given({ step: 'dose', stepSinceMs: 0 }, -1_000).givenM3).toBe(5e-6);
  });

  test.each(['open', 'run-in'] as const)('that was not being dosed is NOT counted again: %s', (step) =>
    expect(given({ step, stepSinceMs: 7_000 })).toMatchObject({ step: 'open', givenM3: 5e-6, doseMs: 0 }),
  );

  test('whose bottle is being read waits for its foam anew', () =>
    expect(given({ step: 'read' })).toEqual({ ...before, sinceMs: SHIFTED_MS, stepSinceMs: NOW_MS }));
});

describe('A leak check', () => {
  const admission = { ...enterCharge(0), part: 'partial', step: 'full', weighing: HALF } as const;
  const vehicle = { value: 3e5, perS: 0, atMs: 0 };
  const before: DataOf<'leak-check'> = { ...enterLeakCheck(0), step: 'search', vehicle, weighing: HALF };

  test('asks for its search again, with the watch that goes on, and is not called blind for the pause', () => {
    const from = { pa: 3e5, ambientK: 293, atMs: 0 };
    expect(resumed({ ...before, from })).toEqual({
      ...before,
      from,
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      seenAtMs: NOW_MS,
      vehicle: undefined,
      weighing: undefined,
      admission: undefined,
    });
  });

  test('goes on with its part of a charge like with a whole one', () => {
    const { admission: again } = resumed({ ...before, admission }) as DataOf<'leak-check'>;
    expect(again).toMatchObject({
      part: 'partial',
      step: 'settle',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      weighing: undefined,
    });
    const { admission: back } = resumed({ ...before, admission }, NOW_MS + 5_000) as DataOf<'leak-check'>;
    expect(back!.sinceMs).toBe(0);
  });
});

describe('The hoses', () => {
  const before = { ...enterRecoverHoses(0), weighing: HALF, draws: 2 };

  test.each(['close', 'stop-engine', 'standstill', 'read-oil', 'hand-over'] as const)(
    'stand at the same question: %s',
    (step) =>
      expect(resumed({ ...before, step })).toEqual({
        ...before,
        step,
        sinceMs: SHIFTED_MS,
        stepSinceMs: NOW_MS,
      }),
  );

  test.each(['look', 'draw', 'apart', 'rest'] as const)('are looked at anew: %s', (step) =>
    expect(resumed({ ...before, step })).toEqual({
      ...before,
      step: 'look',
      sinceMs: SHIFTED_MS,
      stepSinceMs: NOW_MS,
      weighing: undefined,
    }),
  );

  test('are weighed afresh', () =>
    expect(resumed({ ...before, step: 'weigh' })).toMatchObject({ step: 'weigh', weighing: undefined }));
});
