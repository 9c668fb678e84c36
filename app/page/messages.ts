// What page and server say to each other: every message of the page with its bounds, every message of the server as a type.
import * as z from 'zod';
import type { Blocker, Notice } from '../../controller/notice.ts';
import { PROMPTS, type Prompt } from '../../controller/operator.ts';
import type { Progress } from '../../controller/progress.ts';
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { Stage } from '../../controller/stages.ts';
import type { HoldAccount } from '../../controller/state.ts';
import { FAULT_NAMES, type FaultName } from '../../sim/faults.ts';
import type { Truth } from '../../sim/spec.ts';

/** Longer than any of them is. */
export const LONGEST_MESSAGE_BYTES = 4096;
/** A word or a sentence of the operator. */
const text = z
  .string()
  .min(1)
  .max(200)
  .regex(/^\P{Cc}*$/u);
const percent = z.number().min(0).max(100);

/** An answer belongs to one asking: what is asked later is not answered by it. */
const answerOf = <S extends z.ZodRawShape>(shape: S) =>
  z.strictObject({ prompt: z.enum(PROMPTS), askedAtMs: z.number(), ...shape });

const ANSWERS = [
  answerOf({ kind: z.literal('done') }),
  answerOf({ kind: z.literal('declined') }),
  answerOf({
    kind: z.literal('reading'),
    refrigerant: text,
    purityPercent: percent,
    airPercent: percent.optional(),
    hydrocarbonPercent: percent.optional(),
  }),
  answerOf({
    kind: z.literal('no-reading'),
    why: z.enum(['no-pressure', 'identified-elsewhere']),
    reason: text,
  }),
  answerOf({ kind: z.literal('volume'), volumeM3: z.number().min(0).max(0.01) }),
  answerOf({ kind: z.literal('searched'), found: z.boolean() }),
] as const;

const SAID = [
  'paused',
  'resumed',
  'aborted',
  'reset',
  'by-hand-begun',
  'by-hand-ended',
  'all-wished-off',
] as const;

const FASTEST = 1000;

const MESSAGES = [
  z.strictObject({ type: z.literal('take-control') }),
  z.strictObject({ type: z.literal('release-control') }),
  z.strictObject({ type: z.literal('choose'), id: z.string().max(80) }),
  z.strictObject({ type: z.literal('ticket'), ticket: z.record(z.string().max(40), z.unknown()) }),
  z.strictObject({ type: z.literal('start') }),
  z.strictObject({ type: z.literal('say'), what: z.enum(SAID) }),
  z.strictObject({
    type: z.literal('wish'),
    output: z.enum(OUTPUTS),
    on: z.boolean(),
    offAfterMs: z.number().min(50).max(3_600_000).optional(),
  }),
  z.strictObject({ type: z.literal('answer'), answer: z.discriminatedUnion('kind', ANSWERS) }),
  z.strictObject({
    type: z.literal('hands'),
    action: z.enum([
      'connect-hoses',
      'close-couplers',
      'close-high-coupler',
      'disconnect-hoses',
      'start-engine',
      'stop-engine',
    ]),
  }),
  z.strictObject({ type: z.literal('simulated-operator'), on: z.boolean() }),
  z.strictObject({
    type: z.literal('time'),
    running: z.boolean(),
    speed: z.union([z.number().min(0.1).max(FASTEST), z.literal('fastest')]),
  }),
  z.strictObject({ type: z.literal('step') }),
  z.strictObject({
    type: z.literal('fault'),
    fault: z.enum(FAULT_NAMES as readonly [FaultName, ...FaultName[]]),
    output: z.enum(OUTPUTS).optional(),
    size: z.number().optional(),
    on: z.boolean(),
    shown: z.boolean(),
  }),
  z.strictObject({ type: z.literal('reveal'), on: z.boolean() }),
] as const;

export const messageSchema = z.discriminatedUnion('type', MESSAGES);
export type Message = z.output<typeof messageSchema>;
export type Answer = z.output<(typeof ANSWERS)[number]>;
export type Speed = Extract<Message, { type: 'time' }>['speed'];

/** Who looks: the teacher sees the truth and what is wrong, the class what the machine shows. */
export type Audience = 'class' | 'teacher';

export type Span = { readonly lowMs: number; readonly highMs: number };

/** A stage of the plan with its time, spent or expected. */
export type RibbonStage = {
  readonly stage: Stage;
  readonly state: 'done' | 'now' | 'next' | 'skipped';
  readonly elapsedMs?: number;
  readonly expected?: Span;
  readonly result?: string;
};

export type OutputView = {
  readonly output: Output;
  readonly fitted: boolean;
  /** What sequence or operator want, and what the interlocks have left of it. */
  readonly wanted: boolean;
  readonly on: boolean;
  /** Commanded for longer than its dead time: it has acted, unless it is broken. */
  readonly settled: boolean;
  /** By hand: until when, and why it would be refused. */
  readonly untilMs?: number;
  readonly refusal?: { readonly row: string; readonly because: string; readonly remedy: string };
};

export type FaultView = {
  readonly fault: FaultName;
  readonly output?: Output;
  readonly size?: number;
  readonly shown: boolean;
};

export type Score = {
  readonly chargeErrorKg?: number;
  readonly residualKg?: number;
  readonly trips: number;
  readonly refusedWishes: number;
  readonly lostKg: number;
  readonly lastedMs: number;
};

/** What only the teacher's snapshots hold. */
export type TeacherView = {
  readonly truth: Truth;
  /** Outputs that really act. */
  readonly acting: readonly Output[];
  readonly vehicleLiquidKg: number;
  readonly faults: readonly FaultView[];
  readonly score: Score;
  readonly revealed: boolean;
};

export type TimeView = {
  readonly running: boolean;
  readonly speed: Speed;
  /** Simulated seconds in the last second. */
  readonly achieved: number;
};

export type Phase = 'ready' | 'job' | 'ended' | 'by-hand' | 'broken';

/** Everything that a view shows, ten times a second at most. */
export type Snapshot = {
  readonly type: 'snapshot';
  readonly nowMs: number;
  readonly phase: Phase;
  readonly name: string;
  readonly chosen: string;
  readonly ticket: TicketView;
  readonly blockers: readonly Blocker[];
  readonly progress: Progress;
  readonly ribbon: readonly RibbonStage[];
  readonly prompt?: Prompt & { readonly shows?: PromptShows; readonly underWay: boolean };
  readonly trip?: { readonly reason: string; readonly remedy: string; readonly atMs: number };
  readonly outcome?: string;
  readonly hosesSafe: boolean;
  readonly outputs: readonly OutputView[];
  readonly fanTurns?: boolean;
  readonly emergencyStop?: boolean;
  readonly highPressureSwitch?: boolean;
  readonly gasAlarm?: boolean;
  readonly saturation: { readonly highK?: number; readonly lowK?: number; readonly tankK?: number };
  readonly manifoldOverSpan: boolean;
  readonly ambientK?: number;
  readonly barometerPa: number;
  readonly tank: {
    readonly fillLimitKg: number;
    readonly waterCapacityM3: number;
    readonly reserveKg: number;
  };
  readonly masses: {
    readonly recoveredKg?: number;
    readonly chargedKg?: number;
    readonly netChargeKg?: number;
    readonly uncertaintyKg?: number;
    readonly hoseRecoveredKg?: number;
  };
  readonly scaleTrust: string;
  readonly cyclesKg: readonly number[];
  readonly hold?: HoldView;
  readonly noticeCount: number;
  readonly simulatedOperator: boolean;
  readonly time?: TimeView;
  readonly faults: readonly FaultView[];
  readonly score?: Score;
  readonly control: { readonly held: boolean; readonly watching: number };
  readonly teacher?: TeacherView;
};

/** What a simulated instrument in the operator's hand shows. */
export type PromptShows = {
  readonly reading?: {
    readonly refrigerant: string;
    readonly purityPercent: number;
    readonly airPercent?: number;
  };
  readonly noSample?: string;
  readonly volumeM3?: number;
  readonly detector?: boolean;
};

export type TicketView = {
  readonly service: string;
  readonly refrigerant: string;
  readonly nominalChargeKg: number;
};

export type HoldView = {
  readonly intervalS: number;
  readonly samplesPa: readonly number[];
  readonly fitPa: readonly number[];
  readonly account?: HoldAccount;
};

/**
 * A row of the trend; null is no reading: time in ms, high side, low side, manifold, vehicle vacuum and tank in Pa, tank and
 * air in K, net mass in kg, flow in kg/s, and the stage as a place in the list of stages, −1 for none.
 */
export type TrendRow = readonly (number | null)[];

/** Of the refrigerant, for dials and diagrams: plain tables, rising in temperature. */
export type Dome = {
  readonly refrigerant: string;
  readonly temperatureK: readonly number[];
  readonly pressurePa: readonly number[];
  readonly liquidJPerKg: readonly number[];
  readonly vapourJPerKg: readonly number[];
  readonly liquidDensityKgPerM3: readonly number[];
  readonly vapourDensityKgPerM3: readonly number[];
};

export type LessonView = {
  readonly id: string;
  readonly title: string;
  readonly aim: string;
  readonly setUp: string;
  readonly question: string;
  readonly options: readonly string[];
  readonly lookFor: readonly string[];
  readonly scoreRule: string;
  /** Only for the teacher, or once revealed. */
  readonly answer?: number;
  readonly explanation?: string;
  readonly teacherNote?: string;
};

export type Welcome = {
  readonly type: 'welcome';
  readonly audience: Audience;
  readonly simulated: boolean;
  readonly choices: readonly { readonly id: string; readonly name: string }[];
  readonly refrigerants: readonly string[];
  readonly stages: readonly Stage[];
  readonly dome: Dome;
  readonly lessons: readonly LessonView[];
  /** Only for the teacher. */
  readonly faultKinds?: readonly FaultKindView[];
};

export type FaultKindView = {
  readonly fault: FaultName;
  readonly meaning: string;
  readonly needsOutput: boolean;
  readonly size?: {
    readonly unit: string;
    readonly default: number;
    readonly min: number;
    readonly max: number;
  };
};

export type ServerMessage =
  | Welcome
  | Snapshot
  | { readonly type: 'control'; readonly yours: boolean }
  | { readonly type: 'refused'; readonly what: string; readonly because: string }
  /** `epoch` changes when the rows before no longer count. */
  | {
      readonly type: 'trend';
      readonly epoch: number;
      readonly from: number;
      readonly rows: readonly TrendRow[];
    }
  | {
      readonly type: 'notices';
      readonly epoch: number;
      readonly from: number;
      readonly notices: readonly Notice[];
    };
