// What a campaign draws a value from: as a plan has it, checked key by key, and the draw itself.
import * as z from 'zod';
import { shown } from '../scenario/quantity.ts';
import { type Chance, drawsOf } from './draw.ts';

const KINDS = ['fixed', 'uniform', 'logUniform', 'normal', 'choice'] as const;
const EXAMPLE = 'such as {"uniform": [5, 40]}, or a value';

const number = z.number({ error: ({ input }) => `must be a number, not ${shown(input)}` });
const scalar = z.union([z.number(), z.string(), z.boolean()], {
  error: ({ input }) => `must be a number, text, true or false, not ${shown(input)}`,
});
const pair = (what: string) =>
  z.tuple([number, number], {
    error: ({ input, code }) =>
      code === 'invalid_type' || code === 'too_small' || code === 'too_big'
        ? `must be [${what}], two numbers${Array.isArray(input) ? '' : `, not ${shown(input)}`}`
        : undefined,
  });
const range = pair('lowest, highest').refine(([low, high]) => low <= high, {
  error: 'has its lowest above its highest; exchange them',
});
/** A number, or the key of the scenario that has it. */
const operand = z.union([z.number(), z.string()], {
  error: ({ input }) => `must be a number or a key of the scenario, not ${shown(input)}`,
});

const full = z
  .strictObject(
    {
      fixed: scalar.optional(),
      uniform: range.optional(),
      logUniform: range.refine(([low]) => low > 0, { error: 'must begin above 0' }).optional(),
      normal: pair('mean, standard deviation')
        .refine(([, sd]) => sd >= 0, { error: 'has a negative standard deviation' })
        .optional(),
      choice: z
        .array(scalar, { error: ({ input }) => `must be a list of values, not ${shown(input)}` })
        .min(1, 'needs at least one value')
        .optional(),
      weights: z.array(number.min(0, 'must not be negative')).optional(),
      times: operand.optional(),
      plus: operand.optional(),
      step: number.positive('must be above 0').optional(),
      min: number.optional(),
      max: number.optional(),
    },
    {
      error: ({ input, code }) =>
        code === 'invalid_type' ? `must be a distribution ${EXAMPLE}, not ${shown(input)}` : undefined,
    },
  )
  .superRefine((given, context) => {
    const problem = problemIn(given);
    if (problem !== undefined) context.addIssue({ code: 'custom', message: problem });
  });

const NUMERIC = ['times', 'plus', 'step', 'min', 'max'] as const;

type Given = { readonly [key: string]: unknown } & {
  readonly fixed?: unknown;
  readonly choice?: readonly unknown[] | undefined;
  readonly weights?: readonly number[] | undefined;
};

function problemIn(given: Given): string | undefined {
  const kinds = KINDS.filter((kind) => given[kind] !== undefined);
  if (kinds.length !== 1)
    return `must have one of ${KINDS.join(', ')}${kinds.length === 0 ? '' : `, not ${kinds.join(' and ')}`}`;
  const { choice, weights } = given;
  if (weights !== undefined && weights.length !== choice?.length)
    return 'needs as many weights as it has choices';
  if (weights !== undefined && !weights.some((weight) => weight > 0)) return 'needs a weight above 0';
  const values = choice ?? [given.fixed ?? 0];
  const reckons = NUMERIC.find((key) => given[key] !== undefined);
  if (reckons !== undefined && values.some((value) => typeof value !== 'number'))
    return `has ${reckons}, which is for numbers alone`;
  return undefined;
}

/** A plain value stands for itself. */
export const distributionSchema = z.preprocess(
  (given) => (given === null || typeof given === 'object' || given === undefined ? given : { fixed: given }),
  full,
);

export type Distribution = z.output<typeof full>;
export type Scalar = z.output<typeof scalar>;

/** Named by `times` and `plus`. */
export const keysIn = ({ times, plus }: Distribution): readonly string[] =>
  [times, plus].filter((operand) => typeof operand === 'string');

function weighted(choice: readonly Scalar[], weights: readonly number[], share: number): Scalar {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let left = share * total;
  const index = weights.findIndex((weight) => {
    left -= weight;
    return weight > 0 && left < 0;
  });
  return choice[index] ?? choice[weights.findLastIndex((weight) => weight > 0)]!;
}

function plain(
  { fixed, uniform, logUniform, normal, choice, weights }: Distribution,
  chance: Chance,
): Scalar {
  const { within, logWithin } = drawsOf(chance);
  if (uniform !== undefined) return within(uniform);
  if (logUniform !== undefined) return logWithin(logUniform);
  if (normal !== undefined) return normal[0] + normal[1] * chance.normal();
  if (choice !== undefined) return weighted(choice, weights ?? choice.map(() => 1), chance.uniform());
  return fixed!;
}

/** @param lookUp the value at a key of the scenario so far. */
export function draw(distribution: Distribution, chance: Chance, lookUp: (key: string) => unknown): Scalar {
  const drawn = plain(distribution, chance);
  if (typeof drawn !== 'number') return drawn;
  const { times = 1, plus = 0, step, min = -Infinity, max = Infinity } = distribution;
  const of = (operand: number | string): number =>
    typeof operand === 'number' ? operand : Number(lookUp(operand));
  const value = drawn * of(times) + of(plus);
  const stepped = step === undefined ? value : Math.round(value / step) * step;
  return Math.min(max, Math.max(min, stepped));
}
