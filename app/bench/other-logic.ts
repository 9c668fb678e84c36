// Lets another checkout run the jobs of a campaign, by its own `coldbench campaign`.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { InputError } from '../cli/command.ts';
import type { Header } from './campaign-file.ts';

export type OtherLogic = {
  /** The other checkout, with its packages installed. */
  readonly folder: string;
  readonly workers: number | undefined;
  /** Where its file stays; left out: it is taken away when it has been read. */
  readonly out: string | undefined;
};

/** Ended, or by which signal. */
const ended = (program: string, args: readonly string[]): Promise<number | string> =>
  new Promise((resolve, reject) => {
    const child = spawn(program, args, { stdio: ['ignore', 'ignore', 'inherit'] });
    child.on('error', reject);
    child.on('exit', (status, signal) => resolve(status ?? signal ?? 'nothing'));
  });

/**
 * Runs the same plan, seed, jobs and shard there, and hands the file to `read`.
 * @throws InputError where there is no Coldbench, or where its campaign does not come to its end.
 */
export async function withOtherLogic<T>(
  { plan, seed, jobs, shard }: Header,
  { folder, workers, out }: OtherLogic,
  read: (file: string) => T,
): Promise<T> {
  const launcher = path.join(folder, 'app', 'coldbench.js');
  if (!existsSync(launcher))
    throw new InputError(`${folder}: there is no Coldbench in it; give the folder of a checkout`);
  const own = mkdtempSync(path.join(tmpdir(), 'coldbench-compare-'));
  try {
    const planFile = path.join(own, 'plan.json');
    writeFileSync(planFile, JSON.stringify(plan));
    const file = out ?? path.join(own, 'campaign.jsonl');
    const args = ['campaign', planFile, '--seed', String(seed), '--jobs', String(jobs), '--out', file];
    if (shard !== undefined) args.push('--shard', `${shard.index}/${shard.of}`);
    if (workers !== undefined) args.push('--workers', String(workers));
    const status = await ended(process.execPath, [launcher, ...args]);
    if (status !== 0)
      throw new InputError(
        `${folder}: its campaign ended with ${status} instead of 0; run coldbench campaign there to see why`,
      );
    return read(file);
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}
