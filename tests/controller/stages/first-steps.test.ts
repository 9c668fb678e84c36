// Where each part of the job begins: at its first step, now, with nothing remembered of an earlier one.
import { expect, test } from 'vitest';
import { enterStage } from '../../../controller/stages/index.ts';
import { STAGES } from '../../../controller/stages.ts';

test('Every stage begins at its first step', () => {
  const first = Object.fromEntries(
    STAGES.map((stage) => {
      const data = enterStage(stage, 5);
      expect(data).toMatchObject({ stage, sinceMs: 5, stepSinceMs: 5 });
      return [stage, data.step];
    }),
  );
  expect(first).toMatchObject({
    'purge-air': 'look',
    settle: 'weigh',
    recover: 'draw',
    rest: 'open',
    'drain-oil': 'look',
    'add-oil': 'read',
    'clear-hoses': 'close',
    'recover-hoses': 'close',
  });
});
