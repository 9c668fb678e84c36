// The page's server: files over HTTP, looks and words over one socket each, and the beat of the bench.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer } from 'ws';
import { InputError } from '../../cli/command.ts';
import { LONGEST_MESSAGE_BYTES, type Message, messageSchema } from '../messages.ts';
import type { Audience } from '../shown.ts';
import { Admission, newToken } from './admission.ts';
import { Client } from './client.ts';
import { type PageFiles, SECURITY_HEADERS, serveFile } from './files.ts';
import type { RecordsDesk } from './records-desk.ts';
import { reportIn, serveReport } from './reports.ts';
import type { ServedPanel } from './served-panel.ts';

const SHOWN_EVERY_MS = 100;
const PING_EVERY_MS = 1_000;
const MOST_CLIENTS = 40;
/** New sockets in a second, from everybody together. */
const NEW_PER_S = 20;
/** RFC 6455, section 7.4.1. */
const UNREADABLE = 1007;
/** So many messages that are none, and it is no page of ours. */
const MOST_UNREADABLE = 10;

export type ServeOptions = {
  readonly panel: ServedPanel;
  readonly files: PageFiles;
  readonly address: string;
  readonly port: number;
  /** Absent where only this computer can come. */
  readonly token?: string;
  readonly log: (line: string) => void;
  /** Absent where nothing is kept. */
  readonly records?: RecordsDesk;
};

export type Served = {
  readonly port: number;
  readonly teacherToken: string;
  readonly close: () => Promise<void>;
};

type Consulted = Extract<Message, { type: 'look-up' | 'upkeep-done' }>;

class PageServer {
  readonly #options: ServeOptions;
  readonly #admission: Admission;
  readonly #clients = new Set<Client>();
  readonly #sockets = new WebSocketServer({
    noServer: true,
    maxPayload: LONGEST_MESSAGE_BYTES,
    perMessageDeflate: false,
    clientTracking: false,
    // Between two messages of a flood the beat gets its turn.
    allowSynchronousEvents: false,
  });
  readonly #unreadable = new WeakMap<Client, number>();
  #timer: NodeJS.Timeout | undefined;
  #shownAtMs = 0;
  #welcomedEpoch = -1;
  #pingedAtMs = 0;
  #newcomers = { sinceMs: 0, count: 0 };
  readonly teacherToken = newToken();
  readonly http: Server;

  constructor(options: ServeOptions) {
    this.#options = options;
    const { address, token } = options;
    this.#admission = new Admission({ address, token, teacherToken: this.teacherToken });
    this.http = createServer({ maxHeaderSize: 8192 }, (request, response) => {
      const url = urlOf(request);
      const shown = url?.searchParams.get('token');
      if (shown !== undefined && shown !== null && this.#admission.knows(shown)) {
        const cookie = `${this.#admission.cookieName}=${shown}; HttpOnly; SameSite=Strict; Path=/`;
        response.writeHead(303, { ...SECURITY_HEADERS, location: url!.pathname, 'set-cookie': cookie }).end();
        return;
      }
      const verdict = this.#admission.judge(request, url?.pathname === '/teacher' ? 'teacher' : 'class');
      if (!verdict.ok || url === undefined) {
        const { status, because } = verdict.ok ? { status: 400, because: 'no address' } : verdict;
        this.#refuse(because);
        response.writeHead(status, { ...SECURITY_HEADERS, 'content-type': 'text/plain' }).end(`${because}\n`);
      } else if (request.method !== 'GET' && request.method !== 'HEAD') {
        response.writeHead(405, { ...SECURITY_HEADERS, allow: 'GET, HEAD' }).end();
      } else this.#answer(url, request, response);
    });
    this.http.on('upgrade', (request, socket, head) => this.#upgrade(request, socket, head));
    this.http.requestTimeout = 10_000;
    this.http.headersTimeout = 5_000;
    this.http.maxConnections = 4 * MOST_CLIENTS;
  }

  #answer(url: URL, request: IncomingMessage, response: ServerResponse): void {
    const { files, records } = this.#options;
    const job = reportIn(url.pathname);
    if (job === undefined || records === undefined) serveFile(files, url.pathname, request, response);
    else {
      const units = url.searchParams.get('units') === 'us' ? 'us' : 'si';
      void serveReport(records, job, units, request, response);
    }
  }

  begin(port: number): void {
    this.#admission.listensAt(port);
    this.#beat();
  }

  end(): void {
    clearTimeout(this.#timer);
    for (const client of this.#clients) client.socket.terminate();
    this.http.closeAllConnections();
  }

  #refuse(because: string): void {
    this.#options.log(`refused: ${because}`);
  }

  #upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): void {
    socket.on('error', () => socket.destroy());
    const url = urlOf(request);
    const audience: Audience = url?.searchParams.get('as') === 'teacher' ? 'teacher' : 'class';
    const verdict = this.#admission.judgeSocket(request, audience);
    const problem = !verdict.ok
      ? verdict
      : url?.pathname !== '/ws'
        ? { status: 404, because: 'no socket there' }
        : this.#isCrowded()
          ? { status: 503, because: 'too many pages' }
          : undefined;
    if (problem !== undefined) {
      this.#refuse(problem.because);
      socket.end(`HTTP/1.1 ${problem.status} Refused\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`);
      return;
    }
    this.#sockets.handleUpgrade(request, socket, head, (opened) => {
      this.#welcome(new Client(opened, audience, performance.now()));
    });
  }

  #isCrowded(): boolean {
    const nowMs = performance.now();
    if (nowMs - this.#newcomers.sinceMs > 1000) this.#newcomers = { sinceMs: nowMs, count: 0 };
    this.#newcomers.count += 1;
    return this.#clients.size >= MOST_CLIENTS || this.#newcomers.count > NEW_PER_S;
  }

  #welcome(client: Client): void {
    const { panel } = this.#options;
    const { socket } = client;
    this.#clients.add(client);
    panel.come(client);
    // What is too long, or no WebSocket at all, ends in an error and then in a close.
    socket.on('error', (error) => this.#refuse(`a socket broke: ${error.message}`));
    socket.on('pong', () => client.heard(performance.now()));
    socket.on('close', () => this.#farewell(client));
    socket.on('message', (data, isBinary) => this.#hear(client, isBinary ? undefined : String(data)));
    client.tell(panel.welcome(client.audience));
    client.tell({ type: 'control', yours: false });
    for (const look of panel.looks(client.audience)) client.tell(look);
    const { trend, notices } = panel.growing();
    client.catchUp(trend, notices);
  }

  #farewell(client: Client): void {
    this.#clients.delete(client);
    this.#options.panel.leave(client);
  }

  #hear(client: Client, text: string | undefined): void {
    const nowMs = performance.now();
    const { socket } = client;
    if (socket.readyState !== socket.OPEN) return;
    client.heard(nowMs);
    if (!client.mayGoOn(nowMs)) {
      this.#refuse('a page says too much');
      socket.terminate();
      return;
    }
    const message = readMessage(text);
    if (message === undefined) {
      this.#refuse('a message that is none');
      const count = (this.#unreadable.get(client) ?? 0) + 1;
      this.#unreadable.set(client, count);
      if (count > MOST_UNREADABLE) socket.close(UNREADABLE, 'messages that are none');
      else client.tell({ type: 'refused', what: 'message', because: 'this is no message that is known' });
      return;
    }
    const { panel, records } = this.#options;
    if (records !== undefined && (message.type === 'look-up' || message.type === 'upkeep-done')) {
      void this.#consult(records, client, message);
      return;
    }
    const because = panel.heed(client, message);
    if (because !== undefined) client.tell({ type: 'refused', what: message.type, because });
    if (message.type === 'take-control' || message.type === 'release-control') this.#tellControl();
    if (message.type === 'reveal') this.#tellWelcome();
    this.#shownAtMs = Math.min(this.#shownAtMs, nowMs - SHOWN_EVERY_MS / 2);
  }

  async #consult(records: RecordsDesk, client: Client, message: Consulted): Promise<void> {
    const { panel } = this.#options;
    let because = panel.forbids(client, message);
    try {
      if (because === undefined && message.type === 'look-up')
        client.tell(await records.lookUp(message.words));
      if (because === undefined && message.type === 'upkeep-done') {
        await records.note(message);
        panel.recordsChanged();
      }
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      because = error.message;
    }
    if (because !== undefined) client.tell({ type: 'refused', what: message.type, because });
  }

  #tellControl(): void {
    for (const client of this.#clients)
      client.tell({ type: 'control', yours: this.#options.panel.isHolder(client) });
  }

  #tellWelcome(): void {
    for (const client of this.#clients) client.tell(this.#options.panel.welcome(client.audience));
  }

  readonly #beat = (): void => {
    const restMs = this.#options.panel.beat();
    const nowMs = performance.now();
    if (nowMs - this.#pingedAtMs >= PING_EVERY_MS) this.#ping(nowMs);
    if (this.#clients.size > 0 && nowMs - this.#shownAtMs >= SHOWN_EVERY_MS - 1) this.#show(nowMs);
    this.#timer = setTimeout(this.#beat, Math.max(restMs - (performance.now() - nowMs), 1));
  };

  #ping(nowMs: number): void {
    this.#pingedAtMs = nowMs;
    for (const client of this.#clients) {
      if (client.isGone(nowMs)) client.socket.terminate();
      else client.socket.ping();
    }
  }

  #show(nowMs: number): void {
    this.#shownAtMs = nowMs;
    const { panel } = this.#options;
    const { trend, notices } = panel.growing();
    // Another job, or a rig that has been commissioned, may have another refrigerant.
    if (notices.epoch !== this.#welcomedEpoch) this.#tellWelcome();
    this.#welcomedEpoch = notices.epoch;
    const texts = new Map<Audience, readonly string[]>();
    for (const client of this.#clients) {
      const { audience } = client;
      const looks = texts.get(audience) ?? panel.looks(audience).map((look) => JSON.stringify(look));
      texts.set(audience, looks);
      for (const look of looks) client.show(look);
      client.catchUp(trend, notices);
    }
  }
}

function urlOf({ url = '/' }: IncomingMessage): URL | undefined {
  return URL.canParse(url, 'http://panel') ? new URL(url, 'http://panel') : undefined;
}

export function readMessage(text: string | undefined) {
  if (text === undefined) return undefined;
  try {
    return messageSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** @throws Error when nothing can be listened at there. */
export async function serve(options: ServeOptions): Promise<Served> {
  const server = new PageServer(options);
  const { http } = server;
  await new Promise<void>((resolve, reject) => {
    http.once('error', reject);
    http.listen(options.port, options.address, resolve);
  });
  const address = http.address();
  const port = typeof address === 'object' && address !== null ? address.port : options.port;
  server.begin(port);
  return {
    port,
    teacherToken: server.teacherToken,
    close: () =>
      new Promise((resolve) => {
        http.close(() => resolve());
        server.end();
      }),
  };
}
