// One page at the other end of a socket: what it has been sent, how much it says, whether it is still there.
import type { WebSocket } from 'ws';
import type { Notice } from '../../../controller/notice.ts';
import type { Audience, ServerMessage, TrendRow } from '../shown.ts';
import type { Grown } from './served-panel.ts';

/** More that waits to be sent is a page that does not keep up: it is sent the next look instead. */
const MOST_WAITING_BYTES = 128 * 1024;
/** So long with a full buffer, or without an answer to a ping, and nobody is there any more. */
const GONE_MS = 4_000;
const ROWS_AT_ONCE = 300;
const NOTICES_AT_ONCE = 50;
/** A person types and presses less often; what a held key repeats stays below. */
const MESSAGES_PER_S = 20;
const MESSAGES_AT_ONCE = 40;

export class Client {
  readonly socket: WebSocket;
  readonly audience: Audience;
  #heardAtMs: number;
  #fullSinceMs: number | undefined;
  #tokens = MESSAGES_AT_ONCE;
  #countedAtMs: number;
  #trend = { epoch: -1, sent: 0 };
  #notices = { epoch: -1, sent: 0 };

  constructor(socket: WebSocket, audience: Audience, nowMs: number) {
    this.socket = socket;
    this.audience = audience;
    this.#heardAtMs = nowMs;
    this.#countedAtMs = nowMs;
  }

  heard(nowMs: number): void {
    this.#heardAtMs = nowMs;
  }

  isGone(nowMs: number): boolean {
    if (!this.#isFull) this.#fullSinceMs = undefined;
    else this.#fullSinceMs ??= nowMs;
    const fullMs = this.#fullSinceMs === undefined ? 0 : nowMs - this.#fullSinceMs;
    return nowMs - this.#heardAtMs > GONE_MS || fullMs > GONE_MS;
  }

  /** One message has come in. @returns false when there were too many. */
  mayGoOn(nowMs: number): boolean {
    const refilled = ((nowMs - this.#countedAtMs) / 1000) * MESSAGES_PER_S;
    this.#tokens = Math.min(this.#tokens + refilled, MESSAGES_AT_ONCE) - 1;
    this.#countedAtMs = nowMs;
    return this.#tokens >= 0;
  }

  get #isFull(): boolean {
    return this.socket.bufferedAmount > MOST_WAITING_BYTES;
  }

  tell(message: ServerMessage): void {
    if (!this.#isFull) this.socket.send(JSON.stringify(message));
  }

  /** @param text the same for everybody who sees the same. */
  show(text: string): void {
    if (!this.#isFull) this.socket.send(text);
  }

  /** What it has not been sent of two lists that grow. */
  catchUp(trend: Grown<TrendRow>, notices: Grown<Notice>): void {
    const rows = this.#next(this.#trend, trend, ROWS_AT_ONCE);
    if (rows !== undefined)
      this.tell({ type: 'trend', epoch: trend.epoch, from: rows.from, rows: rows.items });
    const told = this.#next(this.#notices, notices, NOTICES_AT_ONCE);
    if (told !== undefined)
      this.tell({ type: 'notices', epoch: notices.epoch, from: told.from, notices: told.items });
  }

  #next<T>(place: { epoch: number; sent: number }, { epoch, list }: Grown<T>, most: number) {
    if (this.#isFull) return undefined;
    const anew = place.epoch !== epoch;
    if (anew) place.sent = 0;
    place.epoch = epoch;
    if (place.sent >= list.length && !anew) return undefined;
    const from = place.sent;
    const items = list.slice(from, from + most);
    place.sent += items.length;
    return { from, items };
  }
}
