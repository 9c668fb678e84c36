// The page of interlocks: the table as it is in the code, what may never be commanded, and how that was proven.
import { BAND_SOURCES } from '../../controller/interlocks/band-sources.ts';
import { BANDS, type BandName } from '../../controller/interlocks/bands.ts';
import type { Interlock } from '../../controller/interlocks/interlock.ts';
import { MEMORY } from '../../controller/interlocks/remembered.ts';
import { INTERLOCKS } from '../../controller/interlocks/table.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { countOf, grouped } from '../controller/interlocks/proof/enumerate.ts';
import { FORBIDDEN } from '../controller/interlocks/proof/forbidden.ts';
import { search, VARIABLES, WHOLE } from '../controller/interlocks/proof/space.ts';
import { code, section, table } from './markdown.ts';

export const PAGE = new URL('../../docs/interlocks.md', import.meta.url);

const INTRO = `# Interlocks

The last word. Whatever the sequence or a hand wishes, ${code('guard')} (${code('controller/guard.ts')}) takes away from the
wanted command word what a row of this table forbids, and only the rest goes to the rig. The rows know nothing of the
sequence: they see the word, classes of readings, a little memory of their own, and which outputs the machine has.

## How a word is judged

1. Readings are sorted into **classes** (bands). A reading that is missing, stale, out of range or no number is the class
   _unknown_, and no row takes _unknown_ for permission.
2. The **memory** is recalled: how long something has been so, what was let in where, whether a trip is latched.
3. Every row looks at the wanted word and answers with outputs that may not be on, or with a **trip**. A trip is latched,
   everything goes off, and the first reason is kept until the operator resets it; it cannot be reset while its cause
   reads so or cannot be read.
4. What a row forbids is taken away, and all rows judge what is left, because an output that falls may make another
   unsafe. This ends when no row takes anything away any more. So a permitted word is one that no row refuses.

"Everything off" is always permitted. The fan runs unless its relay is energised.`;

const reads = ({ reads: { outputs, bands, memory, fitting } }: Interlock): string =>
  [
    ...outputs.map((name) => `${code(name)}`),
    ...bands.map((name) => `class ${code(name)}`),
    ...memory.map((name) => `memory ${code(name)}`),
    ...fitting.map((name) => `fitted ${code(name)}`),
  ].join(', ') || '–';

const acts = ({ acts }: Interlock): string =>
  acts.length === OUTPUTS.length ? 'everything' : acts.map(code).join(', ');

/** Rows that stand once for each output are shown once. */
const shown = INTERLOCKS.filter(({ id }) => !id.startsWith('IL-01-') || id === 'IL-01-highSideValve');
const name = (id: string): string => (id.startsWith('IL-01-') ? 'IL-01, for each output' : id);

const rowsTable = (): string =>
  table([
    ['row', 'hazard', 'acts on', 'looks at', 'remedy'],
    ...shown.map((row) => [name(row.id), row.hazard, acts(row), reads(row), row.remedy]),
  ]);

const classTable = (): string =>
  table([
    ['class', 'values', 'readings', 'figures of the equipment', 'and'],
    ...(Object.keys(BANDS) as BandName[]).map((band) => {
      const { seen, equipment, other } = BAND_SOURCES[band];
      const list = (names: readonly string[]): string => names.map(code).join(', ') || '–';
      return [code(band), BANDS[band].join(', '), list(seen), list(equipment), list(other)];
    }),
  ]);

const memoryTable = (): string =>
  table([
    ['memory', 'values'],
    ...Object.entries(MEMORY).map(([key, values]) => [code(key), values.join(', ')]),
  ]);

const group = (id: string): string => (id.startsWith('IL-01-') ? 'IL-01' : id);

function forbiddenTable(): string {
  const rows = FORBIDDEN.map((forbidden) => {
    const { rows: needed } = search(forbidden, INTERLOCKS);
    return [forbidden.name, [...new Set([...needed].map(group))].join(', ')];
  });
  return table([['never', 'refused by'], ...rows]);
}

const number = (value: number): string => new Intl.NumberFormat('en').format(value);

function proof(): string {
  const groups = grouped(FORBIDDEN);
  const points = groups.reduce((sum, each) => sum + countOf(each), 0);
  const [digit, ...rest] = WHOLE.toString();
  return `The list below is written from the hazards of the trade, without looking at the table
(${code('tests/controller/interlocks/proof/')}); each entry declares what it depends on, and the compiler holds it to that.

**Enumerated in full**, in every ${code('npm test')}:

- The whole space: ${VARIABLES.length} variables (each output on or off, the short pulse of the charge valve, every class, every
  memory, every fitting) make ${digit}.${rest.slice(0, 2).join('')} × 10^${rest.length} points. For each of the ${FORBIDDEN.length} combinations all of them are settled: what the
  combination depends on is fixed first, value by value; a set of points is settled when the combination is not in it, or
  when one row refuses it whatever the row's inputs that are not fixed yet may be. The sizes of the settled sets are added
  up and must make the whole. No point was found at which a combination is there and no row refuses it.
- Through the guard itself: for each combination every product of what it and the rows touching it look at, over every
  command word of those outputs, with all else as it permits most: ${number(points)} points in ${groups.length} groups. (A row touches a
  combination when it acts on one of its outputs and looks at something that it depends on.)
- Each row over all it declares: it forbids and permits somewhere, takes away nothing but what it says it acts on, and
  forbids at _unknown_ whatever some reading makes it forbid, but for the exceptions named with their reason in
  ${code('every-row.test.ts')}. Whatever it does not declare changes nothing, value by value.
- **That the proof can fail**: with any single row taken out of the table, some combination gets through; and a combination
  that is allowed is found to be permitted.

**Sampled**, with fixed seeds: classes against readings and figures that they do not declare
(${code('band-sources.test.ts')}); random wishes in random worlds (${code('forbidden.test.ts')}); walks through time, in which
valves take time to move (${code('overlap.test.ts')}); random garbage for readings
(${code('garbage.test.ts')}, ${code('hundred-thousand.test.ts')}); on the simulated plant, random operators, faults and garbage from
saved moments, and bugs planted in the sequence (${code('tests/properties/')}).

**Not proven here**: that a class or a memory is true of the machine. That is a matter of sensors, dead times and limits,
shown by tests of their own (${code('memory.test.ts')} and those of each watch) and on the simulator. What no sensor sees, and what a
relay or a valve does by itself, stays with the rig: see [hazards.md](hazards.md).`;
}

const HOW_TO = `1. Write the combination that may never be commanded in ${code('tests/controller/interlocks/proof/')}, from the hazard, with what it
   depends on. ${code('npm test')} now shows a point at which it is permitted: the proof can fail.
2. Add the row to the file of its part (${code('controller/interlocks/*-rows.ts')}): what it acts on, what it looks at, hazard, remedy. A
   new class goes to ${code('bands.ts')} with its sources in ${code('band-sources.ts')}, a new memory to ${code('memory.ts')}, its classes to ${code('remembered.ts')}.
3. Write its two cases in ${code('tests/controller/interlocks/rows/')}: in the file of its part that it acts when it must, and in
   ${code('safe.ts')} that it does not when it must not.
4. Add or change the hazard in ${code('tests/hazards/')}, with its proof and its twin, and run ${code('npm run hazards')}.`;

export function interlocksText(): string {
  return `${[
    INTRO,
    section('The rows', rowsTable()),
    section('Classes of readings', classTable()),
    section('Memory', memoryTable()),
    section('How it is proven', proof()),
    section('What may never be commanded', forbiddenTable()),
    section('How to add one, with its two tests', HOW_TO),
  ].join('\n\n')}\n`;
}
