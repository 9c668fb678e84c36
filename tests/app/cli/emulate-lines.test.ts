import { expect, test } from 'vitest';
import { emulateLine } from '../../../app/cli/emulate-lines.ts';

test('a person does with the plant what a person can do, and lets things go wrong', () => {
  expect(emulateLine('connect hoses')).toEqual({ kind: 'operate', action: 'connect-hoses' });
  expect(emulateLine('close high coupler')).toEqual({ kind: 'operate', action: 'close-high-coupler' });
  expect(emulateLine('press stop')).toEqual({ kind: 'fault', on: true, fault: { fault: 'emergency-stop' } });
  expect(emulateLine('release stop')).toEqual({
    kind: 'fault',
    on: false,
    fault: { fault: 'emergency-stop' },
  });
  expect(emulateLine('fault scale-leaned-on 5')).toEqual({
    kind: 'fault',
    on: true,
    fault: { fault: 'scale-leaned-on', size: 5 },
  });
  expect(emulateLine('mend relay-welded chargeValve')).toEqual({
    kind: 'fault',
    on: false,
    fault: { fault: 'relay-welded', output: 'chargeValve' },
  });
  expect(emulateLine('set high 8 bar')).toEqual({ kind: 'set', sensor: 'high', value: 800_000 });
  expect(emulateLine('set scale 5 kg')).toEqual({ kind: 'set', sensor: 'scale', value: 5 });
  expect(emulateLine('free high')).toEqual({ kind: 'set', sensor: 'high', value: undefined });
  expect(emulateLine('  # a remark')).toBeUndefined();
});

test.each([
  ['open high valve', /over the line/],
  ['fault', /the fault is missing/],
  ['fault link-lots', /did you mean link-lost/],
  ['fault link-lost 3', /has no size/],
  ['fault compressor-weak 7', /from 0 to 1/],
  ['fault relay-welded', /name the output/],
  ['fault compressor-weak much', /neither a size nor an output/],
  ['set', /sensor is missing; write for example 'set high 8 bar'/],
  ['free', /sensor is missing; write for example 'free high'/],
  ['set high', /the value is missing; write for example 'set high 8 bar'/],
  ['set air', /the value is missing; write for example 'set air 30 C'/],
  ['set hihg 8 bar', /did you mean high/],
  ['set high 800 bar', /bar/],
  ['set high 8 miles', /bar/],
  ['conect', /did you mean connect/],
  ['bad', /known: connect, disconnect.*set, free/],
  ['freee high', /did you mean free/],
  ['press', /write 'press stop'/],
  ['release couplers', /write 'release stop'/],
  ['close', /write 'close couplers' or 'close high coupler'/],
])('%s is answered by what to write', (text, remedy) => {
  expect(() => emulateLine(text)).toThrow(remedy);
});
