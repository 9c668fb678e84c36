// Turns what the schema found into one line that names the key and the remedy.
import * as z from 'zod';
import { suggestion } from '../cli/nearest.ts';
import { scenarioSchema } from './schema.ts';

type Path = readonly PropertyKey[];

const keyed = (path: Path): string =>
  path.reduce<string>((text, part) => {
    if (typeof part === 'number') return `${text}[${part}]`;
    return text === '' ? String(part) : `${text}.${String(part)}`;
  }, '');

/** The schema inside defaults, options and preprocessing. */
function bare(schema: unknown): unknown {
  if (schema instanceof z.ZodDefault || schema instanceof z.ZodPrefault || schema instanceof z.ZodOptional)
    return bare(schema.unwrap());
  if (schema instanceof z.ZodPipe) return bare(schema.out);
  return schema;
}

/** Whose problems they are: the schema, for the keys that it knows, and how one that it describes is called. */
type About = { readonly schema: z.ZodType; readonly what: string };

function knownKeys(path: Path, whole: z.ZodType): string[] {
  let schema: unknown = whole;
  for (const part of path) {
    if (schema instanceof z.ZodArray) schema = bare(schema.element);
    else if (schema instanceof z.ZodObject) schema = bare(schema.shape[String(part)]);
    else if (schema instanceof z.ZodRecord) schema = bare(schema.valueType);
  }
  return schema instanceof z.ZodObject ? Object.keys(schema.shape) : [];
}

function problem(issue: z.core.$ZodIssue, { schema, what }: About): string {
  const key = keyed(issue.path);
  if (issue.code === 'unrecognized_keys') {
    const wrong = issue.keys[0] ?? '';
    const named = keyed([...issue.path, wrong]);
    const known = knownKeys(issue.path, schema);
    // Filling the tank knows fewer keys than the services of a vehicle.
    if (known.includes(wrong)) return `${named} does not belong to the service fill-tank; take it out`;
    return `there is no key ${named}; ${suggestion(wrong, known)}`;
  }
  if (issue.code === 'invalid_type' && issue.expected === 'object' && issue.message.startsWith('Invalid'))
    return key === '' ? `${what} must be one JSON object` : `${key} must be an object`;
  return `${key} ${issue.message}`;
}

/** The first problem, misspelt keys before the gaps they leave; says how many more there are. */
export function firstProblem(
  error: z.ZodError,
  about: About = { schema: scenarioSchema, what: 'a scenario' },
): string {
  const misspelt = error.issues.filter(({ code }) => code === 'unrecognized_keys');
  const first = misspelt[0] ?? error.issues[0];
  if (first === undefined) return `is not ${about.what}`;
  const more = error.issues.length - 1;
  if (more === 0) return problem(first, about);
  return `${problem(first, about)} (and ${more} more ${more === 1 ? 'problem' : 'problems'})`;
}
