import { describe, expect, test } from 'vitest';
import { LONGEST_WISH_MS, RENEW_MS } from '../../controller/by-hand.ts';
import { INTERLOCKS } from '../../controller/interlocks/table.ts';
import { byHand, wish } from './support/hand-machine.ts';
import { none } from './support/readings.ts';

describe('A wish', () => {
  test('that nothing forbids is permitted, held, and taken back', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    expect(machine.on).toEqual(['highSideValve']);
    expect(machine.entry).toMatchObject({ deed: 'on', output: 'highSideValve', result: 'permitted' });
    machine.wait(60);
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan(wish('highSideValve', false));
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'done' });
  });

  test('that an interlock forbids is refused with its id, its hazard and a remedy, and nothing else moves', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.scan(wish('compressor'));
    expect(machine.on).toEqual(['highSideValve']);
    const row = INTERLOCKS.find(({ id }) => id === 'IL-15')!;
    expect(machine.entry).toMatchObject({
      deed: 'on',
      output: 'compressor',
      result: 'refused',
      reason: { row: 'IL-15', hazard: row.hazard, remedy: row.remedy },
    });
    const [notice] = machine.last!.notices;
    expect(notice).toMatchObject({ code: 'wish-refused', remedy: row.remedy });
    expect(notice!.text).toContain('IL-15');
    expect(notice!.text).toContain('shut suction');
  });

  test('that would make a held output unsafe as well is refused without taking that one away', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.scan(wish('chargeValve'));
    expect(machine.entry).toMatchObject({ result: 'refused', reason: { row: 'IL-13' } });
    expect(machine.on).toEqual(['vacuumValve', 'vacuumPump']);
  });

  test('among several of one scan is judged after those before it', () => {
    const machine = byHand();
    machine.scan(wish('compressor'), wish('highSideValve'), wish('recoveryValve'));
    expect(machine.on).toEqual(['highSideValve', 'recoveryValve']);
    machine.scan(wish('compressor'));
    expect(machine.on).toEqual(['highSideValve', 'recoveryValve', 'compressor']);
  });

  test('for an output that is not fitted is refused', () => {
    const machine = byHand();
    machine.scan(wish('tankHeater'));
    expect(machine.entry).toMatchObject({ result: 'refused', reason: { row: 'IL-01-tankHeater' } });
  });

  test('that cannot be read is no wish', () => {
    const machine = byHand();
    for (const nonsense of [
      { type: 'wished', output: 'door', on: true },
      { type: 'wished', output: 'highSideValve' },
      { type: 'wished', output: 'highSideValve', on: 1 },
      { type: 'wished', output: 'highSideValve', on: true, offAfterMs: Number.NaN },
      { type: 'wished', output: 'highSideValve', on: true, offAfterMs: 0 },
      { type: 'wished' },
    ])
      machine.scan(nonsense as never);
    expect(machine.on).toEqual([]);
    expect(machine.state.handJournal).toHaveLength(1);
  });
});

describe('Unknown is never permission', () => {
  test.each([
    ['vacuumValve', { manifoldPressurePa: none('open-circuit') }, 'IL-10'],
    ['recoveryValve', { scaleCounts: none('stale') }, 'IL-07'],
    ['recoveryValve', { tankPressurePa: none('open-circuit') }, 'IL-06'],
    ['highSideValve', { emergencyStop: none('stale') }, 'IL-04'],
  ] as const)('%s is refused while its reading is missing', (output, values, row) => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.values = values;
    machine.wait(1);
    machine.scan(wish(output));
    expect(machine.on).not.toContain(output);
    expect(machine.entry.result).toBe('refused');
    expect(machine.entry.reason).toMatchObject({ row, unknown: expect.any(String) });
    expect(machine.last!.notices[0]!.text).toContain('unknown is never permission');
  });

  test.each(['vacuumValve', 'recoveryValve', 'highSideValve'] as const)(
    '%s is NOT refused when everything reads',
    (output) => {
      const machine = byHand();
      machine.scan(wish('vacuumPump'));
      machine.wait(4);
      machine.scan(wish(output));
      expect(machine.on).toContain(output);
    },
  );
});

describe('A held output', () => {
  test('that an interlock forbids later is dropped, keeps its first reason, and does not come back by itself', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.values = { manifoldPressurePa: 140_000 };
    machine.scan();
    expect(machine.on).toEqual(['vacuumPump']);
    expect(machine.codes).toEqual(['wish-fell']);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'fell', reason: { row: 'IL-10' } });
    machine.values = { manifoldPressurePa: none('stale') };
    machine.wait(1);
    machine.values = {};
    machine.wait(60);
    expect(machine.on).toEqual(['vacuumPump']);
    expect(machine.state.byHand?.fallen).toMatchObject([{ output: 'vacuumValve', reason: { row: 'IL-10' } }]);
    expect(machine.state.byHand?.fallen[0]?.reason.unknown).toBeUndefined();
    machine.scan(wish('vacuumValve'));
    expect(machine.on).toEqual(['vacuumValve', 'vacuumPump']);
    expect(machine.state.byHand?.fallen).toEqual([]);
  });

  test('falls with the one it depends on', () => {
    const machine = byHand();
    machine.scan(wish('vacuumPump'));
    machine.wait(4);
    machine.scan(wish('vacuumValve'));
    machine.scan(wish('vacuumPump', false));
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ output: 'vacuumValve', result: 'fell', reason: { row: 'IL-09' } });
  });

  test('goes off when nobody renews it', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.wait(RENEW_MS / 1000 - 1);
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan(wish('highSideValve'));
    machine.wait(RENEW_MS / 1000 - 1);
    expect(machine.on).toEqual(['highSideValve']);
    machine.wait(2);
    expect(machine.on).toEqual([]);
    expect(machine.entry).toMatchObject({ deed: 'off', result: 'expired', output: 'highSideValve' });
    expect(machine.state.notices.at(-1)?.code).toBe('wish-expired');
  });

  test('with a time of its own goes off after that, and never lasts longer than the longest', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve', true, 600_000), wish('lowSideValve', true, 1e12));
    machine.wait(599);
    expect(machine.on).toEqual(['highSideValve', 'lowSideValve']);
    machine.wait(2);
    expect(machine.on).toEqual(['lowSideValve']);
    machine.wait(LONGEST_WISH_MS / 1000);
    expect(machine.on).toEqual([]);
    expect(machine.state.notices.map(({ code }) => code)).toEqual(['by-hand-begun']);
  });

  test('as a pulse is counted by the rig, and a second pulse begins with an off in between', () => {
    const machine = byHand();
    machine.scan(wish('highSideValve'));
    machine.scan(wish('lowSideValve', true, 250));
    expect(machine.last!.commands.lowSideValve).toEqual({ on: true, offAfterMs: 250 });
    machine.scan(wish('lowSideValve', true, 150));
    expect(machine.on).toEqual(['highSideValve']);
    machine.scan();
    expect(machine.last!.commands.lowSideValve).toEqual({ on: true, offAfterMs: 150 });
    machine.wait(0.3);
    expect(machine.on).toEqual(['highSideValve']);
  });
});
