// Who may come in: names the server answers to, pages that may open its socket, and the tokens.
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { hostname, networkInterfaces } from 'node:os';
import type { Audience } from '../shown.ts';

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'];
const TOKEN_BYTES = 24;

export const newToken = (): string => randomBytes(TOKEN_BYTES).toString('base64url');

export const isLoopback = (address: string): boolean => /^(127\.\d+\.\d+\.\d+|::1|localhost)$/.test(address);

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
const same = (one: string, other: string): boolean => timingSafeEqual(digest(one), digest(other));

const bracketed = (address: string): string => (address.includes(':') ? `[${address}]` : address);

/** What a server at this address may be called by. */
function namesOf(address: string): readonly string[] {
  if (isLoopback(address)) return LOOPBACK;
  if (address !== '0.0.0.0' && address !== '::') return [bracketed(address).toLowerCase()];
  const own = Object.values(networkInterfaces()).flatMap((all) => (all ?? []).map((one) => one.address));
  return [...LOOPBACK, hostname().toLowerCase(), ...own.map(bracketed)];
}

type Lock = {
  /** The address that is listened at. */
  readonly address: string;
  /** Without it nobody comes in; none where only this computer can come. */
  readonly token: string | undefined;
  readonly teacherToken: string;
};

export type Verdict =
  | { readonly ok: true }
  | { readonly ok: false; readonly status: number; readonly because: string };

const refused = (status: number, because: string): Verdict => ({ ok: false, status, because });
const LET_IN: Verdict = { ok: true };

/** Another page in the same browser could reach 127.0.0.1 by a name of its own: Host and Origin are what tells. */
export class Admission {
  readonly #lock: Lock;
  #port = 0;

  constructor(lock: Lock) {
    this.#lock = lock;
  }

  /** Once it is known. */
  listensAt(port: number): void {
    this.#port = port;
  }

  get cookieName(): string {
    return `coldbench-${this.#port}`;
  }

  judge(request: IncomingMessage, audience: Audience): Verdict {
    const { host, origin } = request.headers;
    if (host === undefined || !this.#hosts().includes(host.toLowerCase())) return refused(421, 'wrong Host');
    if (origin !== undefined && origin.toLowerCase() !== `http://${host.toLowerCase()}`)
      return refused(403, 'wrong Origin');
    const site = request.headers['sec-fetch-site'];
    if (origin === undefined && site === 'cross-site' && request.headers['sec-fetch-mode'] !== 'navigate')
      return refused(403, 'called from another site');
    return this.#admits(this.#shown(request), audience) ? LET_IN : refused(401, 'token missing or wrong');
  }

  /** A browser says where a socket comes from; whoever does not say it is none, and needs no socket. */
  judgeSocket(request: IncomingMessage, audience: Audience): Verdict {
    return request.headers.origin === undefined
      ? refused(403, 'Origin missing')
      : this.judge(request, audience);
  }

  /** A token handed over in a link is kept as a cookie, and leaves the address bar. */
  knows(token: string): boolean {
    return this.#admits([token], 'class') || this.#admits([token], 'teacher');
  }

  #hosts(): readonly string[] {
    const names = namesOf(this.#lock.address);
    return names.flatMap((name) => (this.#port === 80 ? [name, `${name}:80`] : [`${name}:${this.#port}`]));
  }

  #shown({ headers: { cookie = '' } }: IncomingMessage): readonly string[] {
    return cookie
      .split(';')
      .map((part) => part.trim().split('='))
      .filter(([name]) => name === this.cookieName)
      .map(([, value = '']) => value);
  }

  #admits(tokens: readonly string[], audience: Audience): boolean {
    const { token, teacherToken } = this.#lock;
    const isTeacher = tokens.some((shown) => same(shown, teacherToken));
    if (isTeacher || audience === 'teacher') return isTeacher;
    return token === undefined || tokens.some((shown) => same(shown, token));
  }
}
