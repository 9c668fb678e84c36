// The printed record adds up in front of its reader: ledger, sums and places, taken off the page and added again.
import { expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { printedRecord } from '../../app/run/printed.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { unitsFor } from '../../app/units.ts';

async function pageOf(more: object, system: 'si' | 'us' = 'si'): Promise<string> {
  const scenario = toScenario(
    {
      ticket: { refrigerant: 'R-1234yf', nominalChargeG: 550, ...more },
      vehicle: { chargeG: 420, oilG: 120 },
      seed: 3,
    },
    'the test',
  );
  const session = prepare(scenario, 'the test', fluidOnce, clockMs);
  const facts = await runSession(session, { observers: [], pacing: PACING });
  return printedRecord(scenario, facts, session.equipment, unitsFor(system, 101_325));
}

const oneLine = (page: string): string => page.replace(/\s+/g, ' ');

/** Grams on the page are rounded to a gram, those below ten to a tenth. */
const ROUNDED_G = 0.51;

const ledgerG = (page: string, movement: string): { sum: number; lines: number } => {
  const found = [...page.matchAll(new RegExp(`${movement} +(-?[\\d.]+) g ±`, 'g'))].map((match) =>
    Number(match[1]),
  );
  return { sum: found.reduce((a, b) => a + b, 0), lines: found.length };
};

/** Total and terms of every sum on the page, in its order. */
const sums = (page: string): { total: number; terms: readonly number[] }[] =>
  [...oneLine(page).matchAll(/(-?[\d.]+) g = ((?:− )?[\d.]+ g [^=]*?\(estimate\))/g)].map((match) => ({
    total: Number(match[1]),
    terms: [...match[2]!.matchAll(/(−|\+)? ?([\d.]+) g /g)].map(
      ([, sign, g]) => (sign === '−' ? -1 : 1) * Number(g),
    ),
  }));

test.each([1, 2])(
  'every sum of a whole job with %i ports can be done again from the page alone',
  async (ports) => {
    const page = await pageOf({ ports });
    const [recovered, net] = sums(page);
    for (const { total, terms } of [recovered!, net!]) {
      expect(Math.abs(terms.reduce((a, b) => a + b, 0) - total)).toBeLessThan(ROUNDED_G * (terms.length + 1));
    }
    expect(recovered!.total).toBe(Number(/Recovered +([\d.]+) g/.exec(page)![1]));
    expect(net!.total).toBe(Number(/In vehicle +([\d.]+) g/.exec(page)![1]));
    const fromVehicle = ledgerG(page, 'vehicle to tank');
    expect(Math.abs(fromVehicle.sum - recovered!.terms[0]!)).toBeLessThan(
      ROUNDED_G * (fromVehicle.lines + 1),
    );
    expect(Math.abs(ledgerG(page, 'tank to vehicle').sum - net!.terms[0]!)).toBeLessThan(2 * ROUNDED_G);
    // What a reader was missing: neither sum comes out without the last term.
    expect(Math.abs(recovered!.terms[0]! - recovered!.total)).toBeGreaterThan(10);
  },
);

test('the places of the truth make up the total that stands behind them', async () => {
  const truth = /Truth (.*?) together ([\d.]+) kg/.exec(oneLine(await pageOf({ ports: 2 })))!;
  const grams = [...truth[1]!.matchAll(/([\d.]+) (k?)g\b/g)].map(
    ([, n, k]) => Number(n) * (k === 'k' ? 1000 : 1),
  );
  expect(Math.abs(grams.reduce((a, b) => a + b, 0) - 1000 * Number(truth[2]))).toBeLessThan(12);
});

test('every pressure on the page is in the units of its reader', async () => {
  const page = oneLine(await pageOf({}, 'us'));
  expect(page).toMatch(/then rose by [\d.]+ psi at rest/);
  expect(page.replace(/Truth .*/, '')).not.toMatch(/\d kPa\b/);
});
