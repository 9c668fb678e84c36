// Runs a recorded job in a process of its own, kills it at some moment, takes it up again, and holds the records to the truth.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { clockMs, fluidOnce, PACING } from '../../../../app/bench/whole-jobs.ts';
import { breaks } from '../../../../app/records/chain.ts';
import { bookedKg, entriesOfJob } from '../../../../app/records/ledger.ts';
import { readLeftOpen } from '../../../../app/records/left-open.ts';
import type { Choice } from '../../../../app/records/recall.ts';
import { benchOf, closeLeft, goOn, lookAt } from '../../../../app/records/resume.ts';
import { numberIn, Store } from '../../../../app/records/store.ts';

const CLI = fileURLToPath(new URL('../../../../app/cli.ts', import.meta.url));
export const NOMINAL_G = 600;

/**
 * When the journal has so many lines more than when the process began, or has come so far in the job's own time; and so long
 * after that on the clock of the wall, so that it may be in the middle of anything.
 */
export type Moment = ({ readonly lines: number } | { readonly jobMs: number }) & { readonly plusMs: number };

export type Kill = {
  readonly seed: number;
  /** Two ways to end a charge: hoses drawn back, and sucked dry by the engine. */
  readonly engine: 'can-run' | 'cannot-run';
  /** Once or twice: the second strikes what was taken up again. */
  readonly moments: readonly Moment[];
  readonly choice: Choice;
};

const scenario = ({ seed, engine }: Kill) => ({
  seed,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: NOMINAL_G, engine },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
});
const TANK_KG = 8;

const CAME_TO = 'SELECT count(*) AS lines, max(at_ms) AS jobMs FROM journal';
const POLL_MS = 2;
const LONGEST_POLL_MS = 120_000;

/** How far a journal has come; nothing while the file is being made. */
function cameTo(file: string): { readonly lines: number; readonly jobMs: number } | undefined {
  try {
    const reader = new DatabaseSync(file, { readOnly: true });
    try {
      const { lines, jobMs } = reader.prepare(CAME_TO).get() as { lines: number; jobMs: number | null };
      return { lines, jobMs: jobMs ?? 0 };
    } finally {
      reader.close();
    }
  } catch {
    return undefined;
  }
}

/** Answers whether it was killed; a process may be over before. */
async function killed(args: readonly string[], file: string, moment: Moment): Promise<boolean> {
  const before = cameTo(file)?.lines ?? 0;
  const child = spawn(process.execPath, [CLI, ...args], { stdio: 'ignore' });
  const ended = once(child, 'exit');
  const over = () => child.exitCode !== null || child.signalCode !== null;
  const come = (): boolean => {
    const at = cameTo(file);
    if (at === undefined || at.lines <= before) return false;
    return 'lines' in moment ? at.lines >= before + moment.lines : at.jobMs >= moment.jobMs;
  };
  for (let waitedMs = 0; waitedMs < LONGEST_POLL_MS && !over() && !come(); waitedMs += POLL_MS)
    await sleep(POLL_MS);
  const timer = setTimeout(() => child.kill('SIGKILL'), moment.plusMs);
  const [status, signal] = (await ended) as [number | null, string | null];
  clearTimeout(timer);
  if (signal === null && status !== 0 && status !== 1)
    throw new Error(`${args[0]} ended with status ${status}`);
  return signal === 'SIGKILL';
}

export type KillRow = Kill & {
  /** How often the process was really killed. */
  readonly kills: number;
  readonly stage?: string;
  readonly chose?: Choice;
  readonly outcome?: string;
  readonly netErrorG?: number;
  readonly vehicleG?: number;
  /** Change of the tank by the ledger less the true change. */
  readonly tankErrorG?: number;
  /** What is said of the entry that closes a job as it stands; k = 2. */
  readonly leftOffUncertaintyG?: number;
  readonly damage: readonly string[];
  readonly breaks: readonly string[];
  /** Entries in the ledger that the job's own account does not have, or the other way about. */
  readonly lostOrDoubled: number;
};

/** As text, so that the two can be compared one by one. */
const keys = (entries: readonly { readonly movement: string; readonly massKg: number }[]): string =>
  entries.map(({ movement, massKg }) => `${movement} ${massKg}`).join('\n');

async function takenUp(store: Store, kill: Kill, kills: number): Promise<KillRow> {
  const left = readLeftOpen(store, undefined);
  const base = { ...kill, kills, damage: store.damage(), breaks: breaks(store) };
  if (left === undefined) return { ...base, lostOrDoubled: 0 };
  const session = benchOf(left, fluidOnce, clockMs);
  const looked = lookAt(left, session);
  const chose = looked.offered.some(({ choice }) => choice === kill.choice) ? kill.choice : 'close';
  const failed = (problem: Error): void => {
    throw problem;
  };
  const parts = { store, calendar: Date.now, left, looked, failed };
  const { facts } =
    chose === 'go-on'
      ? await goOn(parts, session, { observers: [], pacing: PACING })
      : { facts: closeLeft(parts) };
  const truth = session.bench.truth();
  const { line, tank } = left.record;
  const entries = entriesOfJob(store, line.id);
  const leftOff = entries.find(({ movement }) => movement === 'left-off');
  const rows = entries.filter(({ movement }) => !['stock', 'unexplained', 'left-off'].includes(movement));
  const stock = store.one("SELECT mass_kg AS kg FROM ledger WHERE movement = 'stock'");
  const { netChargeKg } = facts.result?.masses ?? {};
  const vehicleG = 1000 * truth.vehicleRefrigerantKg;
  return {
    ...base,
    stage: left.state.stage?.stage ?? left.state.chart.value,
    chose,
    outcome: facts.outcome,
    vehicleG,
    ...(netChargeKg === undefined ? {} : { netErrorG: 1000 * netChargeKg - vehicleG }),
    ...(stock === undefined
      ? {}
      : {
          tankErrorG:
            1000 * (bookedKg(store, tank) - numberIn(stock, 'kg') - (truth.tankRefrigerantKg - TANK_KG)),
        }),
    ...(leftOff === undefined ? {} : { leftOffUncertaintyG: 2000 * leftOff.sdKg }),
    damage: [...base.damage, ...store.damage()],
    breaks: [...base.breaks, ...breaks(store)],
    lostOrDoubled: keys(rows) === keys(facts.result?.ledger ?? []) ? 0 : 1,
  };
}

/** @param folder where files may be made; they are taken away again. */
export async function killedJob(kill: Kill, folder: string): Promise<KillRow> {
  const file = path.join(folder, `${process.pid}-${kill.seed}.db`);
  const given = path.join(folder, `${process.pid}-${kill.seed}.json`);
  writeFileSync(given, JSON.stringify(scenario(kill)));
  try {
    let kills = 0;
    for (const [index, moment] of kill.moments.entries()) {
      const again = ['resume', '--choose', 'go-on', '--records', file, '--json'];
      const args = index === 0 ? ['run', given, '--records', file, '--json'] : again;
      if (await killed(args, file, moment)) kills += 1;
    }
    const store = new Store(file);
    try {
      return await takenUp(store, kill, kills);
    } finally {
      store.close();
    }
  } finally {
    for (const end of ['', '-wal', '-shm']) rmSync(file + end, { force: true });
    rmSync(given, { force: true });
  }
}
