// Each interlock row, with the case it is for and the negative twin beside it.
import { describe, expect, test } from 'vitest';
import { BANDS, type Bands } from '../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../controller/interlocks/interlock.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { MEMORY, type Remembered } from '../../../controller/interlocks/remembered.ts';
import { INTERLOCKS } from '../../../controller/interlocks/table.ts';
import { type Commands, OUTPUTS, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { CALM_BANDS, CALM_MEMORY } from '../support/calm.ts';
import type { RowCase } from './rows/case.ts';
import { CHARGE_CASES } from './rows/charge.ts';
import { DRIVE_CASES } from './rows/drive.ts';
import { MACHINE_CASES } from './rows/machine.ts';
import { OIL_AND_ENGINE_CASES } from './rows/oil-and-engine.ts';
import { OVERLAP_CASES } from './rows/overlap.ts';
import { SAFE } from './rows/safe.ts';
import { SEAT_CASES } from './rows/seat.ts';
import { TANK_CASES } from './rows/tank.ts';

const ALL_FITTED = Object.fromEntries(OUTPUTS.map((output) => [output, 'fitted'])) as unknown as Fitting;

const wish = ({ wants, briefMs }: Pick<RowCase, 'wants' | 'briefMs'>): Commands =>
  briefMs === undefined
    ? want(...wants)
    : {
        ...SAFE_COMMANDS,
        ...Object.fromEntries(wants.map((output) => [output, { on: true, offAfterMs: briefMs }])),
      };

const judge = ({ wants, bands, memory, fitting, briefMs }: RowCase) =>
  permit(
    wish(briefMs === undefined ? { wants } : { wants, briefMs }),
    { ...CALM_BANDS, ...bands },
    { ...CALM_MEMORY, ...memory },
    { ...ALL_FITTED, ...fitting },
  );

const on = (commands: { readonly [O in Output]: { readonly on: boolean } }): Output[] =>
  OUTPUTS.filter((output) => commands[output].on);

const CASES: readonly RowCase[] = [
  ...MACHINE_CASES,
  ...TANK_CASES,
  ...DRIVE_CASES,
  ...CHARGE_CASES,
  ...SEAT_CASES,
  ...OVERLAP_CASES,
  ...OIL_AND_ENGINE_CASES,
];

/** A row that stands once for each output has one number. */
const belongs = (id: string, row: string): boolean => id === row || id.startsWith(`${row}-`);

describe('Interlock rows', () => {
  for (const each of CASES) {
    test(`${each.row}: ${each.title}`, () => {
      const { permitted, refusals, trip } = judge(each);
      expect(on(permitted)).toEqual(on(want(...each.wants)).filter((output) => !each.falls.includes(output)));
      expect(trip?.reason).toBe(each.trips);
      const rows = trip === undefined ? refusals.map(({ row }) => row) : [trip.row];
      expect(
        rows.some((row) => belongs(row, each.row)),
        String(rows),
      ).toBe(true);
    });
  }

  test('every row has a case here', () => {
    const tested = new Set(CASES.map(({ row }) => row));
    const untested = INTERLOCKS.map(({ id }) => id).filter(
      (id) => !id.startsWith('IL-01-') && ![...tested].some((row) => belongs(id, row)),
    );
    expect(untested).toEqual([]);
  });
});

describe('Negative twins: what is safe is NOT forbidden', () => {
  for (const each of SAFE) {
    test(`${each.row}: ${each.title}`, () => {
      const { permitted, trip } = judge({ ...each, falls: [] });
      expect(trip).toBeUndefined();
      expect(on(permitted)).toEqual(on(want(...each.wants)));
    });
  }
});

describe('What a row reads', () => {
  const bandNames = Object.keys(BANDS) as (keyof Bands)[];
  const memoryNames = Object.keys(MEMORY) as (keyof Remembered)[];

  /** Throws on anything that is not declared. */
  const only = <T extends object>(values: T, declared: readonly PropertyKey[]): T =>
    new Proxy(values, {
      get: (target, key) => {
        if (!declared.includes(key)) throw new Error(`read ${String(key)} without declaring it`);
        return Reflect.get(target, key);
      },
    });

  test('no row looks at an output, a band, a memory or a fitting that it does not declare', () => {
    for (const row of INTERLOCKS) {
      const { outputs, bands, memory, fitting } = row.reads;
      const words = [true, false].map((word) =>
        only(Object.fromEntries([...OUTPUTS, 'chargePulse'].map((o) => [o, word])) as never, outputs),
      );
      const fitted = only(ALL_FITTED, fitting);
      const seen = bandNames.flatMap((name) =>
        BANDS[name].map((band) => only({ ...CALM_BANDS, [name]: band } as Bands, bands)),
      );
      const remembered = memoryNames.flatMap((name) =>
        MEMORY[name].map((word) => only({ ...CALM_MEMORY, [name]: word } as Remembered, memory)),
      );
      for (const on of words)
        for (const of of seen)
          for (const memories of remembered) row.judge({ on, bands: of, memory: memories, fitting: fitted });
    }
  });

  test('and one that looks would be found out', () => {
    const [row] = INTERLOCKS.filter(({ id }) => id === 'IL-10');
    const nothing = only({ ...CALM_BANDS }, []);
    const view = {
      on: {} as never,
      bands: nothing,
      memory: CALM_MEMORY,
      fitting: ALL_FITTED,
    };
    expect(() => row!.judge(view)).toThrow('read manifold without declaring it');
  });
});
