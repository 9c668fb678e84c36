import { describe, expect, test } from 'vitest';
import { InputError } from '../../app/cli/command.ts';
import { handLine } from '../../app/cli/hand-lines.ts';
import { OUTPUTS } from '../../controller/signals.ts';

describe('A line by hand', () => {
  test.each(OUTPUTS)('knows %s by its name', (output) => {
    expect(handLine(`open ${output}`)).toEqual({ kind: 'switch', output, on: true });
  });

  test.each([
    ['highSideValve', 'high-side-valve', 'high side valve'],
    ['recoveryValve', 'recovery-valve', 'recovery valve'],
    ['vacuumPump', 'vacuum-pump', 'vacuum pump'],
    ['compressor', 'compressor', 'Compressor'],
  ])('knows %s in kebab-case and in words', (output, kebab, words) => {
    for (const name of [kebab, words])
      expect(handLine(`open ${name}`)).toEqual({ kind: 'switch', output, on: true });
  });

  test.each([
    ['open high valve', { kind: 'switch', output: 'highSideValve', on: true }],
    ['  Close   low  # remark', { kind: 'switch', output: 'lowSideValve', on: false }],
    ['Open High Valve', { kind: 'switch', output: 'highSideValve', on: true }],
    ['start pump', { kind: 'switch', output: 'vacuumPump', on: true }],
    ['open vacuum', { kind: 'switch', output: 'vacuumValve', on: true }],
    ['open charge valve for 250 ms', { kind: 'switch', output: 'chargeValve', on: true, offAfterMs: 250 }],
    ['start compressor for 1:30', { kind: 'switch', output: 'compressor', on: true, offAfterMs: 90_000 }],
    ['stop fan', { kind: 'switch', output: 'fanStop', on: true }],
    ['start fan', { kind: 'switch', output: 'fanStop', on: false }],
    ['stop', { kind: 'stop' }],
    ['close all', { kind: 'stop' }],
    ['wait 30', { kind: 'wait', ms: 30_000 }],
    ['wait 0.5 h', { kind: 'wait', ms: 1_800_000 }],
    ['why recovery valve', { kind: 'why', output: 'recoveryValve' }],
    ['connect', { kind: 'operate', action: 'connect-hoses' }],
    ['disconnect hoses', { kind: 'operate', action: 'disconnect-hoses' }],
    ['close couplers', { kind: 'operate', action: 'close-couplers' }],
    ['close high coupler', { kind: 'operate', action: 'close-high-coupler' }],
    ['engine on', { kind: 'operate', action: 'start-engine' }],
    ['stop engine', { kind: 'operate', action: 'stop-engine' }],
    ['exit', { kind: 'quit' }],
    ['', undefined],
    ['# open high valve', undefined],
  ])('%j is read', (text, line) => {
    expect(handLine(text)).toEqual(line);
  });

  test.each([
    ['opne high valve', 'did you mean open'],
    ['open high vlave', 'did you mean high-side-valve?'],
    ['open compresor', 'did you mean compressor?'],
    ['open the door', 'known: high-side-valve'],
    ['open', 'the output is missing'],
    ['why', 'the output is missing'],
    ['wait', 'a time is missing'],
    ['wait a minute', "'a minute' is no time"],
    ['wait -5', "'-5' is no time"],
    ['wait 3 days', "'3 days' is no time"],
    ['wait 1:99', "'1:99' is no time"],
    ['wait 0', "'0' is no time"],
    ['wait 1e9', "'1e9' is no time"],
    ['wait 99 h', 'at most 24 h'],
    ['open high valve for 2 h', 'no wish lasts longer than 1 h'],
    ['close high valve for 10', "leave 'for' out"],
    ['start fan for 10', "leave 'for' out"],
    ['engine', "write 'engine on' or 'engine off'"],
    ['open couplers', "write 'connect'"],
    ['close low coupler', "write 'close couplers'"],
    ['quit now', "leave 'now' out"],
    ['constructor', "there is no 'constructor' by hand"],
    ['open toString', "there is no output 'toString'"],
  ])('%j is refused with the remedy', (text, words) => {
    expect(() => handLine(text)).toThrow(InputError);
    expect(() => handLine(text)).toThrow(words);
  });
});
