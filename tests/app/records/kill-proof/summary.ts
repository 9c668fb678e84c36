// What many killed jobs come to, as a page.
import { type KillRow, NOMINAL_G } from './killed.ts';

const WITHIN_G = 5;

const percentile = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
};

const sizes = (rows: readonly KillRow[], of: (row: KillRow) => number | undefined): number[] =>
  rows
    .map(of)
    .filter((value) => value !== undefined)
    .map(Math.abs);

function spread(name: string, values: readonly number[]): string {
  const beyond = values.filter((value) => value > WITHIN_G).length;
  const figures = [0.5, 0.95, 1].map((share) => percentile(values, share).toFixed(1));
  return `| ${name} | ${values.length} | ${figures.join(' | ')} | ${beyond} |`;
}

function stages(rows: readonly KillRow[]): string {
  const names = [...new Set(rows.map(({ stage }) => stage ?? 'none'))].sort();
  return names
    .map((name) => `${name} ${rows.filter(({ stage }) => (stage ?? 'none') === name).length}`)
    .join(', ');
}

const isBeyondSaid = ({ tankErrorG = 0, leftOffUncertaintyG = 0 }: KillRow): boolean =>
  Math.abs(tankErrorG) > Math.max(WITHIN_G, leftOffUncertaintyG);

export function summary(rows: readonly KillRow[]): string {
  const killed = rows.filter(({ kills }) => kills > 0);
  const open = killed.filter(({ outcome }) => outcome !== undefined);
  const charged = open.filter(({ netErrorG }) => netErrorG !== undefined);
  const onward = open.filter(({ chose }) => chose === 'go-on');
  const closed = open.filter(({ chose }) => chose === 'close');
  const over = Math.max(0, ...charged.map(({ vehicleG = 0 }) => vehicleG - NOMINAL_G));
  return `# Killed jobs

Written by \`npm run kill-proof -- --keep\`: whole jobs on the simulated bench, each in a process of its own that records and is
ended by SIGKILL at a random moment, some of them a second time after they were taken up again. Then \`resume\` looks and
goes on or closes. The bench is put back to where the file has it; whatever happened there since the last intent, the
journal does not know.

- ${rows.length} jobs, ${killed.length} of them killed in time, ${killed.filter(({ kills }) => kills > 1).length} twice; ${open.length} were left open.
- Stage that was under way: ${stages(open)}.
- Gone on with: ${open.filter(({ chose }) => chose === 'go-on').length}, of which ${open.filter(({ chose, outcome }) => chose === 'go-on' && outcome === 'completed').length} completed; closed as they stood: ${open.filter(({ chose }) => chose === 'close').length}.
- Integrity check of the file failed: ${rows.filter(({ damage }) => damage.length > 0).length}. Breaks in the hash chain: ${rows.filter(({ breaks }) => breaks.length > 0).length}.
- Jobs with a ledger entry lost or doubled: ${rows.filter(({ lostOrDoubled }) => lostOrDoubled > 0).length}.
- The fullest vehicle of all that were charged held ${over.toFixed(1)} g more than its nominal ${NOMINAL_G} g: nothing was charged twice.

A job that is closed as it stands with hoses full of pressure has their force on the scale: the ledger's entry says how much
that may be. Of ${closed.length} such jobs ${closed.filter(isBeyondSaid).length} were further from the truth than their entry says (k = 2).

| error against the truth, g | jobs | median | 95 % | most | beyond ${WITHIN_G} g |
| --- | --: | --: | --: | --: | --: |
${spread(
  'change of the tank, gone on with',
  sizes(onward, (row) => row.tankErrorG),
)}
${spread(
  'change of the tank, closed as it stood',
  sizes(closed, (row) => row.tankErrorG),
)}
${spread(
  'net charge in the vehicle',
  sizes(charged, (row) => row.netErrorG),
)}
`;
}
