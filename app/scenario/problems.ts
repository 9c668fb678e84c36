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

function knownKeys(path: Path): string[] {
  let schema: unknown = scenarioSchema;
  for (const part of path) {
    if (schema instanceof z.ZodArray) schema = bare(schema.element);
    else if (schema instanceof z.ZodObject) schema = bare(schema.shape[String(part)]);
  }
  return schema instanceof z.ZodObject ? Object.keys(schema.shape) : [];
}

function problem(issue: z.core.$ZodIssue): string {
  const key = keyed(issue.path);
  if (issue.code === 'unrecognized_keys') {
    const wrong = issue.keys[0] ?? '';
    return `there is no key ${keyed([...issue.path, wrong])}; ${suggestion(wrong, knownKeys(issue.path))}`;
  }
  if (issue.code === 'invalid_type' && issue.expected === 'object' && issue.message.startsWith('Invalid'))
    return key === '' ? 'a scenario must be one JSON object' : `${key} must be an object`;
  return `${key} ${issue.message}`;
}

/** The first problem, misspelt keys before the gaps they leave; says how many more there are. */
export function firstProblem(error: z.ZodError): string {
  const misspelt = error.issues.filter(({ code }) => code === 'unrecognized_keys');
  const first = misspelt[0] ?? error.issues[0];
  if (first === undefined) return 'is not a scenario';
  const more = error.issues.length - 1;
  if (more === 0) return problem(first);
  return `${problem(first)} (and ${more} more ${more === 1 ? 'problem' : 'problems'})`;
}
