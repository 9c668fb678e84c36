// How the tests run: by Node's own import, as the product does, many files in one process.
import { globSync, readFileSync } from 'node:fs';
import { defineConfig, type ViteUserConfig } from 'vitest/config';

const ALL = 'tests/**/*.test.ts';
/** Minutes of emulation, and a browser: see vitest.rig.config.ts and vitest.page.config.ts. */
const APART = ['tests/{rig,package,docs}/**', 'tests/page/**'];

/** A file that puts something else in the place of a part of the code keeps a process to itself. */
const replacing = globSync(ALL, { cwd: import.meta.dirname }).filter((file) =>
  /\bvi\.(mock|spyOn|stub)/.test(readFileSync(`${import.meta.dirname}/${file}`, 'utf8')),
);

const common = {
  environment: 'node',
  testTimeout: 60_000,
  experimental: { viteModuleRunner: false },
} as const;

const projects: ViteUserConfig[] = [
  { test: { ...common, name: 'shared', include: [ALL], exclude: [...replacing, ...APART], isolate: false } },
  { test: { ...common, name: 'alone', include: replacing, isolate: true } },
];

export default defineConfig({ test: { maxWorkers: '100%', globalSetup: 'tests/run-folder.ts', projects } });
