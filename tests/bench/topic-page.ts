// The operator's page: its size, how soon it answers, what it costs, and how punctual scans stay while pages crowd in.
import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { WebSocket } from 'ws';
import { SCAN_MS } from '../../app/run/loop.ts';
import { NO_BROWSER, openBrowser } from '../page/browser.ts';
import type { ServerPlace, ServerSeen } from './page-server.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const OPENINGS = 5;
const SETTLE_MS = 2_000;
const WATCHED_MS = 10_000;
const ALONE_MS = 30_000;
/** More than a thousand scans: of fewer, the p99.9 would be the worst one. */
const CROWDED_MS = 120_000;
const WATCHERS = 20;
const FLOOD_EVERY_MS = 5;

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** A panel in a process of its own. */
class PageServer {
  readonly #child: ChildProcess;
  readonly #lines: AsyncIterator<string>;
  place!: ServerPlace;

  private constructor(speed: number) {
    const module = fileURLToPath(new URL('./page-server.ts', import.meta.url));
    this.#child = spawn(process.execPath, [module, String(speed)], { stdio: ['pipe', 'pipe', 'inherit'] });
    this.#lines = createInterface({ input: this.#child.stdout! })[Symbol.asyncIterator]();
  }

  static async at(speed: number): Promise<PageServer> {
    const server = new PageServer(speed);
    server.place = (await server.#next()) as ServerPlace;
    return server;
  }

  async #next(): Promise<unknown> {
    const { value, done } = await this.#lines.next();
    if (done === true) throw new Error('the server of the page has ended');
    return JSON.parse(value);
  }

  /** What has happened since it was last asked. */
  async seen(): Promise<ServerSeen> {
    this.#child.stdin!.write('\n');
    return (await this.#next()) as ServerSeen;
  }

  async over(ms: number): Promise<ServerSeen> {
    await pause(SETTLE_MS);
    await this.seen();
    await pause(ms);
    return this.seen();
  }

  socket(): WebSocket {
    const { port } = this.place;
    const socket = new WebSocket(`ws://127.0.0.1:${port}/ws`, { origin: `http://127.0.0.1:${port}` });
    return socket.on('error', () => {});
  }

  end(): void {
    this.#child.kill();
  }
}

async function served<T>(speed: number, measure: (server: PageServer) => Promise<T>): Promise<T> {
  const server = await PageServer.at(speed);
  try {
    return await measure(server);
  } finally {
    server.end();
  }
}

/** Milliseconds by which each beat of a bare timer was off, in a process of its own, while something else goes on. */
async function besideMetronome<T>(measure: () => Promise<T>): Promise<{ seen: T; offMs: readonly number[] }> {
  const module = fileURLToPath(new URL('./metronome.ts', import.meta.url));
  const child = spawn(process.execPath, [module], { stdio: ['pipe', 'pipe', 'inherit'] });
  const said = createInterface({ input: child.stdout! })[Symbol.asyncIterator]();
  try {
    const seen = await measure();
    child.stdin!.end();
    const { value, done } = await said.next();
    if (done === true) throw new Error('the metronome has ended');
    return { seen, offMs: JSON.parse(value) as readonly number[] };
  } finally {
    child.kill();
  }
}

async function crowded(server: PageServer): Promise<ServerSeen> {
  const sockets = new Set<WebSocket>(Array.from({ length: WATCHERS }, () => server.socket()));
  let flooding = server.socket();
  const flood = setInterval(() => {
    if (flooding.readyState === WebSocket.OPEN) {
      for (let count = 0; count < 10; count += 1) flooding.send('{"type":"start"}');
    } else if (flooding.readyState !== WebSocket.CONNECTING) flooding = server.socket();
  }, FLOOD_EVERY_MS);
  try {
    return await server.over(CROWDED_MS);
  } finally {
    clearInterval(flood);
    for (const socket of sockets) socket.terminate();
    flooding.terminate();
  }
}

/** Run in the page: when it first knows that it has control, by its own clock from the navigation on. */
const READY = `globalThis.readyMs = new Promise((resolve) => {
  const look = () => document.querySelector('.chip.good') ? resolve(performance.now()) : requestAnimationFrame(look);
  look();
})`;
const frames = (ms: number): string => `new Promise((resolve) => {
  const beganMs = performance.now();
  let beforeMs = beganMs;
  const all = [];
  const look = (nowMs) => {
    all.push(nowMs - beforeMs);
    beforeMs = nowMs;
    if (nowMs - beganMs < ${ms}) requestAnimationFrame(look);
    else resolve(all.slice(1));
  };
  requestAnimationFrame(look);
})`;

async function inBrowser(): Promise<readonly Row[]> {
  if (NO_BROWSER !== undefined) {
    process.stderr.write(`${NO_BROWSER}\n`);
    return [];
  }
  const browser = await openBrowser();
  try {
    const openMs = await served(1, ({ place }) =>
      repeated(OPENINGS, async () => {
        const context = await browser.newContext();
        const page = await context.newPage();
        await page.addInitScript(READY);
        await page.goto(`http://127.0.0.1:${place.port}/`);
        const readyMs = Number(await page.evaluate('globalThis.readyMs'));
        await context.close();
        return readyMs;
      }),
    );
    const framesMs = await served(100, async ({ place }) => {
      const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
      await page.goto(`http://127.0.0.1:${place.port}/`);
      await pause(SETTLE_MS);
      return (await page.evaluate(frames(WATCHED_MS))) as number[];
    });
    return [
      {
        what: 'opened and with control, on localhost',
        value: median(openMs),
        unit: 'ms',
        limit: { atMost: 1000 },
      },
      { what: 'longest frame at 100 times', value: Math.max(...framesMs), unit: 'ms', limit: { atMost: 50 } },
      { what: '  of so many frames in ten seconds', value: framesMs.length, unit: '' },
    ];
  } finally {
    await browser.close();
  }
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(Math.ceil(share * sorted.length), sorted.length) - 1] ?? Number.NaN;
}

const offOf = ({ periodsMs }: ServerSeen): readonly number[] =>
  periodsMs.map((periodMs) => Math.abs(periodMs - SCAN_MS));

async function measure(): Promise<readonly Row[]> {
  const { compressedBytes, watched } = await served(1, async (server) => {
    const socket = server.socket();
    const watched = await server.over(ALONE_MS);
    socket.terminate();
    return { compressedBytes: server.place.compressedBytes, watched };
  });
  const { seen: crowd, offMs: bareMs } = await besideMetronome(() => served(1, crowded));
  const alone = offOf(watched);
  const offMs = offOf(crowd);
  return [
    { what: 'the page, compressed', value: compressedBytes / 1000, unit: 'kB', limit: { atMost: 150 } },
    ...(await inBrowser()),
    {
      what: 'server at ten looks a second',
      value: 100 * watched.share,
      unit: '% of core',
      limit: { atMost: 5 },
    },
    // What the machine itself does to it, with nobody else there.
    { what: '  scan period off its time, p99.9', value: quantile(alone, 0.999), unit: 'ms' },
    { what: '20 pages watch, one floods: server', value: 100 * crowd.share, unit: '% of core' },
    { what: '  scan period off its time, p50', value: quantile(offMs, 0.5), unit: 'ms' },
    {
      what: '  scan period off its time, p99.9',
      value: quantile(offMs, 0.999),
      unit: 'ms',
      limit: { atMost: 5 },
    },
    { what: '  of so many scans', value: offMs.length, unit: '' },
    { what: '  a bare timer beside it off its time, p99.9', value: quantile(bareMs, 0.999), unit: 'ms' },
  ];
}

export const page: Topic = { name: 'page', title: "The operator's page", measure };
