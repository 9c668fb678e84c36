// The page of a rig in a real browser: a machine emulated behind a port, the panel on it, and control taken.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { writeEquipmentOfToday } from '../app/rig/equipment-today.ts';
import { type Emulator, openBrowser, startEmulator, startPanel, watchErrors } from './browser.ts';

export type RigPage = {
  readonly page: Page;
  readonly emulator: Emulator;
  readonly errors: readonly string[];
  /** Where its jobs are written down scan for scan. */
  readonly recordings: string;
  readonly close: () => Promise<void>;
};

/** @param lacking lines of commissioning that have not been done. */
export async function openRigPage(car: object, lacking: readonly string[] = []): Promise<RigPage> {
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-rig-'));
  const at = (name: string): string => path.join(folder, name);
  writeFileSync(at('car.json'), JSON.stringify(car));
  writeEquipmentOfToday(at('rig.json'), lacking);
  const emulator = await startEmulator(at('car.json'), at('board'));
  const args = [
    '--board',
    at('board'),
    '--file',
    at('rig.json'),
    '--records',
    at('records.db'),
    '--recordings',
    at('recordings'),
  ];
  const panel = await startPanel(args);
  const browser = await openBrowser();
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  page.setDefaultTimeout(20_000);
  const errors = watchErrors(page);
  await page.goto(panel.url);
  await page.getByText('You have control').waitFor();
  const close = async (): Promise<void> => {
    await browser.close();
    await panel.stop();
    await emulator.stop();
    rmSync(folder, { recursive: true, force: true });
  };
  return { page, emulator, errors, recordings: at('recordings'), close };
}
