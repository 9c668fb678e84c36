import { expect, test } from 'vitest';
import { SimulatedOperator } from '../../app/run/operator.ts';
import type { Prompt, PromptId } from '../../controller/operator.ts';
import type { HandAction } from '../../sim/spec.ts';

const prompt = (id: PromptId, askedAtMs: number): Prompt => ({ id, text: '', evidence: '', askedAtMs });

function operatorWithDelay(delayMs: number) {
  const done: HandAction[] = [];
  const operator = new SimulatedOperator(
    { operate: (action) => done.push(action), refrigerant: 'R-1234yf' },
    delayMs,
  );
  return { operator, done };
}

test('the operator answers only after the delay, and acts before saying so', () => {
  const { operator, done } = operatorWithDelay(5000);
  const asked = prompt('connect-hoses', 1000);
  expect(operator.respond(asked, 1000)).toEqual([]);
  expect(operator.respond(asked, 5900)).toEqual([]);
  expect(done).toEqual([]);
  expect(operator.respond(asked, 6000)).toEqual([{ type: 'confirmed', prompt: 'connect-hoses' }]);
  expect(done).toEqual(['connect-hoses']);
});

test('one asking is answered once, and a second asking again', () => {
  const { operator, done } = operatorWithDelay(0);
  const first = prompt('close-couplers', 0);
  expect(operator.respond(first, 0)).toHaveLength(1);
  expect(operator.respond(first, 100)).toEqual([]);
  expect(operator.respond(undefined, 200)).toEqual([]);
  expect(operator.respond(prompt('close-couplers', 300), 300)).toHaveLength(1);
  expect(done).toEqual(['close-couplers', 'close-couplers']);
});

test('the identifier reads what is in the vehicle and touches no valve', () => {
  const { operator, done } = operatorWithDelay(0);
  expect(operator.respond(prompt('identify-refrigerant', 0), 0)).toEqual([
    { type: 'identified', result: { refrigerant: 'R-1234yf', purityPercent: 99.9 } },
  ]);
  expect(done).toEqual([]);
});
