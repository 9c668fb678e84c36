// What may go wrong within one run, drawn at random: the operator, the plant, the sensors, and how it ends.

import fc from 'fast-check';
import { SCAN_MS } from '../../app/run/loop.ts';
import {
  MEASURED,
  type Measured,
  OUTPUTS,
  type Output,
  SWITCHES,
  type Switch,
} from '../../controller/signals.ts';
import { FAULT_NAMES, FAULTS, type Fault } from '../../sim/faults.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { HandAction } from '../../sim/spec.ts';
import { JOB_NAMES, type JobName } from './starts.ts';

/** From the start of the run. */
type Span = { readonly fromMs: number; readonly forMs: number };

export const GARBAGE = [
  'NaN',
  '+∞',
  '−∞',
  'huge',
  'negative',
  'missing',
  'no-reason',
  'open-circuit',
  'stale',
  'stuck',
] as const;
export type Garbage = Span & {
  readonly sensor: Measured | Switch;
  readonly kind: (typeof GARBAGE)[number];
};

export type SwitchedFault = Span & { readonly fault: Fault };

/** How prompts are answered, and how long after they were asked. */
export type Answering = {
  readonly manner: 'does it' | 'says it twice' | 'gives a wrong answer' | 'stays away';
  readonly delayMs: number;
};

export type Act = { readonly atMs: number } & (
  | { readonly say: 'paused' | 'resumed' | 'reset' | 'by-hand-begun' | 'by-hand-ended' | 'all-wished-off' }
  | { readonly hand: HandAction; readonly said: boolean }
  /** Wished again and again until the time is over, whatever is refused. */
  | { readonly wish: readonly Output[]; readonly forMs: number; readonly pulseMs?: number }
);

export const ENDINGS = ['aborted', 'emergency-stop', 'gas-alarm', 'power-lost', 'link-lost'] as const;

export type Disturbance = {
  readonly profile: ProfileName;
  readonly job: JobName;
  /** Which of the job's moments, counted round. */
  readonly moment: number;
  /** The controller has just started on the machine as it stands, and knows nothing; it is worked by hand. */
  readonly byHand: boolean;
  readonly answering: Answering;
  readonly acts: readonly Act[];
  readonly faults: readonly SwitchedFault[];
  readonly garbage: readonly Garbage[];
  readonly lastsMs: number;
  readonly ending: (typeof ENDINGS)[number];
};

/** With the end of it, three minutes at most. */
const LONGEST_MS = 170_000;
const scans = (most: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: most / SCAN_MS }).map((count) => count * SCAN_MS);
/** Evenly over the range: floating-point numbers as such lie mostly near 0. */
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1_000 }).map((share) => min + (share / 1_000) * (max - min));
/** Most runs are short, so that there are many. */
const lastsMs = fc.oneof(
  { weight: 3, arbitrary: scans(60_000) },
  { weight: 1, arbitrary: scans(LONGEST_MS) },
);
const span = {
  fromMs: fc.oneof(scans(3_000), scans(40_000)),
  forMs: fc.oneof(scans(20_000), fc.constant(LONGEST_MS)),
};

const HANDS: readonly HandAction[] = [
  'connect-hoses',
  'close-couplers',
  'close-high-coupler',
  'disconnect-hoses',
  'start-engine',
  'stop-engine',
];

const fault: fc.Arbitrary<Fault> = fc.constantFrom(...FAULT_NAMES).chain((name) => {
  const { size, output } = FAULTS[name];
  return fc.record(
    {
      fault: fc.constant(name),
      ...(size === undefined ? {} : { size: between(size.min, size.max) }),
      ...(output ? { output: fc.constantFrom(...OUTPUTS) } : {}),
    },
    { requiredKeys: output ? ['fault', 'output'] : ['fault'] },
  ) as fc.Arbitrary<Fault>;
});

/** Ways that somebody who knows the machine would open, and any others. */
const WAYS: readonly (readonly Output[])[] = [
  ['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'],
  ['lowSideValve', 'recoveryValve', 'compressor'],
  ['vacuumPump', 'highSideValve', 'lowSideValve', 'vacuumValve'],
  ['highSideValve', 'chargeValve'],
  ['lowSideValve', 'chargeValve'],
  ['chargeValve'],
  ['recoveryValve', 'separatorDrainValve'],
  ['highSideValve', 'oilValve'],
  ['highSideValve', 'dyeValve'],
  ['airPurgeValve'],
  ['tankHeater'],
];
const ways = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...WAYS) },
  { weight: 1, arbitrary: fc.uniqueArray(fc.constantFrom(...OUTPUTS), { minLength: 1, maxLength: 5 }) },
);
const wish: fc.Arbitrary<Act> = fc.record(
  { atMs: scans(60_000), wish: ways, forMs: scans(60_000), pulseMs: fc.integer({ min: 100, max: 3_000 }) },
  { requiredKeys: ['atMs', 'wish', 'forMs'] },
);
const hand: fc.Arbitrary<Act> = fc.record({
  atMs: scans(60_000),
  hand: fc.constantFrom(...HANDS),
  said: fc.boolean(),
});
const say = (...words: readonly Extract<Act, { say: unknown }>['say'][]): fc.Arbitrary<Act> =>
  fc.record({ atMs: scans(60_000), say: fc.constantFrom(...words) });

const inJob = fc.array(
  fc.oneof(
    { weight: 3, arbitrary: say('paused', 'resumed', 'reset', 'resumed', 'by-hand-begun', 'all-wished-off') },
    { weight: 2, arbitrary: hand },
    { weight: 1, arbitrary: wish },
  ),
  { maxLength: 4 },
);
const byHand = fc
  .array(
    fc.oneof(
      { weight: 5, arbitrary: wish },
      { weight: 2, arbitrary: hand },
      { weight: 1, arbitrary: say('reset', 'by-hand-ended', 'all-wished-off') },
    ),
    { minLength: 1, maxLength: 6 },
  )
  .map((acts): readonly Act[] => [{ atMs: 0, say: 'by-hand-begun' }, ...acts]);

const answering: fc.Arbitrary<Answering> = fc.record({
  manner: fc.constantFrom('does it', 'does it', 'says it twice', 'gives a wrong answer', 'stays away'),
  delayMs: scans(30_000),
});
const garbage: fc.Arbitrary<Garbage> = fc.record({
  ...span,
  sensor: fc.constantFrom(...MEASURED, ...SWITCHES),
  kind: fc.constantFrom(...GARBAGE),
});

export const disturbances = (profile: ProfileName): fc.Arbitrary<Disturbance> =>
  fc
    .oneof({ weight: 3, arbitrary: fc.constant(false) }, { weight: 1, arbitrary: fc.constant(true) })
    .chain((hands) =>
      fc.record({
        profile: fc.constant(profile),
        job: fc.constantFrom(...JOB_NAMES),
        moment: fc.nat(9_999),
        byHand: fc.constant(hands),
        answering,
        acts: hands ? byHand : inJob,
        faults: fc.array(fc.record({ ...span, fault }), { maxLength: 3 }),
        garbage: fc.oneof(
          { weight: 2, arbitrary: fc.constant([]) },
          { weight: 1, arbitrary: fc.array(garbage, { minLength: 1, maxLength: 3 }) },
        ),
        lastsMs,
        ending: fc.oneof(
          { weight: 3, arbitrary: fc.constant('aborted' as const) },
          { weight: 2, arbitrary: fc.constantFrom(...ENDINGS) },
        ),
      }),
    );
