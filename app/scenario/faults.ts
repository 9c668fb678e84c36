// The faults of a scenario: which, how strong, from when and for how long.
import * as z from 'zod';
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { FAULT_NAMES, FAULTS, type Fault, type FaultName } from '../../sim/faults.ts';
import { nearest, suggestion } from '../cli/nearest.ts';
import { type Quantity, quantity, shown } from './quantity.ts';

/** One fault with its time. */
export type PlannedFault = {
  readonly fault: Fault;
  /** Counted from the start of the job, or from the first entry of a stage. */
  readonly from: { readonly afterMs: number; readonly stage?: Stage };
  /** Left out: for good. */
  readonly forMs?: number;
};

const MOST_FAULTS = 100;
/** Two days, the longest that a job may take. */
const TIME: Quantity = { unit: 's', min: 0, max: 172_800 };
/** A shorter one would be over before any scan sees it. */
const DURATION: Quantity = { ...TIME, min: 0.1 };

const isFault = (word: string): word is FaultName => Object.hasOwn(FAULTS, word);
const isStage = (word: string): word is Stage => (STAGES as readonly string[]).includes(word);
const isOutput = (word: string): word is Output => (OUTPUTS as readonly string[]).includes(word);

/** One of the known words; a wrong one is answered with the nearest. */
const word = <W extends string>(known: (given: string) => given is W, remedy: (given: string) => string) =>
  z
    .string({
      error: ({ input }) =>
        input === undefined
          ? `is missing: ${remedy('')}`
          : `must be text, not ${shown(input)}; ${remedy('')}`,
    })
    .transform((given, context): W => {
      if (known(given)) return given;
      context.addIssue({ code: 'custom', message: `${shown(given)} is not known; ${remedy(given)}` });
      return z.NEVER;
    });

function faultRemedy(given: string): string {
  const near = given === '' ? [] : nearest(given, FAULT_NAMES);
  if (near.length > 0) return `did you mean ${near.join(' or ')}?`;
  return "'coldbench faults' lists the names";
}

const entry = z
  .strictObject(
    {
      fault: word(isFault, faultRemedy),
      atS: quantity(TIME).optional(),
      stage: word(isStage, (given) => suggestion(given, STAGES)).optional(),
      afterS: quantity(TIME).optional(),
      forS: quantity(DURATION).optional(),
      output: word(isOutput, (given) => suggestion(given, OUTPUTS)).optional(),
      size: z.number({ error: ({ input }) => `must be a number, not ${shown(input)}` }).optional(),
    },
    {
      error: ({ input, code }) =>
        code === 'invalid_type'
          ? `must be an object such as {"fault": "scale-stuck", "atS": 60}, not ${shown(input)}`
          : undefined,
    },
  )
  .superRefine((given, context) => {
    for (const [key, message] of problems(given))
      context.addIssue({ code: 'custom', path: key === undefined ? [] : [key], message });
  });

type Entry = {
  readonly fault: FaultName;
  readonly atS?: number | undefined;
  readonly stage?: Stage | undefined;
  readonly afterS?: number | undefined;
  readonly forS?: number | undefined;
  readonly output?: Output | undefined;
  readonly size?: number | undefined;
};

type Problem = readonly [key: string | undefined, message: string];

/** What does not go together. */
function* problems(given: Entry): Generator<Problem> {
  if (given.atS !== undefined && given.stage !== undefined)
    yield [undefined, 'has both atS and stage; keep the one that shall decide'];
  else if (given.afterS !== undefined && given.stage === undefined)
    yield ['afterS', 'counts from the entry of a stage; name the stage, or write atS instead'];
  yield* outputProblems(given);
  yield* sizeProblems(given);
}

function* outputProblems({ fault, output }: Entry): Generator<Problem> {
  if (FAULTS[fault].output === undefined) {
    if (output !== undefined) yield ['output', `is not for ${fault}; leave it out`];
    return;
  }
  if (output === undefined)
    yield ['output', `is missing: ${fault} strikes one output; give one of ${OUTPUTS.join(', ')}`];
}

function* sizeProblems({ fault, size }: Entry): Generator<Problem> {
  if (size === undefined) return;
  const bounds = FAULTS[fault].size;
  if (bounds === undefined) {
    yield ['size', `is not for ${fault}; leave it out`];
    return;
  }
  for (const issue of quantity(bounds).safeParse(size).error?.issues ?? []) yield ['size', issue.message];
}

export const faultsSchema = z
  .array(entry, { error: ({ input }) => `must be a list, not ${shown(input)}` })
  .max(MOST_FAULTS, `may have at most ${MOST_FAULTS} entries`);

function plannedFault({ fault, output, size, stage, atS, afterS, forS }: Entry): PlannedFault {
  return {
    fault: {
      fault,
      ...(output === undefined ? {} : { output }),
      ...(size === undefined ? {} : { size }),
    },
    from: {
      afterMs: Math.round((atS ?? afterS ?? 0) * 1000),
      ...(stage === undefined ? {} : { stage }),
    },
    ...(forS === undefined ? {} : { forMs: Math.round(forS * 1000) }),
  };
}

export const plannedFaults = (entries: z.output<typeof faultsSchema>): readonly PlannedFault[] =>
  entries.map(plannedFault);
