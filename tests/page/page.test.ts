// The page in a real browser: a whole job, every view by keyboard and by eye's measure, a server that is killed, two pages.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  NO_BROWSER,
  openBrowser,
  overflows,
  type RunningPanel,
  startPanel,
  view,
  violations,
  watchErrors,
} from './browser.ts';

if (NO_BROWSER !== undefined) process.stderr.write(`skipped: ${NO_BROWSER}\n`);
const VIEWS = ['job', 'machine', 'trends', 'hand', 'records', 'class'] as const;

describe.skipIf(NO_BROWSER !== undefined)('the page', () => {
  let browser: Browser;
  let panel: RunningPanel;
  let context: BrowserContext;
  let page: Page;
  let errors: readonly string[];
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-page-'));
  const keeping = ['--records', path.join(folder, 'records.db')];

  beforeAll(async () => {
    panel = await startPanel(keeping);
    browser = await openBrowser();
    context = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
    page = await context.newPage();
    errors = watchErrors(page);
    await page.goto(panel.url);
    await page.getByText('You have control').waitFor();
  });
  afterAll(async () => {
    await browser?.close();
    await panel?.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  const card = (name: string, state = '', shown = page) =>
    shown.locator(`.output${state}:has(strong:text-is("${name}"))`);

  test.each(VIEWS)('has nothing that axe-core minds, light and dark: %s', async (name) => {
    await view(page, name);
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
      await page.waitForTimeout(150);
      expect(await violations(page), `${name} ${colorScheme}`).toEqual([]);
    }
  });

  test.each([
    [360, 1],
    [960, 2],
    [1920, 1],
  ])('nothing runs out of the screen at %i px', async (width) => {
    await page.setViewportSize({ width, height: 800 });
    for (const name of VIEWS) {
      await view(page, name);
      await page.waitForTimeout(100);
      expect(await overflows(page), `${name} at ${width}`).toBeLessThanOrEqual(0);
    }
    await page.setViewportSize({ width: 1920, height: 1080 });
  });

  test('a view begins at its top, however far the one before was read', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await view(page, 'hand');
    await page.evaluate('scrollTo(0, 2000)');
    await page.getByRole('link', { name: 'Machine' }).click();
    await page.getByRole('heading', { name: 'Pressures' }).waitFor();
    expect(await page.evaluate('scrollY')).toBe(0);
    expect(await page.locator('.view-machine svg').first().textContent()).toMatch(/SV-1 Shut/);
    await page.setViewportSize({ width: 1920, height: 1080 });
  });

  test('units, colours and size are the choice of whoever looks', async () => {
    await view(page, 'job');
    await page.getByRole('button', { name: 'Display' }).press('Enter');
    await page.getByLabel('Units').selectOption('us');
    await page
      .locator('.figures')
      .getByText(/psig|inHg/)
      .first()
      .waitFor();
    await page.getByLabel('Size').selectOption('largest');
    expect(await page.evaluate('getComputedStyle(document.documentElement).fontSize')).toBe('23px');
    expect(await overflows(page)).toBeLessThanOrEqual(0);
    await page.getByLabel('Size').selectOption('normal');
    await page.getByLabel('Units').selectOption('si');
    await page.getByRole('button', { name: 'Display' }).press('Enter');
  });

  test('a ticket is filled in, and what does not fit together stands there with its remedy', async () => {
    await page.locator('summary', { hasText: 'Ticket' }).click();
    await page.getByLabel('Dye to add, mL').fill('10');
    await page.getByRole('checkbox', { name: 'Electric compressor', exact: true }).check();
    await page.getByLabel('Stop for a repair after the recovery').check();
    await page.getByLabel('Rules of').selectOption('eu');
    await page.getByRole('button', { name: 'Use this ticket' }).click();
    await page.locator('.blockers li', { hasText: /dye/i }).first().waitFor();
    await page.locator('summary', { hasText: 'Ticket' }).click();
    expect(await page.getByLabel('Dye to add, mL').inputValue()).toBe('10');
    expect(await page.getByLabel('Stop for a repair after the recovery').isChecked()).toBe(true);
    expect(await page.getByLabel('Rules of').inputValue()).toBe('eu');
    expect(await violations(page)).toEqual([]);
    await page.getByLabel('Scenario').selectOption('freeze-up');
    await page.getByLabel('Scenario').selectOption('demo');
    await page.getByText('Nothing stands against it.').waitFor();
  });

  test('a second page watches, and gets control when the first one lets go', async () => {
    const other = await context.newPage();
    await other.goto(panel.url);
    await other.getByText('Another page has control').waitFor();
    expect(await other.getByRole('button', { name: 'Start the job' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Let go' }).click();
    await other.getByRole('button', { name: 'Take control' }).click();
    await other.getByText('You have control').waitFor();
    await page.getByText('Another page has control').waitFor();
    await other.close();
    await page.getByRole('button', { name: 'Take control' }).click();
    await page.getByText('You have control').waitFor();
  });

  test('a wish that is refused says why, and a page that is closed leaves nothing on', async () => {
    await view(page, 'hand');
    await page.getByRole('button', { name: 'Work by hand' }).click();
    await card('Compressor')
      .getByText(/Refused now \(IL-/)
      .waitFor();
    await page.getByRole('button', { name: 'Vacuum pump: Start' }).click();
    await card('Vacuum pump', '.on').waitFor();
    const other = await context.newPage();
    await other.goto(`${panel.url}#hand`);
    await card('Vacuum pump', '.on', other).waitFor();
    await page.close();
    await card('Vacuum pump', ':not(.on)', other).waitFor();
    page = other;
    errors = watchErrors(page);
    const take = page.getByRole('button', { name: 'Take control' });
    if (await take.isVisible()) await take.click();
    await page.getByText('You have control').waitFor();
    await page.getByRole('button', { name: 'End work by hand' }).click();
    await page.getByRole('button', { name: 'Work by hand' }).waitFor();
  });

  test('a trip of the work by hand is shown and reset from there', async () => {
    const teacher = await context.newPage();
    await teacher.goto(panel.teacherUrl);
    await view(page, 'hand');
    await page.getByRole('button', { name: 'Work by hand' }).click();
    await page.getByRole('button', { name: 'End work by hand' }).waitFor();
    await teacher.getByLabel('Find a fault').fill('emergency-stop');
    await teacher.getByRole('button', { name: /emergency-stop.*hidden/ }).click();
    const reset = page.getByRole('button', { name: 'Reset the trip' });
    await reset.waitFor();
    await page.getByText('The emergency stop is pressed.').waitFor();
    expect(await violations(page)).toEqual([]);
    await teacher.getByRole('button', { name: 'Switch off' }).click();
    await teacher.getByText('Nothing is wrong.').waitFor();
    await teacher.close();
    for (let presses = 0; presses < 5 && (await reset.isVisible()); presses += 1) {
      await reset.click();
      await page.waitForTimeout(300);
    }
    expect(await reset.isVisible()).toBe(false);
    await page.getByRole('button', { name: 'Work by hand' }).click();
    await page.getByRole('button', { name: 'End work by hand' }).click();
    await page.getByRole('button', { name: 'Work by hand' }).waitFor();
  });

  test('a lesson is set up and printed as a sheet without the frame of the page', async () => {
    await view(page, 'class');
    await page.getByRole('button', { name: 'The charge that stalls' }).click();
    await page.getByRole('button', { name: 'Set this lesson up' }).click();
    await page.locator('.job-name', { hasText: 'stalls' }).waitFor();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.top').isVisible()).toBe(false);
    expect(await page.locator('.sheet').isVisible()).toBe(true);
    expect((await page.pdf({ format: 'A4' })).length).toBeGreaterThan(5000);
    await page.emulateMedia({ media: 'screen' });
  });

  test('the teacher sees the truth and lets something go wrong that the class is not told', async () => {
    const teacher = await context.newPage();
    await teacher.goto(panel.teacherUrl);
    await teacher.getByText('In the vehicle').first().waitFor();
    expect(new URL(teacher.url()).search).toBe('');
    expect(await violations(teacher)).toEqual([]);
    await teacher.getByLabel('Find a fault').fill('fan-stopped');
    await teacher.getByRole('button', { name: /fan-stopped.*hidden/ }).click();
    await teacher.locator('.active-faults', { hasText: 'fan-stopped' }).waitFor();
    expect(await page.content()).not.toContain('fan-stopped');
    await page.getByText('The teacher sets time and job.').waitFor();
    expect(await page.getByLabel('Speed').isDisabled()).toBe(true);
    await teacher.getByRole('button', { name: 'Switch off' }).click();
    await teacher.getByText('Nothing is wrong.').waitFor();
    await teacher.close();
  });

  test('a whole job is run from the page by the keyboard alone', async () => {
    await view(page, 'job');
    await page.getByLabel('Scenario').selectOption('demo');
    const start = page.getByRole('button', { name: 'Start the job' });
    await start.focus();
    await page.keyboard.press('Enter');
    await page.locator('.panel.ask').waitFor();
    await page.waitForTimeout(200);
    expect(await page.evaluate('document.activeElement.className')).toBe('prompt-text');
    await page.getByLabel('Speed').selectOption('fastest');
    const done = page.getByText('Job completed').first();
    const answer = page.locator('.panel.ask .button.main:not(:disabled)').first();
    for (let asked = 0; asked < 40 && !(await done.isVisible()); asked += 1) {
      await Promise.race([answer.waitFor(), done.waitFor()]);
      if (await answer.isVisible()) {
        await answer.focus().catch(() => {});
        await page.keyboard.press('Enter');
        await page.waitForTimeout(300);
      }
    }
    await done.waitFor();
    await page.getByText('Safe to disconnect').first().waitFor();
    await view(page, 'trends');
    await page.locator('.chart canvas').first().waitFor();
    expect(await page.locator('.cycles li').count()).toBeGreaterThan(1);
    expect(await violations(page)).toEqual([]);
  });

  test.each([1000, 1210, 1366, 1440, 1700])(
    'of that job no stage and no figure leaves its box at %i px, and no figure stands alone',
    async (width) => {
      await view(page, 'job');
      await page.setViewportSize({ width, height: 900 });
      await page.locator('.ribbon .step.done').first().waitFor();
      const outside = `[...document.querySelectorAll('.step .name, .figures .figure')].filter((text) => {
      const range = document.createRange();
      range.selectNodeContents(text);
      const box = text.closest('.step, .readout').getBoundingClientRect();
      return range.getBoundingClientRect().right > box.right - 4;
    }).map((text) => text.textContent)`;
      expect(await page.evaluate(outside)).toEqual([]);
      const columns = `[...document.querySelectorAll('.figures:not(.small, .two)')].map(
      (figures) => getComputedStyle(figures).gridTemplateColumns.split(' ').filter((one) => one !== '0px').length)`;
      for (const count of (await page.evaluate(columns)) as number[]) expect([2, 4]).toContain(count);
      await page.setViewportSize({ width: 1920, height: 1080 });
    },
  );

  test('the job that was done is found in the records, opened, and printed; upkeep is written down', async () => {
    await view(page, 'records');
    await page.getByLabel(/Find a job/).fill('completed');
    await page.getByRole('button', { name: /^1 · / }).click();
    const report = page.frameLocator('iframe.report');
    await report.getByText('Record of job 1').waitFor();
    expect(await report.locator('svg').count()).toBeGreaterThan(1);
    expect(await violations(page)).toEqual([]);
    await page.evaluate(`globalThis.printed = 0;
      document.querySelector('iframe.report').contentWindow.print = () => { globalThis.printed += 1 }`);
    await page.getByRole('button', { name: 'Print', exact: true }).press('Enter');
    expect(await page.evaluate('globalThis.printed')).toBe(1);
    const sheet = await context.newPage();
    await sheet.goto(`${panel.url}report/1?units=us`);
    expect((await sheet.pdf({ format: 'Letter' })).length).toBeGreaterThan(10_000);
    await sheet.close();
    await page.getByLabel(/Find a job/).fill('lorry');
    await page.getByText('No job is kept that fits.').waitFor();
    const pump = page.locator('.upkeep-item', { hasText: 'Vacuum pump: oil' });
    await pump.getByText('not noted so far').waitFor();
    await pump.locator('summary').press('Enter');
    await pump.getByRole('button', { name: 'It was done', exact: true }).press('Enter');
    await pump.getByText(/last \d{4}-/).waitFor();
  });

  test('a server that is killed is missed, and found again when it is back', async () => {
    const { port } = new URL(panel.url);
    panel.process.kill('SIGKILL');
    await page.getByText('No connection to the machine').waitFor();
    panel = await startPanel(keeping, Number(port));
    await page.getByText('You have control').waitFor({ timeout: 30_000 });
    expect(errors.filter((error) => !/WebSocket|ERR_CONNECTION/.test(error))).toEqual([]);
  });
});
