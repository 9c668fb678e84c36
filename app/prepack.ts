// `npm pack` and `npm publish`: JavaScript, declarations, firmware and the built page into dist/, because Node strips no
// types under node_modules. A checkout runs from its sources and never looks there.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildPage } from './page/build.ts';

const ROOT = fileURLToPath(new URL('../', import.meta.url));
const DIST = path.join(ROOT, 'dist');
const AS_THEY_ARE = ['hardware/firmware/coldbench.hex', 'app/page/dist'];

rmSync(DIST, { recursive: true, force: true });
const compiler = createRequire(import.meta.url).resolve('typescript/bin/tsc');
execFileSync(process.execPath, [compiler, '-p', 'tsconfig.package.json'], { cwd: ROOT, stdio: 'inherit' });
await buildPage();
for (const name of AS_THEY_ARE) {
  const to = path.join(DIST, name);
  mkdirSync(path.dirname(to), { recursive: true });
  cpSync(path.join(ROOT, name), to, { recursive: true });
}
