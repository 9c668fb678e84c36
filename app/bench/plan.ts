// The plan of a campaign: a scenario, what of it is drawn and from what, and what goes wrong how often.
import path from 'node:path';
import * as z from 'zod';
import { InputError } from '../cli/command.ts';
import { jsonFile } from '../scenario/json-file.ts';
import { checkNoScenario } from '../scenario/other-kind.ts';
import { firstProblem } from '../scenario/problems.ts';
import { quantity, shown } from '../scenario/quantity.ts';
import { distributionSchema } from './distribution.ts';

export const MOST_JOBS = 10_000_000;
const LONGEST_NAME = 80;

const jobs = quantity({ unit: '', min: 1, max: MOST_JOBS, whole: true });

const probability = quantity({
  unit: '(a fraction)',
  min: 0,
  max: 1,
  mistakes: [{ from: 1, to: 100, unit: 'per cent', toOurs: (percent) => percent / 100 }],
});

const fault = z.strictObject(
  {
    probability: probability.default(1),
    fault: distributionSchema,
    atS: distributionSchema.optional(),
    stage: distributionSchema.optional(),
    afterS: distributionSchema.optional(),
    forS: distributionSchema.optional(),
    output: distributionSchema.optional(),
    size: distributionSchema.optional(),
  },
  {
    error: ({ input, code }) =>
      code === 'invalid_type'
        ? `must be an object such as {"fault": "scale-stuck", "probability": 0.1}, not ${shown(input)}`
        : undefined,
  },
);

const base = z.record(z.string(), z.unknown(), {
  error: ({ input }) => `must be a scenario or the path of one, not ${shown(input)}`,
});

const planSchema = z.strictObject({
  name: z
    .string({ error: ({ input }) => `must be text, not ${shown(input)}` })
    .min(1, 'must not be empty')
    .max(LONGEST_NAME, `must have at most ${LONGEST_NAME} letters`)
    .default('unnamed plan'),
  jobs: jobs.optional(),
  base: base.prefault({}),
  draws: z
    .record(z.string(), distributionSchema, {
      error: ({ input }) => `must be an object of keys and distributions, not ${shown(input)}`,
    })
    .prefault({}),
  faults: z
    .array(fault, { error: ({ input }) => `must be a list, not ${shown(input)}` })
    .max(100, 'may have at most 100 entries')
    .prefault([]),
});

type PlanFile = z.output<typeof planSchema>;
export type PlannedStrike = PlanFile['faults'][number];

/** A plan with its scenario in it, as it stands in what a campaign writes. */
export type CampaignPlan = Omit<PlanFile, 'jobs'>;

/**
 * Checks a plan that is already parsed JSON and has its base in it.
 * @throws InputError naming `source`, the key and the remedy.
 */
export function toPlan(value: unknown, source: string): { plan: CampaignPlan; jobs: number | undefined } {
  checkNoScenario(value, source);
  const parsed = planSchema.safeParse(value);
  if (!parsed.success)
    throw new InputError(`${source}: ${firstProblem(parsed.error, { schema: planSchema, what: 'a plan' })}`);
  const { jobs: asked, ...plan } = parsed.data;
  return { plan, jobs: asked };
}

/** A path in the plan is one from the plan's own folder. */
function withBase(value: unknown, file: string): unknown {
  const named = Object(value) as { base?: unknown };
  if (typeof named.base !== 'string') return value;
  const at = path.resolve(path.dirname(file), named.base);
  return { ...named, base: jsonFile(at, 'scenario', 'a ticket and a vehicle') };
}

/** @throws InputError when the file, or the scenario that it names, is missing, unreadable or not what it must be. */
export const readPlan = (file: string) => toPlan(withBase(jsonFile(file, 'plan', 'draws'), file), file);
