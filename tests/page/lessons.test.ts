// Every lesson shows what it says: its job is run, and comes to what the class is told that it comes to.
import { describe, expect, test } from 'vitest';
import { LESSONS } from '../../app/page/lessons.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { runScenario } from '../acceptance/run-scenario.ts';

describe.each(LESSONS.map((lesson) => [lesson.id, lesson] as const))('the lesson %s', (_, lesson) => {
  test('comes to what it shows', async () => {
    const job = await runScenario(lesson.scenario);
    expect(job.outcome).toBe(lesson.shows.outcome);
    expect(job.notices.map(({ code }) => code)).toEqual(expect.arrayContaining([...lesson.shows.notices]));
    if (lesson.shows.hold !== undefined) expect(job.hold?.verdict).toBe(lesson.shows.hold);
  });
});

const lessonOf = (id: string) => LESSONS.find((lesson) => lesson.id === id)!;

test('half of the charge or more is still in the vehicle when the gauge of the freeze-up first reaches zero', async () => {
  const { weather } = toScenario(lessonOf('freeze-up').scenario, 'freeze-up');
  let gainedKg: number | undefined;
  await runScenario(lessonOf('freeze-up').scenario, [
    ({ progress: { stage, figures } }) => {
      const low = figures.lowSidePa ?? Number.POSITIVE_INFINITY;
      if (stage === 'recover' && low <= weather.barometerPa) gainedKg ??= figures.phaseKg;
    },
  ]);
  expect(gainedKg).toBeGreaterThan(0.05);
  expect(gainedKg).toBeLessThan(0.27);
});
