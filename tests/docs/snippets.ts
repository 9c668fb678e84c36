// The commands that the pages show, as somebody would type them, and a shell to type them into.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Commands that belong together: they run in one folder, in their order. */
export type Block = { readonly page: string; readonly commands: readonly string[]; readonly apart: boolean };

const uncommented = (line: string): string => line.replace(/(^|\s)#.*$/, '').trim();

/** Lines that end in a backslash go on in the next. */
const logicalLines = (text: string): readonly string[] => text.replace(/\\\n\s*/g, '').split('\n');

const inShell = (text: string): readonly string[] =>
  logicalLines(text)
    .map(uncommented)
    .filter((line) => line !== '');

/** What a scheduler is told to run: one line, or lines that are folded into one. */
function inYaml(text: string): readonly string[] {
  const folded = text.replace(/>-\n\s+(.*)\n\s+(--.*)/g, '- run: $1 $2');
  return [...folded.matchAll(/- (?:- )?run: (npx coldbench .*)$/gm)].map(([, command]) =>
    uncommented(command!),
  );
}

/** Every block of a page: fences of shell and YAML, and indented commands. */
export function blocksOf(page: string): readonly Block[] {
  const text = readFileSync(path.join(ROOT, page), 'utf8');
  const fences = [...text.matchAll(/^ *```(sh|yaml)\n(.*?)^ *```/gms)].map(([, language, body]) => ({
    page,
    commands: language === 'sh' ? inShell(body!) : inYaml(body!),
    apart: language === 'yaml' || body!.startsWith('#!'),
  }));
  const indented = [...text.matchAll(/(?:^ {4}(?:npx |coldbench |sqlite3 ).*\n)+/gm)].map(([body]) => ({
    page,
    commands: inShell(body),
    apart: false,
  }));
  return [...fences, ...indented].filter(({ commands }) => commands.length > 0);
}

export const pages = (): readonly string[] => [
  'README.md',
  'DEVELOPERS.md',
  ...readdirSync(path.join(ROOT, 'docs'))
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`),
];

/** A folder as a reader's: `npx` finds this checkout, and the pages' other files are there. */
export function readersFolder(folder: string): void {
  const bin = path.join(folder, 'bin');
  mkdirSync(bin, { recursive: true });
  const launcher = path.join(ROOT, 'app/coldbench.js');
  const shims = { npx: 'exec "$@"', coldbench: `exec '${process.execPath}' '${launcher}' "$@"` };
  for (const [name, body] of Object.entries(shims)) {
    writeFileSync(path.join(bin, name), `#!/bin/sh\n${body}\n`);
    chmodSync(path.join(bin, name), 0o755);
  }
  mkdirSync(path.join(folder, 'docs'));
  cpSync(path.join(ROOT, 'docs/freeze-up.hand'), path.join(folder, 'docs/freeze-up.hand'));
}

export type Typed = { readonly status: number | null; readonly output: string; readonly saidAll: boolean };

const { PATH = '' } = process.env;
/** Where `npx` finds this checkout. */
export const pathFrom = (folder: string): string => `${path.join(folder, 'bin')}:${PATH}`;

const started = new Set<ChildProcess>();
/** Longer than a tank is weighed at a rig, and than a job puts a machine away. */
const LONGEST_MS = 180_000;

/** What somebody does once a command has said something: writes a line, or presses Ctrl-C. */
export type Answer = { readonly said: RegExp; readonly does: string | NodeJS.Signals };

const isSignal = (deed: string): deed is NodeJS.Signals => deed.startsWith('SIG');

/**
 * Types a command.
 * @param answers one after the other; with none it ends by itself, and nothing can be read from its input.
 */
export async function type(
  command: string,
  folder: string,
  env: NodeJS.ProcessEnv,
  answers: readonly Answer[] = [],
): Promise<Typed> {
  const child = spawn('sh', ['-c', command], {
    cwd: folder,
    detached: true,
    stdio: [answers.length === 0 ? 'ignore' : 'pipe', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  started.add(child);
  let output = '';
  let answered = 0;
  const heard = (text: Buffer): void => {
    output += text.toString();
    const answer = answers[answered];
    if (answer === undefined || !answer.said.test(output)) return;
    answered += 1;
    if (isSignal(answer.does)) signal(child, answer.does);
    else child.stdin?.write(`${answer.does}\n`);
  };
  child.stdout!.on('data', heard);
  child.stderr!.on('data', heard);
  const late = setTimeout(() => signal(child, 'SIGKILL'), LONGEST_MS);
  const [status] = (await once(child, 'close')) as [number | null];
  clearTimeout(late);
  started.delete(child);
  return { status, output, saidAll: answered === answers.length };
}

/** To the whole group, as a terminal does. */
function signal(child: ChildProcess, name: NodeJS.Signals): void {
  try {
    process.kill(-child.pid!, name);
  } catch {
    // It has ended meanwhile.
  }
}

/** Something that runs beside the commands; answers once it has said that it stands. */
export async function standing(command: string, folder: string, ready: RegExp): Promise<ChildProcess> {
  const child = spawn('sh', ['-c', command], {
    cwd: folder,
    detached: true,
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  started.add(child);
  let told = '';
  await new Promise<void>((resolve, reject) => {
    const heard = (text: Buffer): void => {
      told += text.toString();
      if (ready.test(told)) resolve();
    };
    child.stdout!.on('data', heard);
    child.stderr!.on('data', heard);
    child.on('exit', () => reject(new Error(`${command}: ${told}`)));
  });
  return child;
}

export function endAll(): void {
  for (const child of started) signal(child, 'SIGKILL');
  started.clear();
}

export const there = (program: string): boolean =>
  PATH.split(':').some((folder) => existsSync(path.join(folder, program)));
