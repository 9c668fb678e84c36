// The classroom in a real browser: every lesson run and revealed, a fault let in and recovered from, and what was looked back at.
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LESSONS } from '../../app/page/lessons.ts';
import { OUTCOMES } from '../../app/page/web/text.ts';
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
/** As fast as it goes, on a machine that others use as well. */
const A_JOB_MS = 150_000;

describe.skipIf(NO_BROWSER !== undefined)('the classroom', () => {
  let browser: Browser;
  let panel: RunningPanel;
  let context: BrowserContext;
  let teacher: Page;
  let pupil: Page;
  let errors: readonly string[];

  beforeAll(async () => {
    panel = await startPanel();
    browser = await openBrowser();
    context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    pupil = await context.newPage();
    await pupil.goto(panel.url);
    const ofTeacher = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    teacher = await ofTeacher.newPage();
    teacher.setDefaultTimeout(15_000);
    pupil.setDefaultTimeout(15_000);
    errors = watchErrors(teacher);
    await teacher.goto(panel.teacherUrl);
    await teacher.getByRole('button', { name: 'Take control' }).click();
    await teacher.getByText('You have control').waitFor();
    // What it shows comes with the next snapshot, not with the click.
    await teacher.getByLabel('Simulated operator answers').click();
    await teacher.getByRole('checkbox', { name: 'Simulated operator answers', checked: true }).waitFor();
  });
  afterAll(async () => {
    await browser?.close();
    await panel?.stop();
  });

  function nameOf(id: string): string {
    const { name } = LESSONS.find((lesson) => lesson.id === id)?.scenario ?? { name: id };
    return String(name);
  }

  async function begin(id: string, speed: string): Promise<void> {
    await view(teacher, 'job');
    const again = teacher.getByRole('button', { name: 'Choose a job' });
    const scenario = teacher.getByLabel('Scenario');
    await again.or(scenario).first().waitFor();
    if (await again.isVisible()) await again.click();
    await scenario.selectOption(id);
    await teacher.locator('.job-name', { hasText: nameOf(id) }).waitFor();
    await teacher.getByLabel('Speed').selectOption(speed);
    await teacher.getByRole('button', { name: 'Start the job' }).click();
  }

  test.each(LESSONS.map((lesson) => [lesson.id, lesson] as const))(
    'the lesson %s is run, comes to what it shows, and is explained once it is revealed',
    async (id, lesson) => {
      await view(pupil, 'class');
      await begin(id, 'fastest');
      await pupil.getByRole('button', { name: lesson.title }).click();
      expect(await pupil.getByText(lesson.explanation).count()).toBe(0);
      const outcome = OUTCOMES[lesson.shows.outcome]!;
      await teacher.locator('.panel .now-stage', { hasText: outcome }).waitFor({ timeout: A_JOB_MS });
      expect(await pupil.locator('.state', { hasText: outcome }).isVisible()).toBe(true);
      await view(teacher, 'teacher');
      await teacher.getByRole('button', { name: 'Reveal answer and score to the class' }).click();
      await pupil.getByText(lesson.explanation).waitFor();
      await pupil.getByRole('button', { name: 'Keep this score' }).click();
      await pupil.locator('td, th', { hasText: `Controller · ` }).first().waitFor();
      expect(await violations(pupil)).toEqual([]);
    },
    A_JOB_MS + 60_000,
  );

  test(
    'a fault is let in, trips the machine, is recovered from by whoever has control, and the job is completed',
    async () => {
      await begin('demo', '30');
      await teacher.locator('.state', { hasText: 'Recover' }).waitFor({ timeout: 60_000 });
      await view(teacher, 'teacher');
      await teacher.getByLabel('Find a fault').fill('emergency-stop');
      await teacher.getByRole('button', { name: /emergency-stop.*shown/ }).click();
      await pupil.locator('.state', { hasText: 'Tripped' }).waitFor();
      await view(pupil, 'job');
      await pupil.locator('.panel.trip').waitFor();
      await pupil.locator('.notices .trip').first().waitFor();
      expect(await violations(pupil)).toEqual([]);
      await teacher.getByRole('button', { name: 'Switch off' }).click();
      await teacher.getByText('Nothing is wrong.').waitFor();
      await view(teacher, 'job');
      await teacher.getByRole('button', { name: 'Reset the trip' }).click();
      await teacher.getByRole('button', { name: 'Go on' }).click();
      await pupil.locator('.state', { hasText: 'Tripped' }).waitFor({ state: 'hidden' });
      await teacher.getByLabel('Speed').selectOption('fastest');
      await teacher.locator('.panel .now-stage', { hasText: 'Job completed' }).waitFor({ timeout: A_JOB_MS });
    },
    A_JOB_MS + 120_000,
  );

  test('what was is looked back at, step by step, and nothing can be done there', async () => {
    await view(pupil, 'job');
    await pupil.getByRole('button', { name: 'Look back' }).press('Enter');
    const bar = pupil.getByRole('region', { name: 'Looking back at' });
    const place = bar.getByRole('slider');
    await place.focus();
    await pupil.keyboard.press('Home');
    await bar.getByText('Looking back at 0:0').waitFor();
    for (let steps = 0; steps < 12; steps += 1)
      await bar.getByRole('button', { name: 'One look after' }).press('Enter');
    await pupil.locator('.step.now').waitFor();
    expect(await pupil.locator('.step.done').count()).toBeLessThan(8);
    expect(await violations(pupil)).toEqual([]);
    await pupil.setViewportSize({ width: 360, height: 800 });
    expect(await overflows(pupil)).toBeLessThanOrEqual(0);
    await pupil.setViewportSize({ width: 1280, height: 900 });
    await bar.getByRole('button', { name: 'Back to now' }).click();
    await pupil.locator('.panel .now-stage', { hasText: 'Job completed' }).waitFor();
    expect(errors).toEqual([]);
  });
});
