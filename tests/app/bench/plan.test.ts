import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { BUILT_IN_FILE, builtInPlan } from '../../../app/bench/built-in-plan.ts';
import { draw } from '../../../app/bench/distribution.ts';
import { checkPlan, scenarioOfJob, seedOfJob } from '../../../app/bench/drawn.ts';
import { readPlan, toPlan } from '../../../app/bench/plan.ts';
import { POPULATION } from '../../../app/bench/population.ts';
import { campaign } from '../../../app/cli/campaign.ts';
import { InputError } from '../../../app/cli/command.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { Random } from '../../../sim/random.ts';
import { fakeTerminal } from '../fake-terminal.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-plan-'));
afterAll(() => rmSync(folder, { recursive: true }));

const base = { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } };
const planOf = (file: unknown) => toPlan(file, 'PLAN').plan;

type File = {
  readonly weather: { readonly ambientC: number };
  readonly vehicle: { readonly chargeG: number };
  readonly ticket: { readonly nominalChargeG: number };
  readonly faults?: readonly { readonly fault: string; readonly afterS?: number }[];
};
const fileOf = (plan: unknown, job: number, seed = 1) => scenarioOfJob(planOf(plan), seed, job) as File;

describe('a bad plan is one line that names the key and the remedy', () => {
  test.each([
    [{ bas: {} }, 'there is no key bas; did you mean base?'],
    [[], 'a plan must be one JSON object'],
    [base, 'is a scenario; coldbench run takes it, or name it as the base of a plan'],
    [{ ...base, draws: {} }, 'there is no key ticket'],
    [{ base: 5 }, 'base must be a scenario or the path of one, not 5'],
    [{ base, draws: { 'weather.ambientC': { unifrom: [1, 2] } } }, 'did you mean uniform?'],
    [{ base, draws: { 'weather.ambientC': { uniform: [20, 10] } } }, 'lowest above its highest'],
    [{ base, draws: { 'weather.ambientC': { uniform: [20] } } }, 'must be [lowest, highest], two numbers'],
    [{ base, draws: { 'weather.ambientC': { uniform: 20 } } }, 'two numbers, not 20'],
    [{ base, draws: { 'weather.ambientC': {} } }, 'must have one of fixed, uniform'],
    [{ base, draws: { 'weather.ambientC': { fixed: 1, choice: [1] } } }, 'not fixed and choice'],
    [{ base, draws: { 'weather.ambientC': { logUniform: [0, 10] } } }, 'must begin above 0'],
    [{ base, draws: { 'weather.ambientC': { normal: [20, -1] } } }, 'negative standard deviation'],
    [{ base, draws: { 'ticket.engine': { choice: ['can-run'], weights: [1, 2] } } }, 'as many weights'],
    [{ base, draws: { 'ticket.engine': { choice: ['can-run'], step: 1 } } }, 'step, which is for numbers'],
    [
      { base, draws: { 'weather.ambientD': { fixed: 1 } } },
      'no key weather.ambientD; did you mean ambientC?',
    ],
    [
      { base, draws: { 'weather.ambientC': { uniform: [5, 80] } } },
      'highest: weather.ambientC must be -30 to 60',
    ],
    [
      { base, draws: { 'ticket.engine': { choice: ['can-run', 'runs'] } } },
      'with ticket.engine runs: ticket.engine',
    ],
    [{ base, draws: { 'vehicle.oilG': { fixed: 1, times: 'vehicle.oil' } } }, 'draws.vehicle.oilG refers to'],
    [{ base, faults: [{ fault: 'scale-stuk' }] }, 'did you mean scale-stuck?'],
    [{ base, faults: [{ fault: 'scale-stuck', probability: 20 }] }, 'that looks like per cent: write 0.2'],
    [{ base, faults: ['scale-stuck'] }, 'faults[0] must be an object such as'],
    [{ base: { ticket: {} } }, 'ticket.refrigerant is missing'],
    [{ base, jobs: 0 }, 'jobs must be 1 to'],
  ])('%j', (file, words) => {
    const read = () => checkPlan(planOf(file), 'PLAN');
    expect(read).toThrow(InputError);
    expect(read).toThrow(words);
    expect(read).toThrow(/^PLAN[^\n]+$/);
  });

  test('and so is one that names a base which is not there', () => {
    const file = path.join(folder, 'plan.json');
    writeFileSync(file, JSON.stringify({ base: 'nowhere.json' }));
    expect(() => readPlan(file)).toThrow('there is no such file');
  });
});

test('a base that is named is read from the folder of the plan, and stands in it from then on', () => {
  const file = path.join(folder, 'named.json');
  writeFileSync(path.join(folder, 'base.json'), JSON.stringify(base));
  writeFileSync(file, JSON.stringify({ base: 'base.json', jobs: 7 }));
  expect(readPlan(file)).toEqual({ plan: planOf({ base }), jobs: 7 });
});

test('no two jobs of a campaign share a seed, and another campaign has others', () => {
  const seeds = Array.from({ length: 10_000 }, (_, index) => seedOfJob(1, index + 1));
  expect(new Set(seeds).size).toBe(10_000);
  expect(new Set([...seeds, ...seeds.map((_, index) => seedOfJob(2, index + 1))]).size).toBe(20_000);
});

describe('what a plan draws', () => {
  const draws = {
    'weather.ambientC': { uniform: [5, 40] },
    'vehicle.chargeG': { uniform: [0, 1.1], times: 'ticket.nominalChargeG' },
  };

  test('is the same for a job, however often and whatever else is drawn', () => {
    const more = { base, draws: { 'tank.contentKg': { uniform: [4, 14] }, ...draws } };
    const one = fileOf({ base, draws }, 17);
    expect(fileOf({ base, draws }, 17)).toEqual(one);
    expect(fileOf(more, 17)).toMatchObject({ weather: one.weather, vehicle: one.vehicle });
    expect(fileOf({ base, draws }, 18).weather).not.toEqual(one.weather);
    expect(fileOf({ base, draws }, 17, 2).weather).not.toEqual(one.weather);
  });

  test('keeps to its range, and to the key that it refers to', () => {
    const files = Array.from({ length: 500 }, (_, index) => fileOf({ base, draws }, index + 1));
    const rooms = files.map(({ weather }) => weather.ambientC);
    expect(Math.min(...rooms)).toBeGreaterThan(5);
    expect(Math.max(...rooms)).toBeLessThan(40);
    // Mean of a uniform draw, within four standard errors.
    const mean = rooms.reduce((sum, value) => sum + value, 0) / rooms.length;
    expect(Math.abs(mean - 22.5)).toBeLessThan((4 * 35) / Math.sqrt(12 * 500));
    const charges = files.map(({ vehicle }) => vehicle.chargeG);
    expect(Math.max(...charges)).toBeGreaterThan(600);
    expect(Math.max(...charges)).toBeLessThan(660);
  });

  test('of one key tells nothing of another: every cell of a grid of two is as full as chance makes it', () => {
    const keys = ['weather.ambientC', 'vehicle.chargeG', 'vehicle.oilG', 'tank.contentKg'] as const;
    const plan = planOf({ base, draws: Object.fromEntries(keys.map((key) => [key, { uniform: [0, 8] }])) });
    const jobs = 2000;
    const drawnOf = (job: number): number[] => {
      const file = scenarioOfJob(plan, 9, job) as Record<string, Record<string, number>>;
      return keys.map((key) => Math.floor(file[key.split('.')[0]!]![key.split('.')[1]!]!));
    };
    const drawn = Array.from({ length: jobs }, (_, index) => drawnOf(index + 1));
    for (const [a, one] of keys.entries())
      for (const [b, other] of keys.entries()) {
        if (a >= b) continue;
        const cells = new Float64Array(64);
        for (const values of drawn) cells[8 * values[a]! + values[b]!]! += 1;
        const expected = jobs / 64;
        const chi2 = cells.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
        // 63 degrees of freedom, and five standard deviations of it.
        expect(chi2, `${one} and ${other}`).toBeLessThan(63 + 5 * Math.sqrt(2 * 63));
      }
  });

  test('strikes as often as it says', () => {
    const faults = [
      { fault: 'scale-stuck', probability: 0.3, stage: 'charge', afterS: { uniform: [0, 60] } },
    ];
    const struck = Array.from(
      { length: 1000 },
      (_, index) => fileOf({ base, faults }, index + 1).faults ?? [],
    );
    const often = struck.filter(({ length }) => length > 0).length;
    expect(Math.abs(often - 300)).toBeLessThan(4 * Math.sqrt(1000 * 0.3 * 0.7));
    expect(struck.find(({ length }) => length > 0)?.[0]).toMatchObject({
      fault: 'scale-stuck',
      stage: 'charge',
    });
  });

  test('by weights, by the logarithm, in steps and within bounds', () => {
    const drawn = (distribution: object): number[] => {
      const random = new Random(3, 'test');
      const { draws } = planOf({ draws: { x: distribution } });
      return Array.from({ length: 400 }, () => Number(draw(Object.values(draws)[0]!, random, () => 10)));
    };
    const chosen = drawn({ choice: [1, 2, 3], weights: [0, 3, 1] });
    expect(chosen).not.toContain(1);
    expect(Math.abs(chosen.filter((value) => value === 2).length - 300)).toBeLessThan(4 * Math.sqrt(75));
    const below = drawn({ logUniform: [1, 100] }).filter((value) => value < 10).length;
    expect(Math.abs(below - 200)).toBeLessThan(4 * Math.sqrt(100));
    expect(
      drawn({ uniform: [0, 1], times: 100, plus: 'there', step: 5 }).every((value) => value % 5 === 0),
    ).toBe(true);
    const bounded = drawn({ normal: [0, 1], min: -0.5, max: 0.5 });
    expect([Math.min(...bounded), Math.max(...bounded)]).toEqual([-0.5, 0.5]);
  });
});

describe('the built-in plan', () => {
  test('is printed as a file that gives the same plan', async () => {
    const terminal = fakeTerminal();
    expect(await dispatch([campaign], ['campaign', '--print-plan'], terminal)).toBe(0);
    expect(JSON.parse(terminal.output())).toEqual(BUILT_IN_FILE);
    expect(toPlan(JSON.parse(terminal.output()), 'printed')).toEqual(builtInPlan());
  });

  test('draws vehicles of the population that the accuracy lab draws from', () => {
    const { plan } = builtInPlan();
    checkPlan(plan, 'built-in');
    for (let job = 1; job <= 300; job++) {
      const file = scenarioOfJob(plan, 5, job) as File;
      const scenario = toScenario(file, `job ${job}`);
      const [least, most] = POPULATION.nominalChargeG;
      expect(file.ticket.nominalChargeG).toBeGreaterThanOrEqual(least);
      expect(file.ticket.nominalChargeG).toBeLessThanOrEqual(most);
      // 600 g in 2.4 to 2.8 L, and others as much larger or smaller.
      const spreadL = scenario.vehicle!.volumeM3 * 1000 - 0.8 - (2.6 * file.ticket.nominalChargeG) / 1000;
      expect(spreadL).toBeGreaterThanOrEqual(-1e-9);
      expect(spreadL).toBeLessThanOrEqual((0.8 * file.ticket.nominalChargeG) / 1000);
    }
  });
});
