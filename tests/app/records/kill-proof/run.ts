// `npm run kill-proof`: kills recorded jobs at random moments, takes them up again, and prints what the records then say.
// With --keep the summary takes its place in docs/records-proof.md.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Random } from '../../../../sim/random.ts';
import { type Kill, type KillRow, killedJob } from './killed.ts';
import { summary } from './summary.ts';

const PAGE = fileURLToPath(new URL('../../../../docs/records-proof.md', import.meta.url));
const TWICE = 0.2;
const CLOSES = 0.2;

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '300' },
    seed: { type: 'string', default: '1' },
    longest: { type: 'string', default: '2600' },
    keep: { type: 'boolean', default: false },
    folder: { type: 'string' },
  },
});

function draw(random: Random, seed: number, longestMs: number): Kill {
  const first = random.uniform() * longestMs;
  const again = random.uniform() < TWICE;
  const choice = random.uniform() < CLOSES ? 'close' : 'go-on';
  return {
    seed,
    engine: random.uniform() < 0.5 ? 'can-run' : 'cannot-run',
    afterMs: again ? [first, random.uniform() * longestMs * 0.5] : [first],
    choice,
  };
}

const folder = mkdtempSync(path.join(values.folder ?? tmpdir(), 'coldbench-kill-'));
const random = new Random(Number(values.seed), 'kill-proof');
const rows: KillRow[] = [];
try {
  for (let run = 1; run <= Number(values.runs); run++) {
    const row = await killedJob(draw(random, run, Number(values.longest)), folder);
    rows.push(row);
    process.stderr.write(`${run} ${JSON.stringify(row)}\n`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
const text = summary(rows);
process.stdout.write(text);
if (values.keep) writeFileSync(PAGE, text);
