// By hand on the simulated bench: the class exercise of the documents, and random scripts against the truth.

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { InputError } from '../../app/cli/command.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { hand } from '../../app/cli/hand.ts';
import { HandDesk } from '../../app/cli/hand-desk.ts';
import { handLine } from '../../app/cli/hand-lines.ts';
import { HandBench } from '../../app/run/by-hand.ts';
import type { HandDocument, HandFacts } from '../../app/run/hand-document.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { unitsFor } from '../../app/units.ts';
import { type Commands, OUTPUTS } from '../../controller/signals.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';
import { unsafe } from '../controller/support/unsafe.ts';

describe('The freeze-up of docs/by-hand.md', () => {
  const script = new URL('../../docs/freeze-up.hand', import.meta.url);
  let made: HandDocument;

  beforeAll(async () => {
    const terminal = fakeTerminal();
    expect(await dispatch([hand], ['hand', '--script', script.pathname, '--json'], terminal)).toBe(0);
    made = JSON.parse(terminal.output());
  });

  const lookAt = (fromS: number) => made.looks.find(({ atS }) => atS >= fromS)!;
  const momentOf = (line: string) => made.lines.find((one) => one.line.startsWith(line))!.atS;

  test('is answered line by line as its remarks say', () => {
    const whys = made.lines.filter(({ line }) => line.startsWith('why'));
    expect(whys.map(({ reasons }) => reasons?.map(({ interlock }) => interlock) ?? [])).toEqual([
      ['IL-15', 'IL-16'],
      [],
      ['IL-10'],
    ]);
    const refused = made.lines.filter(({ answer }) => answer === 'refused');
    expect(refused.map(({ line }) => line.split(' ')[0])).toEqual(['why', 'why']);
  });

  test('brings the gauge to zero while most of the charge is still in the vehicle', () => {
    const empty = lookAt(momentOf('stop compressor'));
    expect(Math.abs(empty.lowSidePa! - 101_325)).toBeLessThan(8_000);
    const drawnG = empty.tankNetG! - made.looks[0]!.tankNetG!;
    expect(drawnG).toBeGreaterThan(150);
    expect(drawnG).toBeLessThan(0.5 * 540);
    // R-134a boils at −26.1 °C under one atmosphere (normal boiling point, Tillner-Roth and Baehr 1994).
    expect(Math.abs(empty.lowSideSaturationC! + 26.1)).toBeLessThan(2.5);
  });

  test('leaves about what the heat balance of the pool leaves', () => {
    // dm h = (m c + C) dT from 10 °C to −26 °C: c 1.31 kJ/(kg K) and h 203 kJ/kg are means of R-134a (saturated liquid,
    // Tillner-Roth and Baehr 1994); C is the 500 J/K of the accumulator. Other metal and heat inflow take more of it.
    const metalKg = 500 / 1310;
    const leftG = 1000 * ((0.54 + metalKg) * Math.exp((-1.31 * 36) / 203) - metalKg);
    expect(made.truth.vehicleRefrigerantG).toBeLessThan(leftG);
    expect(made.truth.vehicleRefrigerantG).toBeGreaterThan(0.75 * leftG);
  });

  test('and the pressure comes back at rest', () => {
    const empty = lookAt(momentOf('stop compressor'));
    const rested = made.looks.at(-1)!;
    expect(rested.lowSidePa! - empty.lowSidePa!).toBeGreaterThan(100_000);
    expect(rested.tankNetG!).toBeCloseTo(empty.tankNetG!, -1);
  });

  test('vents nothing', () => {
    expect([made.truth.ventedG, made.truth.pumpExhaustG, made.truth.spilledG]).toEqual([0, 0, 0]);
  });

  test('the page on work by hand shows this script', () => {
    const page = readFileSync(new URL('../../docs/by-hand.md', import.meta.url), 'utf8');
    expect(page).toContain('freeze-up.hand');
  });
});

const SEED = 20_260_104;
const UNITS = unitsFor('si', 101_325);

/** Everything a person may write, and some of what none should. */
const line = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .tuple(
        fc.constantFrom('open', 'open', 'start', 'close'),
        fc.constantFrom(...OUTPUTS),
        fc.constantFrom('', '', ' for 150 ms', ' for 5 s', ' for 10 min'),
      )
      .map(([verb, output, time]) => `${verb} ${output}${verb === 'close' ? '' : time}`),
  },
  {
    weight: 4,
    arbitrary: fc.constantFrom('wait 0.1', 'wait 4', 'wait 20', 'wait 2 min', 'wait 6 min'),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      'connect',
      'connect',
      'disconnect',
      'close couplers',
      'close high coupler',
      'engine on',
      'engine off',
      'stop',
      'reset',
      'begin',
      'status',
      'why vacuumValve',
    ),
  },
  { weight: 1, arbitrary: fc.string({ maxLength: 20 }) },
);

/** Sensible beginnings, so that chance comes to places where something flows. */
const OPENINGS: readonly (readonly string[])[] = [
  [],
  ['connect', 'wait 2 min', 'open high', 'open low', 'open recovery', 'start compressor'],
  ['start pump', 'wait 4', 'open vacuum', 'open high', 'wait 2 min'],
  [
    ...[
      'connect',
      'start pump',
      'open high',
      'wait 15',
      'open vacuum',
      'wait 2 min',
      'close vacuum',
      'wait 1',
    ],
    ...['open charge for 10 min', 'wait 20'],
  ],
];

const SCENARIOS = [
  { weather: { ambientC: 20 }, vehicle: { chargeG: 450, oilG: 60 }, tank: { contentKg: 8 } },
  { weather: { ambientC: 30 }, vehicle: { chargeG: 0, waterG: 3 }, tank: { contentKg: 16 } },
  { weather: { ambientC: 5 }, vehicle: { chargeG: 120, oilG: 90 }, equipment: 'hobby' },
].map((file, index) =>
  toScenario({ ...file, seed: index + 1, ticket: { refrigerant: 'R-134a', nominalChargeG: 600 } }, 'a test'),
);

function worked(scenario: (typeof SCENARIOS)[number], lines: readonly string[]): HandFacts {
  const session = prepare(scenario, 'a test', fluidOnce, () => 0);
  const observe = ({ commands }: { readonly commands: Commands }) => expect(unsafe(commands)).toBeUndefined();
  let bench: HandBench | undefined;
  const desk = new HandDesk(
    (look) => {
      bench = new HandBench(session, [observe, look]);
      return bench;
    },
    UNITS,
    () => {},
  );
  for (const text of lines) {
    try {
      const read = handLine(text);
      if (read !== undefined) desk.obey(read, text);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      desk.notUnderstood(text, error.message);
    }
  }
  const facts = { ...desk.end(false), faults: bench!.faults, truth: bench!.truth() };
  expect(OUTPUTS.filter((output) => facts.state.judged?.permitted[output].on)).toEqual([]);
  return facts;
}

test('random scripts never throw, never leave an unsafe word, and vent nothing', () => {
  let moved = 0;
  fc.assert(
    fc.property(
      fc.constantFrom(...SCENARIOS),
      fc.constantFrom(...OPENINGS),
      fc.array(line, { minLength: 5, maxLength: 40 }),
      (scenario, opening, lines) => {
        const { truth } = worked(scenario, [...opening, ...lines]);
        expect(truth.ventedKg).toBe(0);
        expect(truth.purgedKg).toBe(0);
        expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-6);
        if (Math.abs(truth.tankRefrigerantKg - scenario.tank.contentKg) > 0.01) moved += 1;
      },
    ),
    { seed: SEED, numRuns: 60 },
  );
  expect(moved).toBeGreaterThan(5);
});

test('dye is drawn in by hand as oil is: refused before there is a vacuum and beside the pump, then as long as it is open', () => {
  const evacuated = ['connect', 'start pump', 'open high', 'wait 15', 'open vacuum', 'wait 4 min'];
  const early = worked(SCENARIOS[1]!, ['connect', 'open high', 'wait 4', 'open dye for 900 ms', 'wait 2']);
  const beside = worked(SCENARIOS[1]!, [...evacuated, 'open dye for 900 ms', 'wait 2']);
  for (const { truth } of [early, beside]) expect(truth.vehicleDyeKg).toBe(0);
  const drawn = worked(SCENARIOS[1]!, [
    ...evacuated,
    'close vacuum',
    'wait 1',
    'open oil for 900 ms',
    'wait 2',
    'open dye for 900 ms',
    'wait 2',
  ]);
  // 6.6 mL/s under a bar, and as heavy as oil.
  expect(drawn.truth.vehicleDyeKg).toBeGreaterThan(0.9 * 6.6 * 0.9 * 0.97e-3);
  expect(drawn.truth.vehicleDyeKg).toBeLessThan(1.1 * 6.6 * 0.9 * 0.97e-3);
  expect(drawn.truth.ventedKg).toBe(0);
});

test('hoses that were emptied alone do not make a full vehicle an empty one: nothing is given on top of its charge', () => {
  const pumpedDown = ['open high', 'start pump', 'wait 15', 'open vacuum', 'wait 60', 'stop', 'wait 5'];
  const warm = toScenario(
    {
      ticket: { refrigerant: 'R-134a', nominalChargeG: 500 },
      vehicle: { chargeG: 500 },
      tank: { temperatureC: 40 },
    },
    'a test',
  );
  const { truth, lines } = worked(warm, [
    ...pumpedDown,
    ...['connect', 'open high for 20 min', 'open charge for 20 min', 'wait 2 min'],
  ]);
  expect(lines.find(({ line }) => line.startsWith('open charge'))?.reasons?.[0]?.interlock).toBe('IL-45');
  expect(truth.vehicleRefrigerantKg).toBeLessThan(0.501);
});
