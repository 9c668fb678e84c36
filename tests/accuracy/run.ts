// `npm run accuracy -- TOPIC`: runs many seeded jobs of one topic, keeps its summary and writes the page of results anew.
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { resultFile, type Topic, writePage } from './topic.ts';
import { TOPICS } from './topics.ts';

const USAGE = `Usage: npm run accuracy -- TOPIC [--jobs N] [--workers N] [--seed FIRST] [--keep]
TOPIC is one of: ${TOPICS.map(({ name }) => name).join(', ')}. The section of results is printed. With --keep it also
takes the place of what docs/accuracy.md and tests/accuracy/results/ have of this topic.
`;

/** As large as a seed may be, with room for the jobs after it. */
const MOST = 1e9;

/** A whole number above zero, or nothing. */
const count = (text: string): number | undefined =>
  /^[1-9]\d*$/.test(text) && Number(text) <= MOST ? Number(text) : undefined;

type Order = {
  readonly topic: Topic;
  readonly jobs: number;
  readonly workers: number;
  readonly fromSeed: number;
  readonly keep: boolean;
};

/** Throws an Error with what cannot be read. */
function orderOf(args: readonly string[]): Order | undefined {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      jobs: { type: 'string', default: '1000' },
      workers: { type: 'string', default: '2' },
      seed: { type: 'string', default: '1' },
      keep: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) return undefined;
  const topic = TOPICS.find(({ name }) => name === positionals[0]);
  if (topic === undefined || positionals.length > 1) throw new Error('give one topic');
  const whole = (name: 'jobs' | 'workers' | 'seed'): number => {
    const value = count(values[name]);
    if (value === undefined) throw new Error(`--${name} takes a whole number from 1 to ${MOST}`);
    return value;
  };
  return {
    topic,
    jobs: whole('jobs'),
    workers: whole('workers'),
    fromSeed: whole('seed'),
    keep: values.keep,
  };
}

async function main(): Promise<void> {
  let order: Order | undefined;
  try {
    order = orderOf(process.argv.slice(2));
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n${USAGE}`);
    process.exitCode = 2;
    return;
  }
  if (order === undefined) {
    process.stdout.write(USAGE);
    return;
  }
  const { topic, jobs, workers, fromSeed, keep } = order;
  const progress = (line: string): void => {
    if (process.stderr.isTTY) process.stderr.write(`\r${line.padEnd(40)}`);
  };
  const summary = await topic.measure({ jobs, workers, fromSeed, progress });
  process.stdout.write(`${topic.section(summary).trim()}\n`);
  if (!keep) return;
  writeFileSync(resultFile(topic), `${JSON.stringify(summary, undefined, 1)}\n`);
  writePage(TOPICS);
}

await main();
