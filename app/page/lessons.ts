// The lessons of the classroom: data files, each with a scenario and what a class is to find out on it.
import airInTheTank from './lessons/air-in-the-tank.json' with { type: 'json' };
import altitude from './lessons/altitude.json' with { type: 'json' };
import freezeUp from './lessons/freeze-up.json' with { type: 'json' };
import leakOrMoisture from './lessons/leak-or-moisture.json' with { type: 'json' };
import shutCoupler from './lessons/shut-coupler.json' with { type: 'json' };
import stalledCharge from './lessons/stalled-charge.json' with { type: 'json' };
import type { LessonView } from './shown-class.ts';

export type Lesson = {
  readonly id: string;
  readonly title: string;
  readonly aim: string;
  readonly setUp: string;
  readonly question: string;
  readonly options: readonly string[];
  /** Index into the options. */
  readonly answer: number;
  readonly lookFor: readonly string[];
  readonly explanation: string;
  readonly scoreRule: string;
  readonly teacherNote: string;
  /** What the controller comes to, for whoever checks that the lesson shows what it says. */
  readonly shows: { readonly outcome: string; readonly notices: readonly string[]; readonly hold?: string };
  readonly scenario: { readonly [key: string]: unknown };
};

export const LESSONS: readonly Lesson[] = [
  freezeUp,
  leakOrMoisture,
  stalledCharge,
  shutCoupler,
  airInTheTank,
  altitude,
];

/** What a lesson shows to whoever may not know the answer yet. */
export function lessonView(lesson: Lesson, all: boolean): LessonView {
  const { id, title, aim, setUp, question, options, lookFor, scoreRule } = lesson;
  const { answer, explanation, teacherNote } = lesson;
  return {
    id,
    title,
    aim,
    setUp,
    question,
    options,
    lookFor,
    scoreRule,
    ...(all ? { answer, explanation, teacherNote } : {}),
  };
}
