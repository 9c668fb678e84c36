// A tank filled out of a cylinder that the records know: what the one gains, the other has given, and nothing is filled out of a wrong one.
import { expect, test } from 'vitest';
import { clockMs, fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { records } from '../../../app/cli/records.ts';
import { breaks } from '../../../app/records/chain.ts';
import { balances } from '../../../app/records/ledger.ts';
import { readLeftOpen } from '../../../app/records/left-open.ts';
import { benchOf, closeLeft, lookAt } from '../../../app/records/resume.ts';
import type { Store } from '../../../app/records/store.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { completeRun, newFile, recordedRun, withStore } from './jobs.ts';

const STOCK_KG = 12;
const FILL_KG = 0.15;
const NAME = 'shelf 3';
const filling = (cylinderName: string) => ({
  name: 'the tank filled',
  seed: 3,
  ticket: { service: 'fill-tank', refrigerant: 'R-134a', fillKg: FILL_KG, cylinderName },
  cylinder: { contentKg: STOCK_KG },
  tank: { contentKg: 4 },
  operator: { delayS: 2 },
});

async function called(file: string, ...args: string[]): Promise<string> {
  const terminal = fakeTerminal();
  expect(await dispatch([records], ['records', ...args, '--records', file], terminal)).toBe(0);
  return terminal.output();
}

/** Records with two cylinders, one of them with stock. */
async function shelf(): Promise<string> {
  const file = newFile();
  await called(file, 'ledger', '--add-cylinder', NAME, '--refrigerant', 'R-134a');
  await called(file, 'ledger', '--add-cylinder', 'yf', '--refrigerant', 'R-1234yf');
  await called(file, 'ledger', '--book', 'stock', '--vessel', NAME, '--mass-kg', String(STOCK_KG));
  return file;
}

/** What the tank has beyond its stock, and the cylinder less than that. */
function moved(store: Store) {
  const [cylinder, tank] = [NAME, 'tank of'].map((name) =>
    balances(store).find(({ vessel }) => vessel.name.startsWith(name)),
  );
  return { gainedKg: tank!.bookedKg - 4, givenKg: STOCK_KG - cylinder!.bookedKg };
}

test('what is filled in is booked out of the cylinder that the ticket names, and its entry says so', async () => {
  const file = await shelf();
  await withStore(file, async (store) => {
    await completeRun(store, filling(NAME));
    const { gainedKg, givenKg } = moved(store);
    expect(Math.abs(givenKg - FILL_KG)).toBeLessThan(0.01);
    expect(Math.abs(gainedKg - givenKg)).toBeLessThan(0.01);
    expect(breaks(store)).toEqual([]);
  });
  const page = await called(file, 'report', '1');
  expect(await called(file, 'ledger', '--vessel', NAME)).toMatch(/cylinder-to-tank .* tank of .* ← shelf 3/);
  expect(page).toMatch(/out of the supply cylinder '?.*shelf 3[\s\S]*cylinder to tank, shelf 3/);
});

test('a fill that was cut off and closed has come out of it as well', async () => {
  await withStore(await shelf(), async (store) => {
    await recordedRun(store, filling(NAME), {
      look: ({ progress }, loop) => {
        if ((progress.figures.phaseKg ?? 0) > FILL_KG / 2) loop.die();
      },
    });
    const left = readLeftOpen(store, undefined)!;
    const looked = lookAt(left, benchOf(left, fluidOnce, clockMs));
    const failed = (problem: Error): never => {
      throw problem;
    };
    closeLeft({ store, calendar: Date.now, left, looked, failed });
    const { givenKg } = moved(store);
    expect(givenKg).toBeGreaterThan(FILL_KG / 3);
    expect(breaks(store)).toEqual([]);
  });
});

test.each([
  ['shelf 4', 'supply-unknown'],
  ['yf', 'supply-of-another-refrigerant'],
])('out of %s nothing is filled', async (name, code) => {
  await withStore(await shelf(), async (store) => {
    const { facts } = await recordedRun(store, filling(name));
    expect(facts.outcome).toBe('refused');
    expect(facts.blockers.map((blocker) => blocker.code)).toEqual([code]);
    expect(facts.blockers[0]!.text).toContain(`'${name}'`);
  });
});
