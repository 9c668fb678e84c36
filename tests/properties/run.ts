// `npm run properties -- --runs N --seed FIRST`: a large set of random runs on both profiles; --keep writes its page.
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { ProfileName } from '../../sim/profiles.ts';
import { spread } from '../accuracy/workers.ts';
import { PAGE, page, RESULTS } from './page.ts';
import { type Summary, setOf } from './summary.ts';
import type { Row } from './worker.ts';

const USAGE = `Usage: npm run properties -- [--runs N] [--seed FIRST] [--workers N] [--keep]
Runs N random runs, half of them on each profile, and prints what they come to. Every run has a seed of its own. Whatever
does harm that no exception covers is printed whole, and the exit status is 1. With --keep docs/properties.md is written.
`;

const module = new URL('./worker.ts', import.meta.url);

function whole(name: string, text: string): number {
  if (!/^[1-9]\d{0,8}$/.test(text)) throw new Error(`--${name} takes a whole number above zero`);
  return Number(text);
}

function orderOf(args: readonly string[]) {
  const { values } = parseArgs({
    args: [...args],
    options: {
      runs: { type: 'string', default: '2000' },
      seed: { type: 'string', default: '1' },
      workers: { type: 'string', default: '2' },
      keep: { type: 'boolean', default: false },
    },
  });
  return {
    runs: whole('runs', values.runs),
    fromSeed: whole('seed', values.seed),
    workers: whole('workers', values.workers),
    keep: values.keep,
  };
}

async function main(): Promise<void> {
  let order: ReturnType<typeof orderOf>;
  try {
    order = orderOf(process.argv.slice(2));
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n${USAGE}`);
    process.exitCode = 2;
    return;
  }
  const { runs, fromSeed, workers, keep } = order;
  const progress = (line: string): void => {
    if (process.stderr.isTTY) process.stderr.write(`\r${line.padEnd(40)}`);
  };
  const half = Math.ceil(runs / 2);
  const of = async (profile: ProfileName, from: number) => {
    const asked = { jobs: half, fromSeed: from, workers, progress };
    const rows = await spread<Row>({ module, about: { profile }, label: profile }, asked);
    for (const { seed, harm } of rows) {
      if (harm === undefined) continue;
      process.stdout.write(`${profile}, seed ${seed}: ${JSON.stringify(harm)}\n`);
      process.exitCode = 1;
    }
    return setOf(rows);
  };
  const command = `npm run properties -- --runs ${runs} --seed ${fromSeed}`;
  const summary: Summary = {
    command,
    profiles: { good: await of('good', fromSeed), hobby: await of('hobby', fromSeed + half) },
  };
  process.stdout.write(page(summary));
  if (!keep) return;
  writeFileSync(RESULTS, `${JSON.stringify(summary, undefined, 1)}\n`);
  writeFileSync(PAGE, page(summary));
}

await main();
