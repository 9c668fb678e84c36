// Which logic made a campaign's figures: the version of the package and a digest of the code that they depend on.
import { createHash } from 'node:crypto';
import { globSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import manifest from '../../package.json' with { type: 'json' };

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Command line, page and records can change without changing a figure. */
const FIGURES_DEPEND_ON = ['controller', 'sim', 'app/run', 'app/scenario', 'app/bench'];
const DIGITS = 12;

/** Another text for every other code, and the same on every computer that has the same. */
export function logicVersion(folders: readonly string[] = FIGURES_DEPEND_ON): string {
  const digest = createHash('sha256');
  for (const folder of folders) {
    const files = globSync('**/*.{ts,js,json}', { cwd: path.join(ROOT, folder) });
    for (const file of files.map((name) => name.split(path.sep).join('/')).sort())
      digest.update(`${folder}/${file}\n`).update(readFileSync(path.join(ROOT, folder, file)));
  }
  return `${manifest.version}+${digest.digest('hex').slice(0, DIGITS)}`;
}
