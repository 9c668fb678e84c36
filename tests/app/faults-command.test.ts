import { expect, test } from 'vitest';
import { dispatch } from '../../app/cli/dispatch.ts';
import { faults } from '../../app/cli/faults.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { FAULT_NAMES, FAULTS } from '../../sim/faults.ts';
import { fakeTerminal } from './fake-terminal.ts';

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch([faults], ['faults', ...args], terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

test('the list has every fault with its meaning, its size and whether it needs an output', async () => {
  const { status, out } = await called();
  expect(status).toBe(0);
  const blocks = out.split(/^(?=\S)/m);
  expect(blocks.map((block) => block.split('\n')[0])).toEqual([...FAULT_NAMES]);
  for (const [index, name] of FAULT_NAMES.entries()) {
    const block = blocks[index]!.replaceAll(/\s+/g, ' ');
    const { meaning, size, output } = FAULTS[name];
    expect(block).toContain(meaning);
    expect(block.includes('output needed')).toBe(output === true);
    if (size !== undefined)
      expect(block).toContain(`${size.min} to ${size.max} ${size.unit}, default ${size.default}`);
  }
  for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(120);
});

test('as JSON each fault has an example that a scenario takes', async () => {
  const { status, out } = await called('--json');
  expect(status).toBe(0);
  const listed = JSON.parse(out);
  expect(listed.map(({ fault }: { fault: string }) => fault)).toEqual([...FAULT_NAMES]);
  for (const { fault, meaning, outputNeeded, size, example } of listed) {
    expect(meaning).toMatch(/\.$/);
    expect(outputNeeded).toBe('output' in example);
    if (size !== undefined) {
      expect(Object.keys(size)).toEqual(['unit', 'default', 'min', 'max']);
      expect(size.default).toBeGreaterThanOrEqual(size.min);
      expect(size.default).toBeLessThanOrEqual(size.max);
    }
    const file = {
      ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
      vehicle: { chargeG: 500 },
      faults: [example],
    };
    expect(toScenario(file, 'x.json').faults[0]!.fault.fault).toBe(fault);
  }
});

test('names are kebab-case words', () => {
  for (const name of FAULT_NAMES) expect(name).toMatch(/^[a-z]+(-[a-z]+)+$/);
});

test('an argument too many or an unknown option is one line and status 2', async () => {
  for (const args of [['--jsn'], ['scale-stuck']]) {
    const { status, out, err } = await called(...args);
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(err).toMatch(/^coldbench: [^\n]+\n$/);
  }
});
