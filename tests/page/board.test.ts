// The page on a real rig, in a real browser: the firmware runs on an emulated board behind a serial port of the operating system.
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dispatch } from '../../app/cli/dispatch.ts';
import { replay } from '../../app/cli/replay.ts';
import { fakeTerminal } from '../app/fake-terminal.ts';
import { type Emulator, NO_BROWSER, overflows, view, violations } from './browser.ts';
import { openRigPage, type RigPage } from './rig-page.ts';

const NO_PORT =
  spawnSync('socat', ['-V']).status === 0 ? undefined : 'socat is not installed, so there is no serial port';
const MISSING = NO_BROWSER ?? NO_PORT;
if (MISSING !== undefined) process.stderr.write(`skipped: ${MISSING}\n`);

const CAR = {
  name: 'a small car',
  seed: 3,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 150, volumeL: 1.2 },
};
const LACKING = ['emergency-stop', 'temperatures'];
const AGE = 'Age of the vehicle, years (may stay empty)';
const OPENED = 'The system was or will be open';
const VIEWS = ['commissioning', 'job', 'machine', 'hand', 'records'] as const;

describe.skipIf(MISSING !== undefined)('the page on a rig', () => {
  let rig: RigPage | undefined;
  let emulator: Emulator;
  let page: Page;
  let errors: readonly string[];

  beforeAll(async () => {
    rig = await openRigPage(CAR, LACKING);
    ({ emulator, page, errors } = rig);
  });
  afterAll(() => rig?.close());

  const question = () => page.locator('.panel.ask .prompt-text');

  test('may not be driven before it is commissioned', async () => {
    await view(page, 'job');
    await page.getByText('The rig is not commissioned').waitFor();
    await view(page, 'commissioning');
    await page.locator('.chip.good', { hasText: 'answers' }).waitFor();
    expect(await violations(page)).toEqual([]);
  });

  test('is commissioned by answers and deeds, by the keyboard alone', async () => {
    emulator.type('set tank 0 bar');
    const begin = page.getByRole('button', { name: 'Go on with what is missing' });
    await begin.focus();
    await page.keyboard.press('Enter');
    await page.getByText('Emergency stop').first().waitFor();
    const told = page.locator('.said li').first();
    const field = page.locator('.question input');
    const press = page.locator('.question .button.main').first();
    let done = '';
    for (
      let looks = 0;
      looks < 300 && !(await page.getByText('Every line stands: the rig').isVisible());
      looks += 1
    ) {
      await page.waitForTimeout(200);
      const text =
        (await question()
          .textContent({ timeout: 500 })
          .catch(() => '')) ?? '';
      const news = (await told.textContent({ timeout: 500 }).catch(() => '')) ?? '';
      if (news !== done && /Press the emergency stop now/.test(news)) emulator.type('press stop');
      if (news !== done && /Release the emergency stop\./.test(news)) emulator.type('release stop');
      done = news;
      if (!(await press.isVisible())) continue;
      if (await field.isVisible()) await field.fill(/How far/.test(text) ? '0.2' : '20');
      await press.focus({ timeout: 500 }).catch(() => undefined);
      await page.keyboard.press('Enter');
    }
    await page.getByText('Every line stands: the rig').waitFor();
    emulator.type('free tank');
  });

  test.each([
    ['light', 1280],
    ['dark', 360],
    ['dark', 1920],
  ] as const)(
    'has nothing that axe-core minds and nothing that runs out of the screen: %s, %i px',
    async (colorScheme, width) => {
      await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
      await page.setViewportSize({ width, height: 900 });
      for (const name of VIEWS) {
        await view(page, name);
        await page.waitForTimeout(150);
        expect(await overflows(page), name).toBeLessThanOrEqual(0);
        expect(await violations(page), name).toEqual([]);
      }
      await page.setViewportSize({ width: 1280, height: 900 });
    },
  );

  test('a job is begun, waits for its person, and is stopped in order; its record is there', async () => {
    await view(page, 'job');
    await page.getByText('Nobody has written the ticket').waitFor();
    await page.getByLabel('Charge on the label, g').fill('400');
    await page.getByLabel(AGE).fill('4');
    await page.getByLabel(OPENED).check();
    await page.getByRole('button', { name: 'Use this ticket' }).click();
    await page.getByText('Nothing stands against it.').waitFor();
    await page.getByRole('button', { name: 'Start the job' }).hover();
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Start the job' }).click();
    await page.getByLabel('Refrigerant', { exact: true }).last().fill('R134a');
    await page.getByLabel('Purity, %').fill('99.8');
    // What is typed and is no number is not the same as nothing.
    const enter = page.getByRole('button', { name: 'Enter the reading' });
    await page.getByLabel('Air, %').fill('4 %');
    expect(await enter.isDisabled()).toBe(true);
    await page.getByLabel('Air, %').fill('0,4');
    expect(await enter.isEnabled()).toBe(true);
    await page.getByRole('button', { name: 'Enter the reading' }).click();
    await page.locator('.now-stage', { hasText: 'Connect' }).waitFor();
    await page.getByRole('button', { name: 'Stop the job' }).click();
    await page.getByRole('button', { name: 'Stop for good?' }).click();
    await page.getByText('Job stopped').first().waitFor();
    await page.getByRole('button', { name: 'Choose a job' }).click();
    await page.getByText('Nobody has written the ticket').waitFor();
    // Nothing of this vehicle is left standing for the next.
    for (const label of ['Charge on the label, g', AGE])
      expect(await page.getByLabel(label).inputValue()).toBe('');
    expect(await page.getByLabel(OPENED).isChecked()).toBe(false);
    await view(page, 'records');
    await page.getByRole('button', { name: /^1 · / }).click();
    await page.frameLocator('iframe.report').getByText('Record of job 1').waitFor();
    expect(errors).toEqual([]);
    // And every scan of it, to be played again.
    const terminal = fakeTerminal();
    const recording = path.join(rig!.recordings, 'job-0001.recording.gz');
    expect(await dispatch([replay], ['replay', recording, '--json'], terminal), terminal.errors()).toBe(0);
    expect(JSON.parse(terminal.output())).toMatchObject({ rig: expect.stringMatching(/^rig '/) });
  });
});
