// `npm run kill-proof`: kills recorded jobs at random moments, takes them up again, and prints what the records then say.
// With --keep the summary takes its place in docs/records-proof.md.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Random } from '../../../../sim/random.ts';
import { type Kill, type KillRow, killedJob, type Moment } from './killed.ts';
import { summary } from './summary.ts';

const PAGE = fileURLToPath(new URL('../../../../docs/records-proof.md', import.meta.url));
const TWICE = 0.2;
const CLOSES = 0.2;
/** Roughly what a job of these takes in its own time and in its journal, and a while on the wall. */
const JOB_MS = 3_700_000;
const JOURNAL_LINES = 300;
const PLUS_MS = 20;

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '300' },
    seed: { type: 'string', default: '1' },
    keep: { type: 'boolean', default: false },
    folder: { type: 'string' },
  },
});

/** Half of them evenly over the time of a job, half over its journal, which is densest where valves move. */
const moment = (random: Random, share = 1): Moment => ({
  ...(random.uniform() < 0.5
    ? { jobMs: random.uniform() * JOB_MS }
    : { lines: 1 + Math.floor(random.uniform() * JOURNAL_LINES * share) }),
  plusMs: random.uniform() * PLUS_MS,
});

function draw(random: Random, seed: number): Kill {
  const first = moment(random);
  const again = random.uniform() < TWICE;
  const choice = random.uniform() < CLOSES ? 'close' : 'go-on';
  return {
    seed,
    engine: random.uniform() < 0.5 ? 'can-run' : 'cannot-run',
    moments: again ? [first, moment(random, 0.5)] : [first],
    choice,
  };
}

const folder = mkdtempSync(path.join(values.folder ?? tmpdir(), 'coldbench-kill-'));
const random = new Random(Number(values.seed), 'kill-proof');
const rows: KillRow[] = [];
try {
  // As many at once as there are processors: where a kill strikes, the machine decides anyhow.
  while (rows.filter(({ kills }) => kills > 0).length < Number(values.kills)) {
    const batch = Array.from({ length: availableParallelism() }, (_, at) => rows.length + 1 + at);
    const drawn = batch.map((seed) => draw(random, seed));
    for (const row of await Promise.all(drawn.map((kill) => killedJob(kill, folder)))) {
      rows.push(row);
      process.stderr.write(`${rows.length} ${JSON.stringify(row)}\n`);
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
const text = summary(rows);
process.stdout.write(text);
if (values.keep) writeFileSync(PAGE, text);
