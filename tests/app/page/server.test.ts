// The page's server on real sockets: who is let in, what is refused, and that nothing of it reaches the machine.
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import { FakePage, get, type Running, servePanel } from './panel.ts';

let open: Running;
let locked: Running;
const TOKEN = 'a-token-for-the-class';
beforeAll(async () => {
  open = await servePanel();
  locked = await servePanel(TOKEN);
});
afterAll(async () => {
  await open.served.close();
  await locked.served.close();
});
const cookieOf = ({ served }: Running, token: string) => ({ cookie: `coldbench-${served.port}=${token}` });

describe('over HTTP', () => {
  test('this computer gets the page, with a policy that lets nothing in from elsewhere', async () => {
    const { status, headers, body } = await get(open.served.port, '/');
    expect(status).toBe(200);
    expect(body).toContain('<title>page</title>');
    expect(headers['content-security-policy']).toMatch(/default-src 'none'.*frame-ancestors 'none'/);
    expect(headers['content-security-policy']).not.toMatch(/unsafe|\*/);
    expect(headers['x-content-type-options']).toBe('nosniff');
  });

  test.each(['evil.example', 'evil.example:80', '127.0.0.1.evil.example', '127.0.0.1:1'])(
    'a name that is not its own is refused: %s',
    async (host) => {
      expect((await get(open.served.port, '/', { host })).status).toBeGreaterThanOrEqual(400);
      expect((await get(open.served.port, '/', { host })).body).not.toContain('<title>');
    },
  );

  test.each(['http://evil.example', 'null', 'https://127.0.0.1'])(
    'a page from elsewhere is refused: %s',
    async (origin) => {
      expect((await get(open.served.port, '/', { origin })).status).toBe(403);
    },
  );

  test.each([
    '/../../package.json',
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/package.json',
    '//etc/passwd',
    '/assets/../../../server/serve.ts',
    '/..\\..\\package.json',
    '/index.html%00.js',
  ])('nothing outside the built page is found: %s', async (path) => {
    const { status, body } = await get(open.served.port, path);
    expect(status).toBeGreaterThanOrEqual(400);
    expect(body).not.toMatch(/coldbench|root:|import/);
  });

  test('nothing but reading is allowed', async () => {
    expect((await get(open.served.port, '/', {}, 'POST')).status).toBe(405);
    expect((await get(open.served.port, '/', {}, 'DELETE')).status).toBe(405);
  });

  test('at another address nobody comes in without the token, and the token leaves the address bar', async () => {
    const { port } = locked.served;
    expect((await get(port, '/')).status).toBe(401);
    expect((await get(port, '/?token=wrong')).status).toBe(401);
    expect((await get(port, '/', cookieOf(locked, 'wrong'))).status).toBe(401);
    const { status, headers } = await get(port, `/?token=${TOKEN}`);
    const { location } = headers;
    expect([status, location]).toEqual([303, '/']);
    const [cookie] = headers['set-cookie'] as string[];
    expect(cookie).toMatch(/HttpOnly; SameSite=Strict/);
    expect((await get(port, '/', { cookie: cookie!.split(';')[0]! })).status).toBe(200);
  });

  test("the teacher's view is behind a token of its own", async () => {
    expect((await get(open.served.port, '/teacher')).status).toBe(401);
    expect((await get(locked.served.port, '/teacher', cookieOf(locked, TOKEN))).status).toBe(401);
    const teacher = cookieOf(open, open.served.teacherToken);
    expect((await get(open.served.port, '/teacher', teacher)).status).toBe(200);
  });
});

describe('over the socket', () => {
  test('a page of this server is welcomed and shown the machine', async () => {
    const page = new FakePage(open.served.port);
    expect((await page.hears('welcome')).audience).toBe('class');
    const { phase, progress } = await page.hears('snapshot');
    expect(phase).toBe('ready');
    expect(progress.figures.tankPa).toBeGreaterThan(1e5);
    page.socket.terminate();
  });

  test.each([
    ['of another origin', () => new FakePage(open.served.port, { origin: 'http://evil.example' })],
    ['with another host', () => new FakePage(open.served.port, { headers: { host: 'evil.example' } })],
    ['at another path', () => new FakePage(open.served.port, { path: '/other' })],
    ['without the token', () => new FakePage(locked.served.port)],
    ['with a wrong token', () => new FakePage(locked.served.port, { headers: cookieOf(locked, 'wrong') })],
    [
      "as the teacher, without the teacher's token",
      () => new FakePage(open.served.port, { path: '/ws?as=teacher' }),
    ],
  ])('a page %s is refused and logged', async (_, come) => {
    const page = come();
    await page.closes();
    expect(page.heard).toEqual([]);
    expect([...open.logged, ...locked.logged].at(-1)).toMatch(/^refused: /);
  });

  test('whoever does not say where it comes from is refused', async () => {
    const socket = new WebSocket(`ws://127.0.0.1:${open.served.port}/ws`);
    const status = await new Promise((resolve) =>
      socket.on('unexpected-response', (_, response) => resolve(response.statusCode)),
    );
    expect(status).toBe(403);
  });

  test('with the token a page is welcomed, NOT refused', async () => {
    const page = new FakePage(locked.served.port, { headers: cookieOf(locked, TOKEN) });
    expect((await page.hears('welcome')).audience).toBe('class');
    page.socket.terminate();
  });

  test('a message longer than any is, or a binary one, ends the connection', async () => {
    const page = new FakePage(open.served.port);
    await page.hears('welcome');
    page.socket.send('x'.repeat(5000));
    await page.closes();
    const other = new FakePage(open.served.port);
    await other.hears('welcome');
    other.socket.send(Buffer.alloc(100));
    expect((await other.hears('refused')).because).toMatch(/no message/);
    other.socket.terminate();
  });

  test('whoever says too much is put out, and a page that watches goes on', async () => {
    const watching = new FakePage(open.served.port);
    const flooding = new FakePage(open.served.port);
    await flooding.hears('welcome');
    for (let count = 0; count < 500 && flooding.socket.readyState === WebSocket.OPEN; count += 1)
      flooding.socket.send('{"type":"take-control"}');
    await flooding.closes();
    expect(open.logged.join('\n')).toContain('too much');
    watching.heard.length = 0;
    expect((await watching.hears('snapshot')).type).toBe('snapshot');
    watching.socket.terminate();
  });
});

describe('a thousand messages that are none', () => {
  const MESSAGES = 1000;
  const words = [
    'type',
    'say',
    'wish',
    'answer',
    'time',
    'choose',
    'ticket',
    'output',
    'on',
    '__proto__',
    'what',
  ];
  const almost = fc.oneof(
    fc.json(),
    fc.string(),
    fc.dictionary(fc.constantFrom(...words), fc.anything({ maxDepth: 2 })).map((made) => {
      try {
        return JSON.stringify(made);
      } catch {
        return '{';
      }
    }),
    fc
      .record({
        type: fc.constantFrom('wish', 'say', 'fault', 'time', 'answer'),
        on: fc.anything({ maxDepth: 1 }),
      })
      .map((made) => {
        try {
          return JSON.stringify(made);
        } catch {
          return '{"type":';
        }
      }),
  );

  test('are refused, and the machine is as it was', async () => {
    const { panel } = open;
    const before = JSON.stringify(panel.bench.state.handJournal);
    const texts = fc.sample(almost, { numRuns: MESSAGES, seed: 1 });
    const { readMessage } = await import('../../../app/page/server/serve.ts');
    const page = { audience: 'class' } as const;
    let understood = 0;
    for (const text of texts) {
      const message = readMessage(text);
      if (message === undefined) continue;
      understood += 1;
      panel.heed(page, message);
    }
    expect(understood).toBeLessThan(MESSAGES / 100);
    expect(JSON.stringify(panel.bench.state.handJournal)).toBe(before);
    expect(panel.bench.phase).toBe('ready');
  });

  test('and over a socket each page is put out after a few of them', async () => {
    const [first] = fc.sample(almost, { numRuns: 1, seed: 2 });
    const page = new FakePage(open.served.port);
    await page.hears('welcome');
    for (let count = 0; count < 30 && !page.isClosed; count += 1) page.socket.send(first ?? '{');
    await page.closes();
    expect(open.panel.bench.phase).toBe('ready');
  });
});
