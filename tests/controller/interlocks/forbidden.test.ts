// Combinations that may never be commanded, written down without looking at the table, against random wishes.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BANDS, type Bands } from '../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../controller/interlocks/interlock.ts';
import { MEMORY, type Remembered } from '../../../controller/interlocks/memory.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { type Command, type Commands, OUTPUTS, type Output } from '../../../controller/signals.ts';
import { CALM_BANDS, CALM_MEMORY } from '../support/calm.ts';

const SEED = 20_260_101;
const RUNS = 6_000;

type World = { readonly bands: Bands; readonly memory: Remembered; readonly fitting: Fitting };
type Forbidden = {
  readonly name: string;
  readonly is: (on: (output: Output) => boolean, world: World, commands: Commands) => boolean;
};

const AWAY: readonly Output[] = [
  'recoveryValve',
  'compressor',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'dyeValve',
  'separatorDrainValve',
];
const BOTTLES: readonly Output[] = ['oilValve', 'dyeValve'];
const VEHICLE: readonly Output[] = ['highSideValve', 'lowSideValve'];

/** From the hazards of the trade, in their own words. */
const FORBIDDEN: readonly Forbidden[] = [
  { name: 'pump and tank liquid joined', is: (on) => on('vacuumValve') && on('chargeValve') },
  { name: 'pump and recovery path joined', is: (on) => on('vacuumValve') && on('recoveryValve') },
  {
    name: 'tank liquid led to the compressor',
    is: (on) => on('chargeValve') && (on('recoveryValve') || on('compressor')),
  },
  { name: 'vacuum valve open on a pump that stands', is: (on) => on('vacuumValve') && !on('vacuumPump') },
  {
    name: 'vacuum valve open on a pump not up to speed',
    is: (on, { memory }) => on('vacuumValve') && memory.pump !== 'up-to-speed',
  },
  {
    name: 'pump open to pressure or to the unknown',
    is: (on, { bands }) =>
      on('vacuumValve') && (bands.manifold === 'over-limit' || bands.manifold === 'unknown'),
  },
  {
    name: 'pump opened onto a side that was not yet joined to the absolute sensor',
    is: (on, { memory }) =>
      on('vacuumValve') &&
      ((on('highSideValve') && memory.highPath === 'apart') ||
        (on('lowSideValve') && memory.lowPath === 'apart')),
  },
  { name: 'compressor against a shut suction', is: (on) => on('compressor') && !on('recoveryValve') },
  {
    name: 'compressor restarted too soon',
    is: (on, { memory }) => on('compressor') && memory.compressor === 'just-stopped',
  },
  {
    name: 'compressor on air',
    is: (on, { memory }) => on('compressor') && memory.suction === 'steady-at-barometer',
  },
  { name: 'compressor on vacuum', is: (on, { bands }) => on('compressor') && bands.manifold === 'vacuum' },
  {
    name: 'inflow into a full or unweighed tank',
    is: (on, { bands }) =>
      (on('recoveryValve') || on('compressor')) &&
      (bands.tankMass === 'full' || bands.tankMass === 'unknown'),
  },
  {
    name: 'compressor with the discharge pressure high or unknown',
    is: (on, { bands }) =>
      on('compressor') && (bands.tankPressure !== 'normal' || bands.highPressureSwitch !== 'clear'),
  },
  {
    name: 'charging by a scale that is not trusted',
    is: (on, { bands }) => on('chargeValve') && bands.scale !== 'trusted',
  },
  {
    name: 'charging from a tank that is short of liquid or may be',
    is: (on, { bands }) =>
      on('chargeValve') && (bands.tankLiquid === 'short' || bands.tankLiquid === 'unknown'),
  },
  { name: 'liquid into the low side', is: (on) => on('chargeValve') && on('lowSideValve') },
  {
    name: 'liquid into a dead end, but for one short pulse into an empty manifold',
    is: (on, { memory }, { chargeValve: { offAfterMs } }) =>
      on('chargeValve') &&
      !on('highSideValve') &&
      !(memory.deadEnd === 'empty' && offAfterMs !== undefined && offAfterMs <= 100),
  },
  {
    name: 'heating a tank that is hot or unread',
    is: (on, { bands }) => on('tankHeater') && bands.tankTemperature !== 'normal',
  },
  { name: 'oil and dye drawn at once', is: (on) => on('oilValve') && on('dyeValve') },
  {
    name: 'venting a tank that does not surely hold air, or has not rested',
    is: (on, { bands, memory }) =>
      on('airPurgeValve') && !(bands.tankAir === 'some' && memory.tankRest === 'rested'),
  },
  {
    name: 'venting more than a purge may cost, or uncounted',
    is: (on, { bands, memory }) =>
      on('airPurgeValve') && (memory.purge === 'spent' || bands.scale !== 'trusted'),
  },
  {
    name: 'venting while anything else is open or turns',
    is: (on) => on('airPurgeValve') && OUTPUTS.some((o) => o !== 'airPurgeValve' && o !== 'fanStop' && on(o)),
  },
  {
    name: 'the drain open without pressure that is seen through the recovery valve',
    is: (on, { bands }) =>
      on('separatorDrainValve') && !(on('recoveryValve') && bands.drainPressure === 'above-ambient'),
  },
  {
    name: 'the drain open to vehicle, tank, pump, bottle or a running compressor',
    is: (on) =>
      on('separatorDrainValve') &&
      [...VEHICLE, ...BOTTLES, 'vacuumValve', 'chargeValve', 'compressor'].some((o) => on(o as Output)),
  },
  {
    name: 'a bottle open to anything but a vacuum',
    is: (on, { bands }) => BOTTLES.some(on) && bands.manifold !== 'vacuum',
  },
  {
    name: 'charging out of a cylinder for contaminated refrigerant',
    is: (on, { bands }) => on('chargeValve') && bands.tankUse === 'contaminated',
  },
  {
    name: "oil that is not surely of the vehicle's own kind",
    is: (on, { bands }) => on('oilValve') && bands.bottleOil !== 'fits',
  },
  {
    name: 'dye that is not surely allowed in the vehicle',
    is: (on, { bands }) => on('dyeValve') && bands.bottleDye !== 'fits',
  },
  {
    name: 'oil or dye to anywhere but the high side',
    is: (on) =>
      BOTTLES.some(on) &&
      (!on('highSideValve') ||
        ['lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve', 'compressor'].some((o) =>
          on(o as Output),
        )),
  },
  {
    name: 'a path to tank, pump or bottle open while the engine runs',
    is: (on, { memory }, { chargeValve: { offAfterMs } }) => {
      if (memory.engine !== 'running') return false;
      const lock = offAfterMs !== undefined && offAfterMs <= 100 && !VEHICLE.some(on);
      return AWAY.some((output) => on(output) && !(lock && output === 'chargeValve'));
    },
  },
  {
    name: 'a running vehicle fed at its limits or unseen',
    is: (on, { bands, memory }) =>
      memory.engine === 'running' && on('chargeValve') && bands.runningSides !== 'fit',
  },
  {
    name: 'any path open while the engine seems to run unasked',
    is: (on, { memory }) => memory.engine === 'suspected' && [...AWAY, ...VEHICLE].some(on),
  },
  {
    name: 'fan stopped around something that burns',
    is: (on, { bands }) => on('fanStop') && bands.flammability === 'mild',
  },
  {
    name: 'anything on around something that burns without moving air',
    is: (on, { bands, memory }) =>
      bands.flammability === 'mild' && memory.fan === 'unproven' && OUTPUTS.some(on),
  },
  {
    name: 'anything on in an emergency, a gas alarm or a trip',
    is: (on, { bands, memory }) =>
      (bands.emergencyStop !== 'clear' || bands.gasAlarm === 'tripped' || memory.trip === 'latched') &&
      OUTPUTS.some(on),
  },
  {
    name: 'anything on by a clock that cannot be believed',
    is: (on, { memory }) => memory.clock === 'jumped' && OUTPUTS.some(on),
  },
  {
    name: 'tank liquid, pump, recovery path or low side opened while another of them may not have shut yet',
    is: (on, { memory }) =>
      (on('chargeValve') &&
        [memory.vacuumSeat, memory.recoverySeat, memory.lowSeat].includes('may-be-open')) ||
      (on('vacuumValve') && [memory.chargeSeat, memory.recoverySeat].includes('may-be-open')) ||
      (on('recoveryValve') && [memory.chargeSeat, memory.vacuumSeat].includes('may-be-open')) ||
      (on('lowSideValve') && memory.chargeSeat === 'may-be-open'),
  },
  {
    name: 'the drain opened while a hose, the pump or the tank may still be open to it',
    is: (on, { memory }) =>
      on('separatorDrainValve') &&
      [memory.highSeat, memory.lowSeat, memory.vacuumSeat, memory.chargeSeat].includes('may-be-open'),
  },
  {
    name: 'vehicle, pump, tank liquid or compressor on while the drain may not have shut yet',
    is: (on, { memory }) =>
      memory.drainSeat === 'may-be-open' &&
      !on('separatorDrainValve') &&
      [...VEHICLE, ...BOTTLES, 'vacuumValve', 'chargeValve', 'compressor'].some((o) => on(o as Output)),
  },
  {
    name: 'low side, pump, recovery path, tank liquid or the other bottle opened while a bottle may not have shut yet',
    is: (on, { memory }) => {
      const others = (['lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve'] as const).some(on);
      const opened = (mine: Output, other: Output) => !on(mine) && (others || on(other));
      return (
        (memory.oilSeat === 'may-be-open' && opened('oilValve', 'dyeValve')) ||
        (memory.dyeSeat === 'may-be-open' && opened('dyeValve', 'oilValve'))
      );
    },
  },
  {
    name: 'a pulse beside a running engine while a hose may not have shut yet, or a high side while the pulse may not have',
    is: (on, { memory }) =>
      memory.engine === 'running' &&
      ((on('chargeValve') && [memory.highSeat, memory.lowSeat].includes('may-be-open')) ||
        (on('highSideValve') && memory.chargeSeat === 'may-be-open')),
  },
  {
    name: 'an output that is not there',
    is: (on, { fitting }) => OUTPUTS.some((o) => on(o) && fitting[o] === 'not-fitted'),
  },
];

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
  for (const { name, is } of FORBIDDEN) {
    test(`never: ${name}`, () => {
      fc.assert(
        fc.property(words, worlds, (wanted, world) => {
          const { permitted } = judge(wanted, world);
          return !is((output) => permitted[output].on, world, permitted);
        }),
        { seed: SEED, numRuns: RUNS },
      );
    });
  }

  test('the list is no empty threat: every combination in it is wished for at some time', () => {
    const wished = new Set<string>();
    fc.assert(
      fc.property(words, worlds, (wanted, world) => {
        for (const { name, is } of FORBIDDEN)
          if (is((output) => wanted[output].on, world, wanted)) wished.add(name);
      }),
      { seed: SEED, numRuns: RUNS },
    );
    expect([...wished].sort()).toEqual(FORBIDDEN.map(({ name }) => name).sort());
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
