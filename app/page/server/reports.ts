// The record of a job as a page of its own, shown in a frame of ours or in a tab: no script, nothing from elsewhere.
import { createHash } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { InputError } from '../../cli/command.ts';
import { SECURITY_HEADERS } from './files.ts';
import type { RecordsDesk } from './records-desk.ts';

const PATH = /^\/report\/([1-9]\d{0,8})$/;

/** The number of the job whose report this address is. */
export function reportIn(pathname: string): number | undefined {
  const [, digits] = PATH.exec(pathname) ?? [];
  return digits === undefined ? undefined : Number(digits);
}

const PLAIN = { ...SECURITY_HEADERS, 'content-type': 'text/plain; charset=utf-8' } as const;

/** Its own style is the only one that it may have. */
function policyOf(page: string): string {
  const [, style = ''] = /<style>([^<]*)<\/style>/.exec(page) ?? [];
  const digest = createHash('sha256').update(style).digest('base64');
  return `default-src 'none'; style-src 'sha256-${digest}'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'`;
}

export async function serveReport(
  records: RecordsDesk,
  job: number,
  units: 'si' | 'us',
  { method }: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  try {
    const page = await records.report(job, units);
    if (page === undefined) {
      response.writeHead(404, PLAIN).end('there is no such job\n');
      return;
    }
    response.writeHead(200, {
      ...SECURITY_HEADERS,
      'content-security-policy': policyOf(page),
      'content-type': 'text/html; charset=utf-8',
      'cache-control': 'no-store',
    });
    response.end(method === 'HEAD' ? undefined : page);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    response.writeHead(503, PLAIN).end(`${error.message}\n`);
  }
}
