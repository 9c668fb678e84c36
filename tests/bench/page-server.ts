// A panel in a process of its own, with a job under way that answers itself: what it costs, and how punctual its scans are.
// Usage: node page-server.ts SPEED; prints where it is, and for each line on its input what has happened since the last.
import { createInterface } from 'node:readline';
import { clockMs, fluidOnce } from '../../app/bench/whole-jobs.ts';
import { ensurePage } from '../../app/page/build.ts';
import { choicesWith } from '../../app/page/server/choices.ts';
import { domeOf } from '../../app/page/server/dome.ts';
import { readPage } from '../../app/page/server/files.ts';
import { Panel } from '../../app/page/server/panel.ts';
import { serve } from '../../app/page/server/serve.ts';
import { prepare } from '../../app/run/prepare.ts';

export type ServerSeen = {
  /** Processor time over wall-clock time. */
  readonly share: number;
  /** Wall-clock milliseconds between two scans. */
  readonly periodsMs: readonly number[];
};

export type ServerPlace = { readonly port: number; readonly compressedBytes: number };

const say = (what: ServerPlace | ServerSeen): void => void process.stdout.write(`${JSON.stringify(what)}\n`);

/** Scans tell when they come. */
class WatchedPanel extends Panel {
  readonly atMs: number[] = [];

  override beat(): number {
    const before = this.bench.nowMs;
    const fromMs = clockMs();
    const rest = super.beat();
    if (this.bench.nowMs !== before) this.atMs.push(fromMs);
    return rest;
  }
}

const panel = new WatchedPanel({
  choices: choicesWith(undefined),
  seed: undefined,
  prepare: (scenario, source) => prepare(scenario, source, fluidOnce, clockMs),
  domeOf: (refrigerant) => domeOf(fluidOnce(refrigerant)),
  wallClockMs: clockMs,
});
const host = { audience: 'teacher' } as const;
panel.come(host);
for (const message of [
  { type: 'take-control' },
  { type: 'simulated-operator', on: true },
  { type: 'time', running: true, speed: Number(process.argv[2]) },
  { type: 'start' },
] as const) {
  const because = panel.heed(host, message);
  if (because !== undefined) throw new Error(because);
}
panel.leave(host);
const files = readPage(await ensurePage(() => {}));
const served = await serve({ panel, files, address: '127.0.0.1', port: 0, log: () => {} });
const compressedBytes = [...files.values()].reduce((sum, { compressed }) => sum + compressed.length, 0);
say({ port: served.port, compressedBytes });

let from = { wallMs: clockMs(), cpu: process.cpuUsage() };
createInterface({ input: process.stdin })
  .on('line', () => {
    const wallMs = clockMs();
    const { user, system } = process.cpuUsage(from.cpu);
    const times = panel.atMs.splice(0);
    const periodsMs = times.slice(1).map((atMs, index) => atMs - times[index]!);
    say({ share: (user + system) / 1000 / (wallMs - from.wallMs), periodsMs });
    from = { wallMs, cpu: process.cpuUsage() };
  })
  .on('close', () => process.exit());
