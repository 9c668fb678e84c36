// What a stage is shown: how long the compressor must rest, and only answers to the question that stands.
import { describe, expect, test } from 'vitest';
import type { OperatorEvent, PromptId } from '../../controller/operator.ts';
import { promptOf } from '../../controller/prompts.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { stageInput } from '../../controller/stage-input.ts';
import { EQUIPMENT } from './support/machine.ts';
import { judgedOf, type Moment, momentOf } from './support/moment.ts';

const shown = (moment: Moment, nowMs: number, answers: readonly OperatorEvent[] = []) =>
  stageInput(momentOf(moment), answers, nowMs);

describe('The compressor', () => {
  const off = (compressorOffSinceMs: number | undefined) => ({ memory: { compressorOffSinceMs } });

  test('must rest for its two minutes, and has rested then', () => {
    expect(shown(off(1_000), 61_000)).toMatchObject({
      compressorRestLeftMs: 60_000,
      compressorRested: false,
    });
    expect(shown(off(1_000), 120_999)).toMatchObject({ compressorRestLeftMs: 1, compressorRested: false });
    expect(shown(off(1_000), 121_000)).toMatchObject({ compressorRestLeftMs: 0, compressorRested: true });
    expect(shown(off(1_000), 900_000)).toMatchObject({ compressorRestLeftMs: 0, compressorRested: true });
  });

  test('that runs has NOT rested, though it may need no rest', () => {
    expect(shown(off(undefined), 900_000)).toMatchObject({
      compressorRestLeftMs: 120_000,
      compressorRested: false,
    });
    const equipment = { ...EQUIPMENT, compressor: { ...EQUIPMENT.compressor, minimumOffMs: 0 } };
    expect(shown({ ...off(undefined), equipment }, 900_000).compressorRested).toBe(false);
  });
});

test('What the interlocks let through last is shown, and nothing where they have not judged', () => {
  const judged = judgedOf('vacuumPump');
  expect(shown({ state: { judged } }, 0).permitted).toBe(judged.permitted);
  expect(shown({}, 0).permitted).toBe(SAFE_COMMANDS);
});

describe('An answer', () => {
  const under = (id: PromptId | undefined, ...answers: readonly OperatorEvent[]) =>
    shown(id === undefined ? {} : { state: { prompt: promptOf(id, 0, 'two-ports') } }, 0, answers).answers;
  const IDENTIFIED = { type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99 } } as const;
  const OVERRIDDEN = { type: 'identification-overridden', why: 'no-pressure', reason: 'empty' } as const;
  const TO_OTHERS = [
    ['connect-hoses', { type: 'confirmed', prompt: 'connect-hoses' }],
    ['purge-air', { type: 'declined', prompt: 'purge-air' }],
    ['read-catch-bottle', { type: 'entered', prompt: 'read-catch-bottle', volumeM3: 1e-6 }],
    ['search-leak', { type: 'searched', prompt: 'search-leak', found: true }],
  ] as const;

  test('of the identifier counts while it is asked for', () => {
    expect(under('identify-refrigerant', IDENTIFIED, OVERRIDDEN)).toEqual([IDENTIFIED, OVERRIDDEN]);
    expect(under('connect-hoses', IDENTIFIED, OVERRIDDEN)).toEqual([]);
    expect(under(undefined, IDENTIFIED, OVERRIDDEN)).toEqual([]);
  });

  test.each(TO_OTHERS)('to another question counts while that stands: %s', (id, answer) => {
    expect(under(id, answer)).toEqual([answer]);
    expect(under('stop-engine', answer)).toEqual([]);
    expect(under(undefined, answer)).toEqual([]);
  });

  test('is no word of another kind, nor anything that cannot be read', () => {
    const words = [
      { type: 'paused' },
      { type: 'confirmed' },
      undefined,
      { prompt: 'connect-hoses' },
    ] as never;
    expect(shown({}, 0, words).answers).toEqual([]);
    expect(under('connect-hoses', ...(words as readonly OperatorEvent[]))).toEqual([]);
  });

  test('where none came is none', () => {
    const none: readonly OperatorEvent[] = [];
    expect(shown({}, 0, none).answers).toBe(none);
  });
});
