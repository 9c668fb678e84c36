// By hand: the interlocks are those of a job, whatever is wished in whatever order.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { whyNot } from '../../controller/by-hand.ts';
import { permit } from '../../controller/interlocks/permit.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import type { ControllerState } from '../../controller/scan.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { byHand, wish } from './support/hand-machine.ts';
import { none, type Values } from './support/readings.ts';

const SEED = 20_260_103;

describe('The interlocks are those of a job', () => {
  const worlds: readonly Values[] = [
    {},
    { manifoldPressurePa: none('out-of-range'), highSidePressurePa: 570_000, lowSidePressurePa: 570_000 },
    { manifoldPressurePa: 200 },
    { manifoldPressurePa: none('open-circuit') },
    { scaleCounts: none('stale') },
    { tankPressurePa: none('short-circuit') },
  ];

  test('whatever is wished in whatever order, the word is the one the table itself leaves', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...worlds),
        fc.array(fc.tuple(fc.constantFrom(...OUTPUTS), fc.boolean(), fc.integer({ min: 0, max: 40 })), {
          maxLength: 12,
        }),
        (values, wishes) => {
          const machine = byHand(values);
          for (const [output, on, waits] of wishes) {
            machine.scan(wish(output, on));
            const { judged, fitting } = machine.state;
            const again = permit(judged!.wanted, judged!.bands, judged!.remembered, fitting);
            for (const each of OUTPUTS)
              expect(machine.last!.commands[each].on).toBe(again.permitted[each].on);
            for (let scans = 0; scans < waits; scans += 1) machine.scan();
          }
        },
      ),
      { seed: SEED, numRuns: 60 },
    );
  });

  test('asking why answers as the wish itself then is answered, and changes nothing', () => {
    for (const values of worlds) {
      for (const output of OUTPUTS) {
        const machine = byHand(values);
        machine.scan(wish('highSideValve'), wish('vacuumPump'));
        const before = JSON.stringify(machine.state);
        const rows = whyNot(machine.state, output, machine.nowMs).map(({ row }) => row);
        expect(JSON.stringify(machine.state)).toBe(before);
        machine.scan(wish(output));
        expect([rows[0]], output).toEqual([machine.entry.reason?.row]);
      }
    }
  });
});

test('work by hand goes on identically from a state that went through JSON', () => {
  const script: readonly (readonly OperatorEvent[])[] = [
    [wish('highSideValve'), wish('vacuumPump')],
    [],
    [wish('highSideValve', true, 400)],
    ...Array.from({ length: 40 }, () => []),
    [wish('vacuumValve'), wish('chargeValve')],
    [wish('vacuumPump', false)],
    [],
    [wish('lowSideValve', true, 200)],
    [wish('lowSideValve', true, 200)],
    [],
  ];
  const straight = byHand();
  const restored = byHand();
  for (const events of script) {
    const one = straight.scan(...events);
    restored.state = JSON.parse(JSON.stringify(restored.state)) as ControllerState;
    const other = restored.scan(...events);
    expect([other.commands, other.notices]).toEqual([one.commands, one.notices]);
  }
  expect(restored.state.handJournal).toEqual(straight.state.handJournal);
  expect(straight.state.handJournal.map(({ result }) => result)).toEqual(
    expect.arrayContaining(['permitted', 'refused', 'fell', 'expired']),
  );
});
