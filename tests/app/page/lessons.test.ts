// Every lesson has its parts, and tells the class nothing too early.
import { describe, expect, test } from 'vitest';
import { LESSONS, lessonView } from '../../../app/page/lessons.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';

test('there are at least six lessons, each with a name of its own', () => {
  expect(LESSONS.length).toBeGreaterThanOrEqual(6);
  expect(new Set(LESSONS.map(({ id }) => id)).size).toBe(LESSONS.length);
});

describe.each(LESSONS.map((lesson) => [lesson.id, lesson] as const))('the lesson %s', (_, lesson) => {
  test('has every part, and an answer among its options', () => {
    const { title, aim, setUp, question, explanation, scoreRule, teacherNote, lookFor, options, answer } =
      lesson;
    for (const text of [
      title,
      aim,
      setUp,
      question,
      explanation,
      scoreRule,
      teacherNote,
      ...lookFor,
      ...options,
    ])
      expect(text.length).toBeGreaterThan(5);
    expect(options[answer]).toBeDefined();
    expect(toScenario(lesson.scenario, lesson.id).name).toMatch(/^lesson: /);
  });

  test('shows the class neither answer nor explanation before it is revealed', () => {
    const shown = JSON.stringify(lessonView(lesson, false));
    for (const hidden of [lesson.explanation, lesson.teacherNote, '"answer"', '"faults"', '"scenario"'])
      expect(shown).not.toContain(hidden);
    expect(lessonView(lesson, true)).toMatchObject({
      answer: lesson.answer,
      explanation: lesson.explanation,
    });
  });
});
