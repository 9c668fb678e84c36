import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { dispatch } from '../../app/cli/dispatch.ts';
import { run } from '../../app/cli/run.ts';
import { fakeTerminal } from './fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-caution-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The record of a job that is refused at once: its tank holds another refrigerant. */
async function record(refrigerant: string, other: string): Promise<string> {
  const file = path.join(folder, `${refrigerant}.json`);
  const ticket = { refrigerant, nominalChargeG: 500 };
  const scenario = { ticket, vehicle: { refrigerant: other, chargeG: 400 }, tank: { refrigerant: other } };
  writeFileSync(file, JSON.stringify(scenario));
  const terminal = fakeTerminal();
  await dispatch([run], ['run', file], terminal);
  return terminal.output();
}

test('the record of a flammable refrigerant says how much air its charge can spoil', async () => {
  expect(await record('R-1234yf', 'R-134a')).toContain(
    '500 g of R-1234yf can bring 1.7 m³ of air to its flammable limit, 6.9 m³ to a quarter of it.',
  );
});

test('the record of R-134a does NOT', async () => {
  expect(await record('R-134a', 'R-1234yf')).not.toContain('flammable limit');
});
