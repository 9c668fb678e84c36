// Builds the page into a folder that git does not keep: by `npm run panel:build`, and when it is first asked for.
import { existsSync, globSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('./web/', import.meta.url));
const PAGE_FOLDER = fileURLToPath(new URL('./dist/', import.meta.url));

/** Newer source than the build: someone works on the page. */
function isStale(): boolean {
  const index = path.join(PAGE_FOLDER, 'index.html');
  if (!existsSync(index)) return true;
  const builtAtMs = statSync(index).mtimeMs;
  const sources = globSync(['app/page/web/**/*', 'app/page/*.ts', 'app/units.ts'], {
    cwd: path.join(ROOT, '../../..'),
  });
  return sources.some((file) => statSync(path.join(ROOT, '../../..', file)).mtimeMs > builtAtMs);
}

/** @throws Error when the page cannot be built. */
export async function buildPage(): Promise<void> {
  const { build } = await import('vite');
  await build({
    root: ROOT,
    configFile: false,
    logLevel: 'warn',
    base: '/',
    publicDir: false,
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    build: {
      outDir: PAGE_FOLDER,
      emptyOutDir: true,
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
    },
  });
}

/** @param tell that it takes a moment. */
export async function ensurePage(tell: (text: string) => void): Promise<string> {
  if (isStale()) {
    tell('Building the page, once …\n');
    await buildPage();
  }
  return PAGE_FOLDER;
}
