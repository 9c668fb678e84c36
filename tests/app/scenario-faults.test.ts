import { expect, test } from 'vitest';
import { toScenario } from '../../app/scenario/scenario.ts';
import { FAULT_NAMES, FAULTS } from '../../sim/faults.ts';

const BASE = { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } };
const planned = (...faults: unknown[]) => toScenario({ ...BASE, faults }, 'x.json').faults;

function refused(...faults: unknown[]): string {
  try {
    planned(...faults);
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error('it was accepted');
}

test('every fault can be written with its name alone, or with an output where it strikes one', () => {
  for (const fault of FAULT_NAMES) {
    const output = FAULTS[fault].output ? { output: 'compressor' } : {};
    expect(planned({ fault, ...output })[0]).toEqual({ fault: { fault, ...output }, from: { afterMs: 0 } });
  }
});

test('seconds become milliseconds once', () => {
  expect(
    planned(
      { fault: 'scale-stuck', atS: 1.3, forS: 8.1 },
      { fault: 'fan-stopped', stage: 'charge', afterS: 40 },
      { fault: 'scale-leaned-on', stage: 'hold', size: 5 },
    ),
  ).toEqual([
    { fault: { fault: 'scale-stuck' }, from: { afterMs: 1300 }, forMs: 8100 },
    { fault: { fault: 'fan-stopped' }, from: { afterMs: 40_000, stage: 'charge' } },
    { fault: { fault: 'scale-leaned-on', size: 5 }, from: { afterMs: 0, stage: 'hold' } },
  ]);
});

test.each<[string, unknown, string[]]>([
  [
    'a misspelt fault',
    { fault: 'scale-stukc' },
    ['faults[0].fault', 'scale-stukc', 'did you mean scale-stuck'],
  ],
  ['a fault like none', { fault: 'zeppelin' }, ['faults[0].fault', 'coldbench faults']],
  ['no name', { atS: 3 }, ['faults[0].fault', 'missing', 'coldbench faults']],
  ['a bare name', 'scale-stuck', ['faults[0]', 'must be an object', '"fault"']],
  ['a misspelt key', { fault: 'scale-stuck', ats: 3 }, ['faults[0].ats', 'did you mean atS']],
  ['an unknown stage', { fault: 'scale-stuck', stage: 'chrage' }, ['faults[0].stage', 'did you mean charge']],
  [
    'a time and a stage',
    { fault: 'scale-stuck', stage: 'charge', atS: 5 },
    ['faults[0] has both', 'atS', 'stage'],
  ],
  ['afterS without a stage', { fault: 'scale-stuck', afterS: 5 }, ['faults[0].afterS', 'name the stage']],
  ['a negative time', { fault: 'scale-stuck', atS: -5 }, ['faults[0].atS', '-5', 'negative']],
  ['no duration', { fault: 'scale-stuck', forS: 0 }, ['faults[0].forS', '0.1 to']],
  ['a missing output', { fault: 'relay-welded' }, ['faults[0].output', 'missing', 'vacuumPump']],
  [
    'an output too many',
    { fault: 'scale-stuck', output: 'compressor' },
    ['faults[0].output', 'leave it out'],
  ],
  [
    'an unknown output',
    { fault: 'relay-welded', output: 'pump' },
    ['faults[0].output', 'pump', 'vacuumPump'],
  ],
  ['a size too large', { fault: 'scale-leaned-on', size: 80 }, ['faults[0].size', '-50 to 50 kg', '80']],
  ['a size for what has none', { fault: 'scale-stuck', size: 1 }, ['faults[0].size', 'leave it out']],
])('%s is refused in one line', (_, entry, words) => {
  const message = refused(entry);
  expect(message).not.toContain('\n');
  for (const word of words) expect(message).toContain(word);
});

test('the second of two faults is named by its place', () => {
  expect(refused({ fault: 'scale-stuck' }, { fault: 'nonsense' })).toContain('faults[1].fault');
});

test('an object for the list is refused', () => {
  expect(() => toScenario({ ...BASE, faults: { fault: 'scale-stuck' } }, 'x.json')).toThrow('must be a list');
});
