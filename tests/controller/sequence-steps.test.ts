// One scan of the sequence: what a stage wants, asks and books, and where its event leads.

import { describe, expect, test } from 'vitest';
import type { LedgerEntry } from '../../controller/ledger.ts';
import { NO_NOTICES } from '../../controller/notices.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { promptOf } from '../../controller/prompts.ts';
import { runSequence } from '../../controller/sequence.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { enterEvacuate } from '../../controller/stages/evacuate.ts';
import { enterHold } from '../../controller/stages/hold.ts';
import { enterStage } from '../../controller/stages/index.ts';
import { enterRest } from '../../controller/stages/rest.ts';
import { enterSettle } from '../../controller/stages/settle.ts';
import { want } from '../../controller/stages/stage.ts';
import type { Stage } from '../../controller/stages.ts';
import type { ControllerState } from '../../controller/state.ts';
import { EQUIPMENT } from './support/machine.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { weighingOf } from './support/weighings.ts';

const HOUR_MS = 3_600_000;
/** A job that stands in a stage which it entered at 0. */
function inStage(stage: Stage, moment: Moment = {}): ControllerState {
  const state = momentOf({ stage: enterStage(stage, 0), ...moment });
  return {
    ...state,
    chart: { ...state.chart, value: stage },
    visits: [{ stage, startedAtMs: 0 }],
    ...moment.state,
  };
}
const PURE: OperatorEvent = {
  type: 'identified',
  result: { refrigerant: 'R-134a', purityPercent: 99.9, airPercent: 2 },
};
const asked = promptOf('identify-refrigerant', 50, 'two-ports');
const codes = (of: { readonly notices: readonly { readonly code: string }[] }) =>
  of.notices.map(({ code }) => code);

describe('A question', () => {
  test('is asked when the stage first wants an answer, in the words of the hookup, and stands from then on', () => {
    const first = runSequence(inStage('identify', { ticket: { ports: 1 } }), 100, []);
    expect(first.state.prompt).toEqual(promptOf('identify-refrigerant', 100, 'one-port'));
    expect(first.wanted).toBe(SAFE_COMMANDS);
    expect(first.notices).toBe(NO_NOTICES);
    const second = runSequence(first.state, 200, []);
    expect(second.state.prompt).toBe(first.state.prompt);
    expect(second.state.ledger).toBe(first.state.ledger);
  });

  test('whose answer comes leads on, and the next stage begins in the same scan', () => {
    const { state, notices, wanted } = runSequence(inStage('identify', { state: { prompt: asked } }), 100, [
      PURE,
    ]);
    expect(state.chart.value).toBe('settle');
    expect(state.visits).toEqual([
      { stage: 'identify', startedAtMs: 0, endedAtMs: 100, result: 'refrigerant-accepted' },
      { stage: 'settle', startedAtMs: 100 },
    ]);
    expect(state.stage).toMatchObject({ stage: 'settle', sinceMs: 100, weighing: { sinceMs: 100 } });
    expect(state.prompt).toBeUndefined();
    expect(codes({ notices })).toEqual(['air-in-vehicle']);
    expect(state.accounts.identification).toMatchObject({ verdict: 'accepted' });
    expect(wanted).toBe(SAFE_COMMANDS);
  });

  test('is NOT answered by what was said before it was asked', () => {
    expect(runSequence(inStage('identify'), 100, [PURE]).state.chart.value).toBe('identify');
  });

  test('leaves the visit under a word of its own where the stage has one', () => {
    const equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };
    const foreign = inStage('identify', {
      ticket: { service: 'recover' },
      equipment,
      state: { prompt: asked },
    });
    expect(runSequence(foreign, 100, [PURE]).state.visits[0]!.result).toBe('recovered-as-contaminated');
  });

  test('costs the stage no time while it stands', () => {
    const prompt = promptOf('connect-hoses', 1_000, 'two-ports');
    const stage = { ...enterSettle(0), step: 'connect', stepSinceMs: 900 } as const;
    const { state } = runSequence(inStage('settle', { stage, state: { prompt } }), 61_000, [
      { type: 'confirmed', prompt: 'connect-hoses' },
    ]);
    expect(state.stage).toMatchObject({ step: 'look', sinceMs: 60_000, stepSinceMs: 61_000 });
    expect(state.prompt).toBeUndefined();
  });

  test('that changes nothing moves no clock', () => {
    const prompt = promptOf('connect-hoses', 1_000, 'two-ports');
    const stage = { ...enterSettle(0), step: 'connect' } as const;
    const { state } = runSequence(inStage('settle', { stage, state: { prompt } }), 61_000, []);
    expect(state.stage).toMatchObject({ step: 'connect', sinceMs: 0, stepSinceMs: 0 });
  });
});

describe('A stage', () => {
  test('is stepped once a scan, and what it wants is wanted', () => {
    const watching = { ...enterHold(0), step: 'watch', sampledAtMs: 100, lastSeenMs: 100 } as const;
    const { state } = runSequence(
      inStage('hold', { stage: watching, values: { manifoldPressurePa: 300 } }),
      200,
      [],
    );
    expect(state.stage).toMatchObject({ sums: { scans: 1 } });
    const joining = runSequence(inStage('evacuate', { stage: enterEvacuate(0) }), 100, []);
    expect(joining.wanted).toEqual(want('highSideValve', 'lowSideValve', 'vacuumPump'));
  });

  test('books what it has weighed behind what was booked before', () => {
    const sums = { samples: 10, sum: 10 * 2_120_000, hosePaSum: 0 };
    const weighing = { sinceMs: 0, quietSinceMs: 0, ...sums, lastAtMs: 0 };
    const stage = { ...enterRest(0), step: 'weigh', verdict: 'stayed-low', weighing } as const;
    const before: LedgerEntry = {
      movement: 'vehicle-to-tank',
      massKg: 0.4,
      sdKg: 0.001,
      countsBefore: 0,
      countsAfter: 1,
      atMs: 1,
    };
    const { state, ledger } = runSequence(
      inStage('rest', {
        stage,
        scale: { counts: 2_120_000, atMs: 8_950 },
        accounts: { weighed: weighingOf(8), weighedFirst: weighingOf(8) },
        state: { ledger: [before] },
      }),
      9_000,
      [],
    );
    expect(ledger).toEqual([
      expect.objectContaining({ movement: 'vehicle-to-tank', massKg: expect.closeTo(0.2, 6) }),
    ]);
    expect(state.ledger).toEqual([before, ...ledger]);
    expect(state.accounts.recoveredKg).toBeCloseTo(0.2, 2);
  });

  test('tells behind what was told in the same scan', () => {
    const told = runSequence(inStage('identify', { state: { prompt: asked } }), 100, [
      { type: 'wished', output: 'compressor', on: true },
      PURE,
    ]);
    expect(codes(told)).toEqual(['wish-not-by-hand', 'air-in-vehicle']);
  });

  test('that is none steps nowhere', () => {
    const lost = inStage('rest', { state: { stage: undefined } });
    expect(runSequence(lost, 100, []).state).toBe(lost);
  });
});

describe('Time', () => {
  test('ends a stage whose step, or which as a whole, has lasted longer than it may', () => {
    // A step of settle may take 20 minutes, a hold altogether as long.
    const settling = inStage('settle', { stage: { ...enterSettle(0), stepSinceMs: HOUR_MS } });
    const holding = inStage('hold', {
      stage: { ...enterHold(0), step: 'watch', stepSinceMs: HOUR_MS / 3 - 1 },
    });
    for (const [state, limitMs] of [
      [settling, HOUR_MS + HOUR_MS / 3],
      [holding, HOUR_MS / 3],
    ] as const) {
      const stage = state.stage!.stage;
      expect(runSequence(state, limitMs, []).state.chart.value).toBe(stage);
      const over = runSequence(state, limitMs + 1, []);
      expect(over.notices).toEqual([{ code: 'timed-out', with: { stage, minutes: '20' } }]);
      expect(over.state).toMatchObject({ chart: { value: 'stopped' }, stage: undefined });
      expect(over.state.visits).toEqual([
        { stage, startedAtMs: 0, endedAtMs: limitMs + 1, result: 'timed-out' },
      ]);
      expect(over.wanted).toBe(SAFE_COMMANDS);
    }
  });

  test('ends a question that nobody answers within a working day of its being asked', () => {
    const waiting = inStage('identify', { state: { prompt: { ...asked, askedAtMs: HOUR_MS } } });
    expect(runSequence(waiting, 9 * HOUR_MS, []).state.chart.value).toBe('identify');
    const over = runSequence(waiting, 9 * HOUR_MS + 1, []);
    expect(over.notices).toEqual([{ code: 'wait-timed-out', with: { minutes: '480' } }]);
    expect(over.state).toMatchObject({ chart: { value: 'stopped' }, prompt: undefined });
  });
});
