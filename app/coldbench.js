#!/usr/bin/env node
// The package's bin: starts the command line on a Node that runs TypeScript, whatever Node npm itself runs on.
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import nodeModule, { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const NEEDED_MAJOR = 24;
const FORWARDED = ['SIGINT', 'SIGTERM', 'SIGHUP'];
const UNAVAILABLE = 69; // EX_UNAVAILABLE of sysexits.h

function pinnedNode() {
  try {
    const manifest = createRequire(import.meta.url).resolve('node/package.json');
    const { bin, version } = JSON.parse(readFileSync(manifest, 'utf8'));
    if (Number.parseInt(version, 10) < NEEDED_MAJOR) return undefined;
    const program = path.resolve(path.dirname(manifest), typeof bin === 'string' ? bin : bin.node);
    return existsSync(program) ? program : undefined;
  } catch {
    return undefined;
  }
}

function startOn(program, entry) {
  const child = spawn(program, [entry, ...process.argv.slice(2)], { stdio: 'inherit' });
  // A terminal sends Ctrl-C to this process as well: stay until the child has put its machine away.
  for (const signal of FORWARDED) process.on(signal, () => child.kill(signal));
  child.on('error', (error) => fail(`cannot start ${program}: ${error.message}`));
  child.on('exit', (code, signal) => {
    if (signal === null) {
      process.exitCode = code;
      return;
    }
    for (const forwarded of FORWARDED) process.removeAllListeners(forwarded);
    process.kill(process.pid, signal);
  });
}

function fail(problem) {
  process.stderr.write(`coldbench: ${problem}\n`);
  process.exitCode = UNAVAILABLE;
}

const entry = fileURLToPath(import.meta.url);
const root = path.dirname(path.dirname(entry));
// The published package brings JavaScript: Node strips no types under node_modules.
const isCheckout = existsSync(path.join(root, 'app', 'cli.ts'));
const running = Number.parseInt(process.versions.node, 10);
const pinned = pinnedNode();
if (running >= NEEDED_MAJOR) {
  // Node keeps the compiled code here, so that the next start takes half as long. Where it cannot write, nothing happens.
  nodeModule.enableCompileCache(path.join(root, 'node_modules', '.cache', 'coldbench'));
  await import(isCheckout ? './cli.ts' : '../dist/app/cli.js');
} else if (pinned !== undefined) startOn(pinned, entry);
else
  fail(
    isCheckout
      ? `Node ${NEEDED_MAJOR} or newer is needed and this is ${process.version}; run \`npm ci\` in ${root}, which brings its own`
      : `Node ${NEEDED_MAJOR} or newer is needed and this is ${process.version}; install it, or \`npm install node@${NEEDED_MAJOR}\` beside this package`,
  );
