// What a page says to the server: every message with its bounds. What the server says is in shown.ts.
import * as z from 'zod';
import { PROMPTS } from '../../controller/operator.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { LINE_IDS } from '../../hardware/commissioning/record.ts';
import { FAULT_NAMES, type FaultName } from '../../sim/faults.ts';
import { UPKEEP_ITEMS } from '../records/lines.ts';
import { ONE_LINE } from '../scenario/one-line.ts';

/** Longer than any of them is. */
export const LONGEST_MESSAGE_BYTES = 4096;
/** A word or a sentence of the operator. */
const text = z.string().min(1).max(200).regex(ONE_LINE);
/** Of commissioning: the engine says what is wrong with it. */
const answerText = z.string().max(200);
const mass = z.number().positive().max(1000);
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
  z.strictObject({ type: z.literal('commission'), line: z.enum(LINE_IDS).optional() }),
  z.strictObject({ type: z.literal('commission-answer'), asked: z.number(), text: answerText }),
  z.strictObject({ type: z.literal('commission-go'), where: z.enum(['back', 'skip', 'quit']) }),
  z.strictObject({ type: z.literal('look-up'), words: z.string().max(120) }),
  z.strictObject({
    type: z.literal('upkeep-done'),
    machine: text,
    item: z.enum(UPKEEP_ITEMS),
    failed: z.boolean(),
    weightKg: mass.optional(),
    readKg: mass.optional(),
    stepG: z.number().min(0).max(10_000).optional(),
    note: text.optional(),
  }),
] as const;

export const messageSchema = z.discriminatedUnion('type', MESSAGES);
export type Message = z.output<typeof messageSchema>;
export type Answer = z.output<(typeof ANSWERS)[number]>;
export type Speed = Extract<Message, { type: 'time' }>['speed'];
