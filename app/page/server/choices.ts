// What a job can be chosen from: the scenario that was given, the demo, and the lessons.
import demo from '../../scenario/demo.json' with { type: 'json' };
import { jsonFile } from '../../scenario/json-file.ts';
import { type Scenario, toScenario } from '../../scenario/scenario.ts';
import { LESSONS, type Lesson } from '../lessons.ts';

/** A scenario as it was written, so that another ticket can be put into it. */
export type Choice = {
  readonly id: string;
  readonly name: string;
  readonly file: { readonly [key: string]: unknown };
  /** For what is said about mistakes in it. */
  readonly source: string;
  readonly lesson?: Lesson;
};

const DEMO: Choice = { id: 'demo', name: demo.name, file: demo, source: 'the demo' };

const ofLesson = (lesson: Lesson): Choice => ({
  id: lesson.id,
  name: lesson.title,
  file: lesson.scenario,
  source: `lesson ${lesson.id}`,
  lesson,
});

/**
 * The first one is what the page opens on.
 * @throws InputError for a scenario file that cannot be read or is none.
 */
export function choicesWith(path: string | undefined): readonly Choice[] {
  const others = [DEMO, ...LESSONS.map(ofLesson)];
  if (path === undefined) return others;
  const file = jsonFile(path, 'scenario', 'a ticket and a vehicle');
  const { name } = toScenario(file, path);
  return [{ id: 'given', name, file: file as Choice['file'], source: path }, ...others];
}

/** @throws InputError naming the key and the remedy. */
export function scenarioOf(
  { file, source }: Choice,
  ticket: { readonly [key: string]: unknown } | undefined,
  seed: number | undefined,
): Scenario {
  const scenario = toScenario(ticket === undefined ? file : { ...file, ticket }, source);
  return seed === undefined ? scenario : { ...scenario, seed };
}
