// The equipment file of a rig: what it says when all stands, and every reason why the rig may not be driven.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { InputError } from '../../../app/cli/command.ts';
import { readEquipment, readRecord, writeRecord } from '../../../app/rig/equipment-file.ts';

const FILE = 'tests/app/rig/equipment.json';
const DAY_MS = 86_400_000;
const DONE_MS = Date.parse('2031-05-07T00:00:00.000Z');

const folder = mkdtempSync(join(tmpdir(), 'equipment-'));
afterAll(() => rmSync(folder, { recursive: true }));

type Tree = { [key: string]: unknown };

/** The file with one value put somewhere in it, or taken out. */
function edited(place: readonly string[], value?: unknown): string {
  const file = JSON.parse(readFileSync(FILE, 'utf8')) as Tree;
  let tree = file;
  for (const key of place.slice(0, -1)) tree = tree[key] as Tree;
  const last = place.at(-1)!;
  if (value === undefined) delete tree[last];
  else tree[last] = value;
  const path = join(folder, 'edited.json');
  writeFileSync(path, JSON.stringify(file));
  return path;
}

const problemsOf = (path: string, nowMs = DONE_MS): readonly string[] => {
  const read = readEquipment(path, nowMs, '/dev/ttyX');
  return read.ok ? [] : read.problems;
};
const refusalOf = (path: string): string => {
  try {
    readEquipment(path, DONE_MS);
    return '';
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
};

describe('an equipment file in which every line stands', () => {
  const read = readEquipment(FILE, DONE_MS);
  if (!read.ok) throw new Error(read.problems.join('\n'));
  const { equipment, sensors } = read;

  it('says what the controller needs to know, from what was typed and what was measured', () => {
    expect(equipment.name).toBe('bench machine');
    expect(equipment.fitted).toContain('oilValve');
    expect(equipment.fitted).not.toContain('dyeValve');
    expect(equipment.dye).toBeUndefined();
    expect(equipment.oil).toMatchObject({ kind: 'PAG', lineFilmM3: 2e-6 });
    expect(equipment.scale.countsPerKg).toBeCloseTo(99_963.8, 0);
    expect(equipment.hoses.highVolumeM3 * 1e6).toBeCloseTo(31.93, 1);
    expect(equipment.tank.temperatureLimitK).toBeCloseTo(318.15, 6);
  });

  it('takes the lower of the typed fill limit and the rule for its refrigerant', () => {
    expect(equipment.tank.fillLimitKg).toBe(17);
    const full = edited(['lines', 'facts', 'figures', 'fillLimitKg'], 20);
    const more = readEquipment(full, DONE_MS);
    expect(more.ok && more.equipment.tank.fillLimitKg).toBeCloseTo(0.8 * 21.6, 6);
  });

  it('says how the sensors are read, and leaves the barometer to its sensor where one is fitted', () => {
    expect(sensors.lowSide).toMatchObject({ fromPa: -100_000, toPa: 900_000 });
    expect(sensors.lowSide.offsetPa).toBeCloseTo(4_246, -1);
    expect(sensors.barometer?.offsetPa).toBeCloseTo(73.8, 0);
    expect(sensors.typedBarometerPa).toBe(97_300);
    expect(equipment.barometerPa).toBeUndefined();
    expect(equipment.pressure.tankSpanPa).toBeCloseTo(2_097_300, -1);
    expect(equipment.pressure.manifoldResolutionPa).toBeCloseTo(7.5, 1);
  });
});

describe('a rig that may not be driven', () => {
  it('is told each line that is missing, with how to repeat only it', () => {
    const path = edited(['lines', 'volumes']);
    expect(problemsOf(path)).toEqual([
      `volumes is missing; repeat it: coldbench commission --port /dev/ttyX --file ${path} --line volumes`,
    ]);
  });

  it('is told each line that failed, with its date and why', () => {
    const record = readRecord(FILE);
    const failed = { ...record['high-pressure']!, verdict: 'failed', why: 'the board did not see it' };
    expect(problemsOf(edited(['lines', 'high-pressure'], failed))).toEqual([
      expect.stringMatching(/^high-pressure failed on 2031-05-06 \(the board did not see it\); repeat it: /),
    ]);
  });

  it('is told each line that has expired, with both dates', () => {
    const all = problemsOf(FILE, DONE_MS + 45 * DAY_MS);
    expect(all).toEqual([
      expect.stringMatching(/^leak-test expired on 2031-06-05 \(done on 2031-05-06\); .*--line leak-test$/),
    ]);
    expect(problemsOf(FILE, DONE_MS + 400 * DAY_MS)).toHaveLength(13);
  });

  it('is told every line of a file that has none', () => {
    const path = join(folder, 'new.json');
    writeRecord(path, {});
    expect(problemsOf(path)).toHaveLength(13);
  });

  it('does not mind that the optional line is missing or has failed', () => {
    const failed = { ...readRecord(FILE).scale!, verdict: 'failed' };
    expect(problemsOf(edited(['lines', 'in-flight'], failed))).toEqual([]);
  });
});

describe('a file that somebody edited', () => {
  it.each([
    [
      'a figure beyond its tolerance',
      'link-loss',
      'darkAfterMs',
      900,
      /link-loss failed .*darkAfterMs is 900/,
    ],
    ['a figure that is a word', 'scale', 'countsPerKg', 'many', /scale failed .*countsPerKg is not there/],
    ['a fact out of its bounds', 'facts', 'cutOutPa', 9e6, /facts failed .*cutOutPa must be a number from/],
    ['a span that ends before it begins', 'facts', 'lowSideFromPa', 95_000, undefined],
    [
      'a refrigerant that nobody knows',
      'facts',
      'refrigerant',
      'R-999',
      /facts names a refrigerant that is not here, R-999/,
    ],
    [
      'a word where yes or no belongs',
      'facts',
      'separatorFloat',
      'yes',
      /separatorFloat must be true or false/,
    ],
  ] as const)('is refused for %s', (_, line, name, value, why) => {
    const path = edited(['lines', line, 'figures', name], value);
    if (why === undefined) expect(problemsOf(path)).toEqual([]);
    else expect(problemsOf(path).join('\n')).toMatch(why);
  });

  it('is refused for a date ahead and for one that is none', () => {
    const ahead = edited(['lines', 'scale', 'date'], '2040-01-01T00:00:00.000Z');
    expect(problemsOf(ahead)[0]).toMatch(/scale failed .*not one of the past/);
    const none = edited(['lines', 'scale', 'date'], 'yesterday');
    expect(refusalOf(none)).toMatch(/lines.scale.date: .*restore it from a copy/);
  });

  it.each([
    [['lines', 'weather'], {}],
    [['lines', 'scale', 'note'], 'fine'],
    [['lines', 'scale', 'verdict'], 'good enough'],
    [['lines', 'scale', 'figures', 'zeroCounts'], null],
    [['version'], 2],
    [['format'], 'another'],
  ] as const)('is refused for what there is not at %s', (place, value) => {
    expect(refusalOf(edited(place, value))).toMatch(/restore it from a copy, or commission the rig anew/);
  });
});

describe('a file that cannot be read', () => {
  it('is named with what is wrong and what to do', () => {
    expect(refusalOf(join(folder, 'nowhere.json'))).toMatch(
      /no such equipment file; coldbench commission writes it/,
    );
    expect(refusalOf(folder)).toMatch(/is a directory/);
    const torn = join(folder, 'torn.json');
    writeFileSync(torn, readFileSync(FILE, 'utf8').slice(0, 400));
    expect(refusalOf(torn)).toMatch(/not JSON at line .*restore it from a copy/);
  });
});

describe('writing the file', () => {
  it('puts the whole of it in place of the old one and leaves nothing beside it', () => {
    const path = join(folder, 'written.json');
    const record = readRecord(FILE);
    writeRecord(path, {});
    writeRecord(path, record);
    expect(readRecord(path)).toEqual(record);
    expect(readdirSync(folder).filter((name) => name.includes('written'))).toEqual(['written.json']);
  });
});
