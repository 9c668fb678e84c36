// Every command that the pages show is typed as it stands there. What a reader has is put in its place: a port, a broker, files
// of their own; and campaigns are made shorter. Commands that last run until they have said that they do, then Ctrl-C.
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { SHORT_PLAN } from '../app/bench/short-plan.ts';
import { writeEquipmentOfToday } from '../app/rig/equipment-today.ts';
import {
  type Answer,
  type Block,
  blocksOf,
  endAll,
  pages,
  pathFrom,
  readersFolder,
  standing,
  there,
  type,
} from './snippets.ts';

const MISSING = ['socat', 'sqlite3', 'mosquitto'].filter(
  (program) => !there(program) && !there(`../sbin/${program}`),
);
if (MISSING.length > 0)
  process.stderr.write(`skipped: commands of the pages need ${MISSING.join(', ')}, not installed\n`);

/** With the reason why they are not typed here. */
const NOT_TYPED: readonly (readonly [RegExp, string])[] = [
  [/^npm (ci|test)/, 'a step of .ci/run'],
  [/^npm pack|^cd .* npm install/, 'in tests/package'],
  [/^avrdude/, 'needs a programmer and a board'],
];

/** Commands that last until somebody ends them, by what they say once they are under way. */
const LASTING: readonly (readonly [RegExp, RegExp])[] = [
  [/ emulate/, /board/],
  [/ panel/, /http:\/\//],
  [/ job /, /identify begins/],
  [/ run .*--(board|firmware)/, /(settle|recover) begins/],
  [/ resume .*--choose go-on/, /stands where it was left/],
];

/** What a matrix of a CI puts its values in the place of. */
const MATRIX = /\$\{\{ matrix\.shard \}\}/;

const CAR = {
  name: 'a small car',
  seed: 3,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 150, volumeL: 1.2 },
};

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

describe.skipIf(MISSING.length > 0)('the commands of the pages', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-snippets-'));
  const env = {
    PATH: pathFrom(folder),
    XDG_DATA_HOME: folder,
    JOB_COMPLETION_INDEX: '0',
    SLURM_CPUS_PER_TASK: '1',
  };
  const slurm = { SLURM_ARRAY_TASK_ID: '2', SLURM_ARRAY_TASK_COUNT: '8' };
  const here = (name: string): string => path.join(folder, name);
  const typed = (command: string, answers?: readonly Answer[]) =>
    type(command, folder, { ...env, ...slurm }, answers);
  let brokerPort = 0;

  beforeAll(async () => {
    readersFolder(folder);
    writeFileSync(here('SCENARIO.json'), JSON.stringify(CAR));
    writeFileSync(here('TICKET.json'), JSON.stringify({ name: CAR.name, ticket: CAR.ticket }));
    for (const name of ['rig.json', 'my-rig.json']) writeEquipmentOfToday(here(name));
    writeFileSync(here('short.json'), JSON.stringify(SHORT_PLAN));
    for (const name of ['A', 'B'])
      expect(await typed(`coldbench campaign short.json --jobs 2 --out ${name}`)).toMatchObject({
        status: 0,
      });
    for (const shard of [1, 2])
      expect(
        await typed(`coldbench campaign short.json --jobs 2 --shard ${shard}/2 --out SHARD${shard}`),
      ).toMatchObject({ status: 0 });
    brokerPort = await freePort();
    await standing(`/usr/sbin/mosquitto -p ${brokerPort}`, folder, /running/);
    await standing("exec bin/coldbench emulate SCENARIO.json --link './PORT'", folder, /board/);
  }, 120_000);
  afterAll(() => {
    endAll();
    rmSync(folder, { recursive: true, force: true });
  });

  const placed = (command: string): string =>
    command
      .replace(/(--(?:port|board)) \S+/, '$1 ./PORT')
      .replace('mqtt://localhost:1883', `mqtt://127.0.0.1:${brokerPort}`)
      .replace(/--jobs \d+/, `--jobs ${command.includes('--shard') ? 8 : 2}`)
      .replaceAll('/data/', './');

  /** A matrix runs once for each of its values. */
  const spread = (command: string): readonly string[] =>
    MATRIX.test(command)
      ? [1, 2, 3, 4].map((shard) => command.replaceAll(new RegExp(MATRIX, 'g'), `${shard}`))
      : [command];

  async function prepare({ page, commands }: Block): Promise<void> {
    if (page !== 'README.md' && commands[0]!.includes(' resume')) {
      // A job whose process was killed.
      const begun = await typed('exec bin/coldbench job TICKET.json --port ./PORT --file rig.json', [
        { said: /Take a sample/, does: 'R-134a 99.8' },
        { said: /settle begins/, does: 'SIGKILL' },
      ]);
      expect(begun.saidAll, begun.output).toBe(true);
    }
    if (commands.some((command) => command.includes('compare before.jsonl')) && page === 'docs/campaigns.md')
      await typed(placed('coldbench campaign short.json --jobs 1000 --seed 7 --out after.jsonl'));
  }

  async function inItsFolder({ apart }: Block, index: number): Promise<string> {
    if (!apart) return folder;
    const own = here(`apart-${index}`);
    mkdirSync(own);
    for (const name of ['plan.json', 'before.jsonl']) copyFileSync(here(name), path.join(own, name));
    return own;
  }

  const blocks = pages().flatMap(blocksOf);
  const isTyped = (command: string): boolean => !NOT_TYPED.some(([pattern]) => pattern.test(command));

  test('are found', () => {
    const commands = blocks.flatMap((block) => block.commands);
    expect(commands.length).toBeGreaterThan(45);
    expect(new Set(blocks.map(({ page }) => page)).size).toBeGreaterThan(6);
  });

  test.each(
    blocks
      .map((block, index) => ({ ...block, index, commands: block.commands.filter(isTyped) }))
      .filter(({ commands }) => commands.length > 0),
  )('of $page: $commands.0 …', async (block) => {
    await prepare(block);
    const own = await inItsFolder(block, block.index);
    for (const command of block.commands.flatMap(spread)) {
      const lasts = LASTING.find(([pattern]) => pattern.test(command))?.[1];
      const answers = lasts === undefined ? [] : [{ said: lasts, does: 'SIGINT' as const }];
      // The shell gives its place to what lasts, so that the exit status is that of the command.
      const line = lasts === undefined ? placed(command) : `exec ${placed(command)}`;
      const done = await type(line, own, { ...env, ...slurm }, answers);
      expect(done.output, command).not.toMatch(/^coldbench: .*(unknown|--help)/m);
      const wanted = { saidAll: true, status: lasts === undefined ? 0 : expect.toBeOneOf([0, 1, 130]) };
      expect({ saidAll: done.saidAll, status: done.status }, `${command}:\n${done.output}`).toEqual(wanted);
    }
  });
});
