// The built page: a handful of files, read once, found by their exact name and by nothing else.
import { readdirSync, readFileSync } from 'node:fs';
import type { IncomingMessage, ServerResponse } from 'node:http';
import path from 'node:path';
import { brotliCompressSync } from 'node:zlib';

const TYPES: { readonly [extension: string]: string } = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
};

/** Nothing from anywhere else, nothing inline, in nobody's frame. */
export const SECURITY_HEADERS = {
  'content-security-policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; " +
    "frame-src 'self'; " +
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
} as const;

type PageFile = {
  readonly body: Buffer;
  readonly compressed: Buffer;
  readonly type: string;
  readonly lasts: boolean;
};
export type PageFiles = ReadonlyMap<string, PageFile>;

/** @param folder what the build has left; every file of it is meant for whoever may come in. */
export function readPage(folder: string): PageFiles {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const full = path.join(entry.parentPath, entry.name);
    const name = path.relative(folder, full).split(path.sep).join('/');
    const body = readFileSync(full);
    const type = TYPES[path.extname(name)] ?? 'application/octet-stream';
    // Their names carry a digest of their content.
    const lasts = name.startsWith('assets/');
    files.set(`/${name}`, { body, compressed: brotliCompressSync(body), type, lasts });
  }
  return files;
}

/** Each of these is the same page: what it shows is told by the address. */
const PAGES = ['/', '/teacher'];

export function serveFile(
  files: PageFiles,
  pathname: string,
  request: IncomingMessage,
  response: ServerResponse,
): void {
  const file = files.get(PAGES.includes(pathname) ? '/index.html' : pathname);
  if (file === undefined) {
    response.writeHead(404, { ...SECURITY_HEADERS, 'content-type': 'text/plain' }).end('not here\n');
    return;
  }
  const squeezed = /\bbr\b/.test(String(request.headers['accept-encoding'] ?? ''));
  response.writeHead(200, {
    ...SECURITY_HEADERS,
    'content-type': file.type,
    'cache-control': file.lasts ? 'max-age=31536000, immutable' : 'no-store',
    vary: 'accept-encoding',
    ...(squeezed ? { 'content-encoding': 'br' } : {}),
  });
  response.end(request.method === 'HEAD' ? undefined : squeezed ? file.compressed : file.body);
}
