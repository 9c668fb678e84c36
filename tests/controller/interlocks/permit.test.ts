// How verdicts come together: what is passed on, what is judged again, and whose blindness is named.
import { describe, expect, test } from 'vitest';
import { blindTo } from '../../../controller/interlocks/blind.ts';
import { forbid, type Interlock, interlock, NOTHING } from '../../../controller/interlocks/interlock.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { commandsOf, OFF, ON } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { CALM_BANDS } from '../support/calm.ts';
import { calmPoint } from './proof/space.ts';

const judge = (wanted: Parameters<typeof permit>[0], fitting = calmPoint().fitting) => {
  const { bands, memory } = calmPoint();
  return permit(wanted, bands, memory, fitting);
};

describe('A word', () => {
  test('of which nothing is taken away is passed on as it came', () => {
    const wanted = want('vacuumPump');
    expect(judge(wanted).permitted).toBe(wanted);
  });

  test('of which something is taken away keeps what is left as it came, countdowns with it', () => {
    const pulse = { on: true, offAfterMs: 60 };
    const wanted = commandsOf((output) =>
      output === 'lowSideValve' ? pulse : output === 'compressor' ? ON : OFF,
    );
    const { permitted } = judge(wanted);
    expect(permitted.lowSideValve).toBe(pulse);
    expect(permitted.compressor).toEqual(OFF);
  });

  test('whose hose valve falls leaves no full charge into a dead end: it does not count as a pulse then', () => {
    const fitting = { ...calmPoint().fitting, highSideValve: 'not-fitted' as const };
    const { permitted, refusals } = judge(want('chargeValve', 'highSideValve'), fitting);
    expect(permitted.chargeValve.on).toBe(false);
    expect(refusals.map(({ row }) => row)).toContain('IL-22');
  });
});

describe('What a refusal is blind to', () => {
  const row = (permits: (tank: boolean, mass: boolean) => boolean): Interlock =>
    interlock({
      id: 'IL-00',
      hazard: 'a hazard',
      remedy: 'A remedy.',
      acts: ['recoveryValve'],
      bands: ['tankPressure', 'tankMass'],
      judge: ({ bands }) =>
        permits(bands.tankPressure === 'normal', bands.tankMass === 'normal')
          ? NOTHING
          : forbid('recoveryValve'),
    });
  const blind = {
    ...calmPoint(),
    bands: { ...CALM_BANDS, tankPressure: 'unknown', tankMass: 'unknown' } as const,
  };
  const of = (permits: (tank: boolean, mass: boolean) => boolean) =>
    blindTo(row(permits), blind, 'recoveryValve');

  test('is the one reading that alone could permit it', () => {
    expect(of((tank) => tank)).toEqual(['tankPressure']);
    expect(of((_, mass) => mass)).toEqual(['tankMass']);
    expect(of((tank, mass) => tank || mass)).toEqual(['tankPressure', 'tankMass']);
  });

  test('is both where it takes both, and nothing where neither would help', () => {
    expect(of((tank, mass) => tank && mass)).toEqual(['tankPressure', 'tankMass']);
    expect(of(() => false)).toEqual([]);
  });

  test('is only what cannot be read', () => {
    const half = { ...blind, bands: { ...blind.bands, tankMass: 'normal' } as const };
    expect(
      blindTo(
        row((tank, mass) => tank && mass),
        half,
        'recoveryValve',
      ),
    ).toEqual(['tankPressure']);
  });
});

test('A row that reads nothing declares nothing', () => {
  const row = interlock({
    id: 'IL-00',
    hazard: 'a hazard',
    remedy: 'A remedy.',
    acts: [],
    judge: () => NOTHING,
  });
  expect(row.reads).toEqual({ outputs: [], bands: [], memory: [], fitting: [] });
});
