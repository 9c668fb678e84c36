// The published package: packed, unpacked into an empty folder, and every example of docs/library.md run from there.
import { execFileSync, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const GUIDE = readFileSync(path.join(ROOT, 'docs/library.md'), 'utf8');
const EXAMPLES = [...GUIDE.matchAll(/^```js (\S+)\n(.*?)^```$/gms)].map(([, name, code]) => ({ name, code }));

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-package-'));
const modules = path.join(folder, 'node_modules');
const installed = path.join(modules, 'coldbench');

/** What the package depends on comes from this checkout: nothing is fetched. */
function linkDependencies(): void {
  const { dependencies, optionalDependencies = {} } = JSON.parse(
    readFileSync(path.join(installed, 'package.json'), 'utf8'),
  );
  for (const name of Object.keys({ ...dependencies, ...optionalDependencies })) {
    const from = path.join(ROOT, 'node_modules', name);
    if (!existsSync(from)) continue;
    mkdirSync(path.dirname(path.join(modules, name)), { recursive: true });
    symlinkSync(from, path.join(modules, name));
  }
}

beforeAll(() => {
  const packed = execFileSync('npm', ['pack', '--silent', '--pack-destination', folder], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const archive = packed.trim().split('\n').at(-1)!;
  mkdirSync(installed, { recursive: true });
  execFileSync('tar', ['xzf', path.join(folder, archive), '--strip-components=1', '-C', installed]);
  linkDependencies();
}, 300_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(path.join(ROOT, 'dist'), { recursive: true, force: true });
}, 60_000);

function run(...args: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8' });
  return { status, stdout, stderr };
}

const example = (name: string): string => {
  const found = EXAMPLES.find((one) => one.name === name);
  if (found?.code === undefined) throw new Error(`no example ${name}`);
  writeFileSync(path.join(folder, name), found.code);
  const { status, stdout, stderr } = run(name);
  expect({ name, status, stderr }).toEqual({ name, status: 0, stderr: '' });
  return stdout;
};

/** The number that a line of what an example printed ends with. */
const figure = (printed: string, line: string): number =>
  Number(new RegExp(`^${line}.* (-?[\\d.]+)$`, 'm').exec(printed)?.[1]);

describe('the examples of docs/library.md', () => {
  test('all are named here', () => {
    expect(EXAMPLES.map(({ name }) => name)).toEqual([
      'job.mjs',
      'controller.mjs',
      'wishes.mjs',
      'rig.mjs',
      'fluids.mjs',
    ]);
  });

  test('a job ends with the right charge', () => {
    const printed = example('job.mjs');
    expect(printed).toMatch(/^completed after \d{5} scans$/m);
    expect(Math.abs(figure(printed, 'error of the charge'))).toBeLessThan(15);
    expect(Math.abs(figure(printed, 'simulator makes or loses'))).toBeLessThan(0.001);
  });

  test('a controller of one’s own gets most of the charge out', () => {
    const printed = example('controller.mjs');
    expect(figure(printed, 'left in the vehicle')).toBeLessThan(300);
    expect(figure(printed, 'vented')).toBe(0);
  });

  test('an interlock refuses, with its reason, to open the pump to pressure', () => {
    const printed = example('wishes.mjs');
    expect(printed).toMatch(/^IL-\d\d: /m);
    expect(printed).toContain('pump path open: false');
  });

  test('a rig of one’s own: a scale that weighs 2 % too much gives that much too little', () => {
    const printed = example('rig.mjs');
    const told = figure(printed, 'completed by its own account');
    const truth = figure(printed, 'in truth');
    expect(Math.abs(told - 600)).toBeLessThan(8);
    expect(Math.abs(told / truth - 1.02)).toBeLessThan(0.008);
  });

  test('every fluid has its curve', () => {
    expect(example('fluids.mjs')).toMatch(/^R-134a saturated up to \d{3}\.\d K/m);
  });
});

describe('the package', () => {
  test('has the command line, which runs the demo', () => {
    const { status, stdout } = run(path.join(installed, 'app/coldbench.js'), 'run');
    expect(status).toBe(0);
    expect(stdout).toContain('JOB RECORD');
  });

  test('runs the compiled firmware behind its job', () => {
    writeFileSync(
      path.join(folder, 'small.json'),
      JSON.stringify({
        ticket: { refrigerant: 'R-134a', nominalChargeG: 300, service: 'recover' },
        vehicle: { chargeG: 100 },
        tank: { contentKg: 8 },
      }),
    );
    const { status, stderr } = run(
      path.join(installed, 'app/coldbench.js'),
      'run',
      'small.json',
      '--firmware',
      '--json',
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  test('runs a campaign in threads of its own JavaScript', () => {
    const { status, stdout } = run(
      path.join(installed, 'app/coldbench.js'),
      'campaign',
      '--jobs',
      '2',
      '--workers',
      '2',
    );
    expect(status).toBe(0);
    expect(stdout).toContain('2 jobs');
  });

  test('brings the built page, and no sources', () => {
    const page = path.join(installed, 'dist/app/page/dist');
    expect(existsSync(path.join(page, 'index.html'))).toBe(true);
    const files = readdirSync(installed, { recursive: true, encoding: 'utf8' });
    expect(files.filter((name) => /(?<!\.d)\.tsx?$/.test(name))).toEqual([]);
    expect(files.filter((name) => name.startsWith('tests'))).toEqual([]);
  });

  test('declares its types: a program in TypeScript compiles against them', () => {
    writeFileSync(
      path.join(folder, 'typed.mts'),
      `import { type Commands, openBench, type Rig, runJob, SAFE_COMMANDS } from 'coldbench';
const bench: Rig = openBench({}).bench;
const safe: Commands = SAFE_COMMANDS;
bench.apply(safe);
const outcome: 'completed' | 'stopped' | 'refused' = (await runJob({})).outcome;
// @ts-expect-error an output that is none
const wrong: Commands = { ...safe, venting: 1, chargeValve: 'open' };
export { outcome, wrong };
`,
    );
    const compiler = path.join(ROOT, 'node_modules/typescript/bin/tsc');
    const options = [
      '--noEmit',
      '--strict',
      '--skipLibCheck',
      '--target',
      'es2024',
      '--module',
      'nodenext',
      '--types',
      'node',
    ];
    const typeRoots = ['--typeRoots', path.join(ROOT, 'node_modules/@types')];
    expect(run(compiler, ...options, ...typeRoots, 'typed.mts')).toMatchObject({ status: 0, stdout: '' });
  });
});
