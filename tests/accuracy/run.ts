// `npm run accuracy -- TOPIC`: runs many seeded jobs of one topic, keeps its summary and writes the page of results anew.
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { resultFile, writePage } from './topic.ts';
import { TOPICS } from './topics.ts';

const USAGE = `Usage: npm run accuracy -- TOPIC [--jobs N] [--workers N] [--seed FIRST] [--dry]
TOPIC is one of: ${TOPICS.map(({ name }) => name).join(', ')}. --dry prints the section and keeps nothing.
`;

/** A whole number above zero, or nothing. */
const count = (text: string): number | undefined => (/^[1-9]\d*$/.test(text) ? Number(text) : undefined);

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      jobs: { type: 'string', default: '1000' },
      workers: { type: 'string', default: '2' },
      seed: { type: 'string', default: '1' },
      dry: { type: 'boolean', default: false },
    },
  });
  const topic = TOPICS.find(({ name }) => name === positionals[0]);
  const jobs = count(values.jobs);
  const workers = count(values.workers);
  const fromSeed = count(values.seed);
  if (topic === undefined || jobs === undefined || workers === undefined || fromSeed === undefined) {
    process.stderr.write(USAGE);
    process.exitCode = 2;
    return;
  }
  const progress = (line: string): void => {
    if (process.stderr.isTTY) process.stderr.write(`\r${line.padEnd(40)}`);
  };
  const summary = await topic.measure({ jobs, workers, fromSeed, progress });
  process.stdout.write(`${topic.section(summary).trim()}\n`);
  if (values.dry) return;
  writeFileSync(resultFile(topic), `${JSON.stringify(summary, undefined, 1)}\n`);
  writePage(TOPICS);
}

await main();
