// A panel on real sockets for the tests: its own clock, and a page of two files.
import { request } from 'node:http';
import { brotliCompressSync } from 'node:zlib';
import { expect } from 'vitest';
import { WebSocket } from 'ws';
import { clockMs, fluidOnce } from '../../../app/bench/whole-jobs.ts';
import type { Message } from '../../../app/page/messages.ts';
import { choicesWith } from '../../../app/page/server/choices.ts';
import { domeOf } from '../../../app/page/server/dome.ts';
import type { PageFiles } from '../../../app/page/server/files.ts';
import { Panel } from '../../../app/page/server/panel.ts';
import type { RecordsDesk } from '../../../app/page/server/records-desk.ts';
import { type Served, serve } from '../../../app/page/server/serve.ts';
import type { ServerMessage, Snapshot } from '../../../app/page/shown.ts';
import { prepare } from '../../../app/run/prepare.ts';

type PanelParts = ConstructorParameters<typeof Panel>[0];

/** With a clock, and whatever else a test has of its own. */
export const newPanel = (path?: string, own: Partial<PanelParts> = {}): Panel =>
  new Panel({
    choices: choicesWith(path),
    seed: undefined,
    prepare: (scenario, source) => prepare(scenario, source, fluidOnce, clockMs),
    domeOf: (refrigerant) => domeOf(fluidOnce(refrigerant)),
    wallClockMs: clockMs,
    ...own,
  });

export const TEACHER = { audience: 'teacher' } as const;

/** A job that answers itself is under way, at a thousand times its time. */
export function beginJob(panel: Panel): void {
  panel.come(TEACHER);
  for (const message of [
    { type: 'take-control' },
    { type: 'simulated-operator', on: true },
    { type: 'time', running: true, speed: 1000 },
    { type: 'start' },
  ] as const)
    expect(panel.heed(TEACHER, message)).toBeUndefined();
}

const body = Buffer.from('<!doctype html><title>page</title>');
const FILES: PageFiles = new Map([
  ['/index.html', { body, compressed: brotliCompressSync(body), type: 'text/html', lasts: false }],
]);

export type Running = { readonly panel: Panel; readonly served: Served; readonly logged: string[] };

export async function servePanel(
  token?: string,
  panel = newPanel(),
  records?: RecordsDesk,
): Promise<Running> {
  const logged: string[] = [];
  const served = await serve({
    panel,
    files: FILES,
    address: '127.0.0.1',
    port: 0,
    ...(token === undefined ? {} : { token }),
    ...(records === undefined ? {} : { records }),
    log: (line) => logged.push(line),
  });
  return { panel, served, logged };
}

type Answered = {
  readonly status: number;
  readonly headers: NodeJS.Dict<string | string[]>;
  readonly body: string;
};

/** As a raw client asks: nothing is tidied up on the way. */
export function get(
  port: number,
  path: string,
  headers: Record<string, string> = {},
  method = 'GET',
): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers, agent: false }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (part) => (text += part));
      response.on('end', () =>
        resolve({ status: response.statusCode!, headers: response.headers, body: text }),
      );
    });
    asked.on('error', reject).end();
  });
}

/** A page without a browser. */
export class FakePage {
  readonly socket: WebSocket;
  readonly heard: ServerMessage[] = [];
  #wakes: (() => void)[] = [];

  constructor(port: number, { path = '/ws', headers = {}, origin = `http://127.0.0.1:${port}` } = {}) {
    this.socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, { headers, origin });
    this.socket.on('error', () => this.#wake());
    this.socket.on('close', () => this.#wake());
    this.socket.on('message', (data) => {
      this.heard.push(JSON.parse(String(data)));
      if (this.heard.length > 2000) this.heard.splice(0, 1000);
      this.#wake();
    });
  }

  #wake(): void {
    for (const wake of this.#wakes.splice(0)) wake();
  }

  get isClosed(): boolean {
    return this.socket.readyState === WebSocket.CLOSED;
  }

  /** Waits for what happens, not for time. */
  async until<T>(look: () => T | undefined | false): Promise<T> {
    for (;;) {
      const found = look();
      if (found !== undefined && found !== false) return found;
      await new Promise<void>((resolve) => this.#wakes.push(resolve));
    }
  }

  hears<T extends ServerMessage['type']>(type: T): Promise<Extract<ServerMessage, { type: T }>> {
    return this.until(() =>
      this.heard.findLast((one): one is Extract<ServerMessage, { type: T }> => one.type === type),
    );
  }

  /** The next look for which this holds. */
  shows(holds: (snapshot: Snapshot) => boolean): Promise<Snapshot> {
    return this.until(() =>
      this.heard.findLast((one): one is Snapshot => one.type === 'snapshot' && holds(one)),
    );
  }

  async says(message: Message | object): Promise<void> {
    await this.until(() => this.socket.readyState !== WebSocket.CONNECTING);
    this.heard.length = 0;
    this.socket.send(JSON.stringify(message));
  }

  closes(): Promise<true> {
    return this.until(() => this.isClosed && true);
  }
}
