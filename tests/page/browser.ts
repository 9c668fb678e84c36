// A real browser for the tests of the page, where there is one, and the panel as its users start it.
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const found = PLACES.find((place) => existsSync(place));

/** Why nothing can be shown here, or nothing. */
export const NO_BROWSER =
  found === undefined
    ? `no browser at ${PLACES.join(', ')}: the page is not tried in one (apt-get install chromium)`
    : undefined;

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: found!,
    args: ['--no-sandbox', '--disable-gpu', '--force-color-profile=srgb'],
  });

export type RunningPanel = {
  readonly url: string;
  readonly teacherUrl: string;
  readonly stop: () => Promise<void>;
  readonly process: ChildProcess;
};

/** `coldbench panel`, at a port of its own. */
export async function startPanel(args: readonly string[] = [], port = 0): Promise<RunningPanel> {
  const child = spawn(process.execPath, ['app/coldbench.js', 'panel', '--port', String(port), ...args], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = '';
  const [url, teacherUrl] = await new Promise<readonly [string, string]>((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (part) => {
      said += part;
      const [page, teacher] = [/Page +(\S+)/.exec(said)?.[1], /Classroom +(\S+)/.exec(said)?.[1]];
      if (page !== undefined && (teacher !== undefined || args.includes('--board')))
        resolve([page, teacher ?? '']);
    });
    child.on('exit', (status) => reject(new Error(`the panel ended with ${status}: ${said}`)));
  });
  const stop = () =>
    new Promise<void>((resolve) => {
      child.on('exit', () => resolve());
      child.kill('SIGINT');
    });
  return { url, teacherUrl, stop, process: child };
}

/** Nothing on the page has gone wrong, and nothing was let through that its policy forbids. */
export function watchErrors(page: Page): readonly string[] {
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return errors;
}

export const view = (page: Page, name: string) => page.evaluate(`location.hash = '${name}'`);

/** What axe-core finds, in words. It is run in the page by the debugger, which its policy does not bind. */
export async function violations(shown: Page): Promise<readonly string[]> {
  await shown.evaluate(axe.source);
  const found = (await shown.evaluate('axe.run(document)')) as {
    violations: { id: string; nodes: { html: string }[] }[];
  };
  return found.violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' | ')}`,
  );
}

export const overflows = (shown: Page) =>
  shown.evaluate(
    'document.documentElement.scrollWidth - document.documentElement.clientWidth',
  ) as Promise<number>;

export type Emulator = {
  /** What a person at the plant does. */
  readonly type: (line: string) => void;
  readonly said: () => string;
  readonly stop: () => Promise<void>;
};

/** `coldbench emulate`: the machine at the other end of a port. */
export async function startEmulator(scenario: string, link: string): Promise<Emulator> {
  const child = spawn(process.execPath, ['app/coldbench.js', 'emulate', scenario, '--link', link], {
    cwd: ROOT,
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (part) => {
      said += part;
      if (said.includes('The board stands at')) resolve();
    });
    child.on('exit', (status) => reject(new Error(`the emulator ended with ${status}: ${said}`)));
  });
  const stop = () =>
    new Promise<void>((resolve) => {
      child.on('exit', () => resolve());
      child.stdin.end('quit\n');
    });
  return { type: (line) => child.stdin.write(`${line}\n`), said: () => said, stop };
}
