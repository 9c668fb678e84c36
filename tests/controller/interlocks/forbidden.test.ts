// Random wishes in random worlds against the combinations that may never be commanded.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BANDS, type Bands } from '../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../controller/interlocks/interlock.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { MEMORY, type Remembered } from '../../../controller/interlocks/remembered.ts';
import { type Command, type Commands, OUTPUTS } from '../../../controller/signals.ts';
import { CALM_BANDS, CALM_MEMORY } from '../support/calm.ts';
import { FORBIDDEN } from './proof/forbidden.ts';
import type { Forbidden } from './proof/never.ts';

const SEED = 20_260_101;
const RUNS = 6_000;

type World = { readonly bands: Bands; readonly memory: Remembered; readonly fitting: Fitting };

/** What a combination sees of a command word. */
function at(commands: Commands, world: World): Parameters<Forbidden['is']>[0] {
  const { on, offAfterMs } = commands.chargeValve;
  const words = Object.fromEntries(OUTPUTS.map((output) => [output, commands[output].on]));
  const chargePulse = on && offAfterMs !== undefined && offAfterMs <= 100;
  return { ...world, on: { ...words, chargePulse } as never };
}

const oneOfEach = <T>(classes: { readonly [name: string]: readonly string[] }): fc.Arbitrary<T> =>
  fc.record(
    Object.fromEntries(Object.entries(classes).map(([name, values]) => [name, fc.constantFrom(...values)])),
  ) as unknown as fc.Arbitrary<T>;

/** Mostly the class that permits, so that words come through to be judged at all. */
const mostlyGood = <T>(classes: { readonly [name: string]: readonly string[] }, good: T): fc.Arbitrary<T> =>
  fc
    .tuple(oneOfEach<T>(classes), fc.subarray(Object.keys(classes), { maxLength: 3 }))
    .map(([random, spoilt]) => ({
      ...good,
      ...Object.fromEntries(spoilt.map((name) => [name, (random as Record<string, string>)[name]])),
    }));

const worlds: fc.Arbitrary<World> = fc.record({
  bands: fc.oneof(oneOfEach<Bands>(BANDS), mostlyGood(BANDS, CALM_BANDS)),
  memory: fc.oneof(oneOfEach<Remembered>(MEMORY), mostlyGood(MEMORY, CALM_MEMORY)),
  fitting: fc.record(
    Object.fromEntries(
      OUTPUTS.map((output) => [output, fc.constantFrom('fitted', 'fitted', 'fitted', 'not-fitted')]),
    ),
  ) as unknown as fc.Arbitrary<Fitting>,
});

const words: fc.Arbitrary<Commands> = fc.record(
  Object.fromEntries(
    OUTPUTS.map((output) => [
      output,
      fc.oneof(
        fc.constant<Command>({ on: false }),
        fc.constant<Command>({ on: true }),
        fc.record({ on: fc.constant(true), offAfterMs: fc.integer({ min: 1, max: 500 }) }),
      ),
    ]),
  ),
) as unknown as fc.Arbitrary<Commands>;

const judge = (wanted: Commands, { bands, memory, fitting }: World) => permit(wanted, bands, memory, fitting);

describe('Whatever the sequence wishes', () => {
  test('nothing forbidden is permitted', () => {
    fc.assert(
      fc.property(words, worlds, (wanted, world) => {
        const view = at(judge(wanted, world).permitted, world);
        expect(FORBIDDEN.filter((forbidden) => forbidden.is(view)).map(({ name }) => name)).toEqual([]);
      }),
      { seed: SEED, numRuns: RUNS },
    );
  });

  test('the list is no empty threat: every combination in it is wished for at some time', () => {
    const wished = new Set<Forbidden>();
    fc.assert(
      fc.property(words, worlds, (wanted, world) => {
        const view = at(wanted, world);
        for (const forbidden of FORBIDDEN) if (forbidden.is(view)) wished.add(forbidden);
      }),
      { seed: SEED, numRuns: RUNS },
    );
    expect(FORBIDDEN.filter((forbidden) => !wished.has(forbidden))).toEqual([]);
  });

  test('nothing is permitted that was not wanted, and a countdown is passed on as it was', () => {
    fc.assert(
      fc.property(words, worlds, (wanted, world) => {
        const { permitted } = judge(wanted, world);
        return OUTPUTS.every((output) => !permitted[output].on || permitted[output] === wanted[output]);
      }),
      { seed: SEED, numRuns: RUNS },
    );
  });

  test('what is permitted is permitted again: the judgement is at rest', () => {
    fc.assert(
      fc.property(words, worlds, (wanted, world) => {
        const once = judge(wanted, world);
        const twice = judge(once.permitted, world);
        return OUTPUTS.every((output) => once.permitted[output].on === twice.permitted[output].on);
      }),
      { seed: SEED, numRuns: RUNS },
    );
  });

  test('"everything off" is always permitted', () => {
    fc.assert(
      fc.property(worlds, (world) => {
        const off = Object.fromEntries(OUTPUTS.map((o) => [o, { on: false }])) as unknown as Commands;
        const { permitted } = judge(off, world);
        return OUTPUTS.every((output) => !permitted[output].on);
      }),
      { seed: SEED, numRuns: 1_000 },
    );
  });
});
