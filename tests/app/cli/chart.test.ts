import { describe, expect, it } from 'vitest';
import { chart } from '../../../app/cli/chart.ts';
import { InputError } from '../../../app/cli/command.ts';
import { fakeTerminal } from '../fake-terminal.ts';

async function print(...args: string[]) {
  const terminal = fakeTerminal();
  expect(await chart.run(args, terminal)).toBe(0);
  const [head, table] = terminal.output().split('\n\n');
  const [heading, ...rows] = table!.trimEnd().split('\n');
  return { head: head!, heading: heading!, rows: rows.map((row) => row.trim().split(/ {2,}/)) };
}

describe('coldbench chart', () => {
  // Vapour pressures by CoolProp 8 from the same equations, kPa absolute, at 0, 20, 40 and 60 °C.
  it.each([
    ['R-134a', [292.8, 571.7, 1016.6, 1681.8]],
    ['R-1234yf', [315.9, 591.8, 1018.5, 1641.8]],
  ])('prints the vapour pressure of %s over temperature', async (name, kilopascals) => {
    const { rows } = await print(name, '--units', 'si', '--from', '0', '--to', '60', '--step', '20');
    expect(rows.map(([celsius]) => Number(celsius))).toEqual([0, 20, 40, 60]);
    expect(rows.map(([, , absolute]) => Number(absolute))).toEqual(kilopascals);
    for (const [, gauge, absolute] of rows) {
      expect(Number(gauge) * 100).toBeCloseTo(Number(absolute) - 101.325, 0);
    }
  });

  it('shows psig above the barometer and inches of mercury of vacuum below it', async () => {
    const { rows } = await print('R-134a', '--units', 'us', '--from', '-40', '--to', '20', '--step', '60');
    // −40 °F is −40 °C; 101.325 kPa less 51.2 kPa is 14.8 inHg. 571.7 kPa is 68.2 psi above 101.325 kPa.
    expect(rows).toEqual([
      ['-40.0', '14.8 inHg'],
      ['68.0', '68.2 psig'],
    ]);
  });

  it('puts both systems side by side unless told otherwise', async () => {
    const { heading, rows } = await print('R-1234yf');
    expect(heading).toMatch(/°C +°F +bar gauge +kPa absolute +gauge/);
    expect(rows[0]![0]).toBe('-40');
    expect(rows.at(-1)![0]).toBe('90');
    expect(rows).toHaveLength(27);
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([5]));
  });

  it('counts gauge pressure from the barometer given, and says which', async () => {
    const { head, rows } = await print(
      'R-134a',
      '--from=-20',
      '--to=-20',
      '--units=si',
      '--barometer-pa=84000',
    );
    expect(head).toContain('84.000 kPa absolute');
    expect(head).not.toContain('sea level');
    expect(Number(rows[0]![1])).toBeCloseTo((132.73 - 84) / 100, 3);
    expect((await print('R-134a')).head).toContain('101.325 kPa absolute (sea level)');
  });

  it('names the equation of state it is computed from', async () => {
    expect((await print('R-134a')).head).toContain('10.1063/1.555958');
    expect((await print('R-1234yf')).head).toContain('10.1007/s10765-022-03015-y');
  });

  it('keeps the decimals of its steps and ends on the last temperature asked for', async () => {
    const { rows } = await print('R-134a', '--units', 'si', '--from', '20', '--to', '20.3', '--step', '0.1');
    expect(rows.map(([celsius]) => celsius)).toEqual(['20.0', '20.1', '20.2', '20.3']);
  });

  it.each([
    [['R-22'], 'R-134a, R-1234yf'],
    [['R-134a', '--units', 'imperial'], 'us, si, both'],
    [['R-134a', '--to', '120'], '101 °C'],
    [['R-134a', '--from', '-120'], '-103'],
    [['R-134a', '--from', '30', '--to', '20'], 'swap them'],
    [['R-134a', '--step', '0'], 'above 0'],
    [['R-134a', '--step', '0.001'], 'larger --step'],
    [['R-134a', '--from', 'cold'], 'must be a number'],
    [['R-134a', '--barometer-pa', '29.92'], 'pascals'],
    [['R-134a', '--frm', '0'], '--from'],
  ])('refuses %j and says what to do', async (args, remedy) => {
    await expect(chart.run(args, fakeTerminal())).rejects.toThrow(InputError);
    await expect(chart.run(args, fakeTerminal())).rejects.toThrow(remedy);
  });
});
