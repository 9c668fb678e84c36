// Telemetry through a real broker (mosquitto) to a real client (mosquitto_sub), by MQTT 5.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, onTestFinished, test } from 'vitest';
import { MqttLine } from '../../app/bench/mqtt.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { run } from '../../app/cli/run.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';

const BROKER = '/usr/sbin/mosquitto';
const CLIENT = 'mosquitto_sub';
const isThere = [BROKER, CLIENT].every((program) => spawnSync(program, ['-h']).error === undefined);
if (!isThere) process.stderr.write('skipped: mosquitto is not installed, so there is no broker to tell\n');

const started: ChildProcess[] = [];
afterEach(async () => {
  for (const child of started.splice(0)) await ended(child);
});

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill('SIGKILL');
  await once(child, 'exit');
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

/** Listens when this returns; keeps all that a listener has not taken yet: here it hears a whole job in some seconds. */
async function broker(port: number): Promise<ChildProcess> {
  const directory = mkdtempSync(join(tmpdir(), 'coldbench-broker-'));
  onTestFinished(() => rmSync(directory, { recursive: true }));
  const settings = join(directory, 'broker.conf');
  writeFileSync(settings, `listener ${port} 127.0.0.1\nallow_anonymous true\nmax_queued_messages 0\n`);
  const child = spawn(BROKER, ['-c', settings], { stdio: ['ignore', 'ignore', 'pipe'] });
  started.push(child);
  await new Promise<void>((resolve) => {
    // All of it is read: a broker whose pipe is full stands still.
    createInterface(child.stderr!).on('line', (line) => {
      if (line.includes('running')) resolve();
    });
  });
  return child;
}

type Heard = {
  readonly topic: string;
  readonly contentType: string;
  readonly retained: boolean;
  readonly body: {
    readonly state?: string;
    readonly code?: string;
    readonly stage?: string;
    readonly atMs?: number;
  };
};

/** A client that has subscribed when this returns, and what it hears. */
async function listener(port: number) {
  const format = '%r\t%C\t%t\t%p';
  const args = ['-p', String(port), '-V', 'mqttv5', '-t', 'shop/#', '-d', '-F', format, '-q', '1'];
  // Line by line: left to itself it keeps what it says until a message comes.
  const child = spawn('stdbuf', ['-oL', CLIENT, ...args], { stdio: ['ignore', 'pipe', 'ignore'] });
  started.push(child);
  const heard: Heard[] = [];
  const waiting = new Set<() => void>();
  const lines = createInterface(child.stdout!);
  let subscribed = (): void => {};
  const ready = new Promise<void>((resolve) => {
    subscribed = resolve;
  });
  lines.on('line', (line) => {
    if (line.startsWith('Subscribed')) subscribed();
    const [retained, contentType, topic, body] = line.split('\t');
    if (body === undefined) return;
    heard.push({
      retained: retained === '1',
      contentType: contentType!,
      topic: topic!,
      body: JSON.parse(body),
    });
    for (const look of waiting) look();
  });
  await ready;
  const until = (found: (one: Heard) => boolean): Promise<Heard> =>
    new Promise((resolve) => {
      const look = (): void => {
        const one = heard.find(found);
        if (one === undefined) return;
        waiting.delete(look);
        resolve(one);
      };
      waiting.add(look);
      look();
    });
  return { heard, until };
}

const isState = (state: string) => (one: Heard) => one.topic === 'shop/one/state' && one.body.state === state;
const urlOf = (port: number): string => `mqtt://127.0.0.1:${port}`;
const optionsFor = (port: number): string[] => ['--mqtt', urlOf(port), '--mqtt-topic', 'shop/one'];

/** Long ones: the sockets between have room for some megabytes. */
const readings = {
  topic: 'readings',
  body: { much: 'x'.repeat(4_000) },
  retained: false,
  sure: false,
} as const;

describe.skipIf(!isThere)('a broker', () => {
  test('hands a whole job on to a client, and the last of state and notices to one that comes later', async () => {
    const port = await freePort();
    await broker(port);
    const { heard, until } = await listener(port);
    const terminal = fakeTerminal();
    expect(await dispatch([run], ['run', '--json', ...optionsFor(port)], terminal)).toBe(0);
    await until(isState('ended'));
    expect(terminal.errors()).toBe('');
    const { notices } = JSON.parse(terminal.output()) as { notices: { code: string }[] };
    const of = (topic: string) => heard.filter((one) => one.topic === `shop/one/${topic}`);
    expect(of('notice').map(({ body }) => body.code)).toEqual(notices.map(({ code }) => code));
    expect(of('state').map(({ body }) => body.state)).toEqual(['running', 'ended']);
    expect(of('readings').length).toBeGreaterThan(5_000);
    const times = of('readings').map(({ body }) => Number(body.atMs));
    expect(times.every((time, at) => time === at * 1000)).toBe(true);
    expect(heard.every(({ contentType }) => contentType === 'application/json')).toBe(true);
    const late = await listener(port);
    const last = await late.until(({ topic }) => topic === 'shop/one/notice');
    expect(last).toMatchObject({ retained: true, body: { code: notices.at(-1)!.code } });
    expect((await late.until(isState('ended'))).retained).toBe(true);
  });

  test('that vanishes in the middle leaves the job as it would have been, and that is told once', async () => {
    const port = await freePort();
    const child = await broker(port);
    const plain = fakeTerminal();
    await dispatch([run], ['run', '--json'], plain);
    const terminal = fakeTerminal();
    const { heard, until } = await listener(port);
    const gone = until(({ body }) => body.stage === 'recover').then(() => ended(child));
    expect(await dispatch([run], ['run', '--json', ...optionsFor(port)], terminal)).toBe(0);
    await gone;
    expect(heard.some(isState('ended'))).toBe(false);
    const withoutTimes = (text: string): string => text.replaceAll(/"(wallS|tablesS)": [^,\n]+/g, '');
    expect(withoutTimes(terminal.output())).toBe(withoutTimes(plain.output()));
    expect(terminal.errors()).toMatch(
      /^The MQTT broker at mqtt:\/\/127\.0\.0\.1:\d+ is gone; the job goes on\.\n\d+ messages did not reach the broker\.\n$/,
    );
  });

  test('that stands still for a while misses no notice; of readings what there was no room for is counted', async () => {
    const port = await freePort();
    const child = await broker(port);
    const { heard, until } = await listener(port);
    const told: string[] = [];
    const line = await MqttLine.open(urlOf(port), 'shop/one', (text) => told.push(text));
    child.kill('SIGSTOP');
    for (let second = 0; second < 6_000; second++) {
      line.publish(readings);
      if (second % 60 === 0)
        line.publish({ topic: 'notice', body: { code: `code-${second}` }, retained: true, sure: true });
    }
    line.publish({ topic: 'state', body: { state: 'ended' }, retained: true, sure: true });
    child.kill('SIGCONT');
    await until(isState('ended'));
    await line.close();
    const count = (topic: string) => heard.filter((one) => one.topic === `shop/one/${topic}`).length;
    expect(count('notice')).toBe(100);
    expect(count('readings')).toBeLessThan(5_000);
    expect(told).toEqual([`${6_000 - count('readings')} messages did not reach the broker.`]);
  });

  test('that is behind is waited for by a run that can wait, and not for ever', async () => {
    const port = await freePort();
    const child = await broker(port);
    const line = await MqttLine.open(urlOf(port), 'shop/one', () => {});
    const some = (): void => {
      for (let n = 0; n < 2_000; n++) line.publish(readings);
    };
    child.kill('SIGSTOP');
    some();
    let isWaiting = true;
    const waited = line.settle().then(() => {
      isWaiting = false;
    });
    await new Promise((resolve) => setImmediate(resolve));
    expect(isWaiting).toBe(true);
    await waited;
    // It still stands: it is not waited for again.
    const turns = line.settle().then(() => 'gone on');
    expect(await Promise.race([turns, new Promise((resolve) => setImmediate(resolve, 'waits'))])).toBe(
      'gone on',
    );
    child.kill('SIGCONT');
    await line.close();
  });

  test('that comes back is told the state anew', async () => {
    const port = await freePort();
    const first = await broker(port);
    const told: string[] = [];
    let heardOf = (): void => {};
    const line = await MqttLine.open(urlOf(port), 'shop/one', (text) => {
      told.push(text);
      heardOf();
    });
    const next = (): Promise<void> =>
      new Promise((resolve) => {
        heardOf = resolve;
      });
    line.publish({ topic: 'state', body: { state: 'running' }, retained: true, sure: true });
    const lost = next();
    await ended(first);
    await lost;
    const back = next();
    await broker(port);
    await back;
    const { until } = await listener(port);
    await until(isState('running'));
    await line.close();
    expect(told).toEqual([
      expect.stringMatching(/is gone; the job goes on/),
      expect.stringMatching(/is back/),
    ]);
  });

  test('speaks the will of a process that was killed', async () => {
    const port = await freePort();
    await broker(port);
    const { until } = await listener(port);
    const root = fileURLToPath(new URL('../../', import.meta.url));
    const child = spawn(process.execPath, ['app/coldbench.js', 'run', ...optionsFor(port)], {
      cwd: root,
      stdio: 'ignore',
    });
    started.push(child);
    await until(isState('running'));
    child.kill('SIGKILL');
    await until(isState('offline'));
  });

  test('that accepts and says nothing is given up, and nothing begins', async () => {
    const mute = createServer(() => {}).listen(0, '127.0.0.1');
    await once(mute, 'listening');
    const { port } = mute.address() as AddressInfo;
    const terminal = fakeTerminal();
    expect(await dispatch([run], ['run', ...optionsFor(port)], terminal)).toBe(2);
    expect(terminal.output()).toBe('');
    expect(terminal.errors()).toMatch(/^coldbench: no MQTT 5 broker at [^\n]+\n$/);
    mute.close();
  });
});
