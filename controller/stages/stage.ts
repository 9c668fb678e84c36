// What a stage gets and what it answers, and the few words all stages share.
import type { Equipment } from '../equipment.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import { netMassKg } from '../estimates/scale.ts';
import type { Seen } from '../estimates/seen.ts';
import type { AirWatch } from '../interlocks/air-watch.ts';
import type { EngineSeen } from '../interlocks/engine-watch.ts';
import type { LossWatch } from '../interlocks/loss-watch.ts';
import type { LedgerEntry, Movement } from '../ledger.ts';
import type { NoticeDraft } from '../notices.ts';
import type { ConfirmedPrompt, OperatorEvent, PromptId } from '../operator.ts';
import type { Plan } from '../plan.ts';
import { type Command, type Commands, commandsOf, OFF, ON, type Output, VALVES } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import type { Accounts, Estimates } from '../state.ts';
import type { CommonData, WeighingInProgress } from './data-common.ts';

export type StageInput = {
  readonly plan: Plan;
  readonly equipment: Equipment;
  readonly nowMs: number;
  readonly seen: Seen;
  readonly estimates: Estimates;
  readonly accounts: Accounts;
  /** What the interlocks let through last scan. */
  readonly permitted: Commands;
  /** How long the compressor must still be off before it may start; and that it has been long enough. */
  readonly compressorRestLeftMs: number;
  readonly compressorRested: boolean;
  /** By the operator's word, or by what the sides show. */
  readonly engine: EngineSeen;
  /** What the scale says of a tank that is shut: `restMassOf` and `restFall` tell what comes of it. */
  readonly lossWatch: LossWatch;
  /** Since when the manifold has stood still at the pressure of the room: `suctionOf` tells what comes of it. */
  readonly airWatch: AirWatch;
  readonly answers: readonly OperatorEvent[];
};

export type StageStep<D> = {
  readonly data: D;
  readonly wanted: Commands;
  /** At most one; the stage is left on it. */
  readonly event?: StageEvent;
  /** What the visit is remembered by; the event unless given. */
  readonly result?: string;
  readonly notices?: readonly NoticeDraft[];
  readonly ledger?: readonly LedgerEntry[];
  readonly accounts?: Accounts;
  readonly prompt?: PromptId;
};

/** The same visit at another step, which begins now. A stage whose steps reset more has an `at` of its own. */
export const at = <D extends CommonData & { readonly step: string }>(
  data: D,
  step: D['step'],
  nowMs: number,
): D => ({ ...data, step, stepSinceMs: nowMs });

/** As `at`, and the next weighing begins afresh. */
export const atAfresh = <
  D extends CommonData & { readonly step: string; readonly weighing: WeighingInProgress | undefined },
>(
  data: D,
  step: D['step'],
  nowMs: number,
): D => ({ ...at(data, step, nowMs), weighing: undefined });

/** The named outputs on, everything else off. */
export const want = (...outputs: readonly Output[]): Commands =>
  commandsOf((output) => (outputs.includes(output) ? ON : OFF));

/** The same, but one output goes off by itself: the rig counts down. */
export function counted(commands: Commands, output: Output, ms: number): Commands {
  const command: Command = { on: true, offAfterMs: Math.round(ms) };
  return commandsOf((each) => (each === output ? command : commands[each]));
}

/** The ports of a vehicle: a vehicle with one port has the high-side one. */
export const forPorts = (...others: readonly Output[]): { readonly [ports in 1 | 2]: Commands } => ({
  1: want('highSideValve', ...others),
  2: want('highSideValve', 'lowSideValve', ...others),
});

export const confirms = (answers: readonly OperatorEvent[], prompt: ConfirmedPrompt): boolean =>
  answers.some((answer) => answer.type === 'confirmed' && answer.prompt === prompt);

const OUTWARD: readonly Movement[] = ['tank-to-vehicle', 'tank-to-separator', 'tank-to-air'];

/** Books what moved between the last weighing and this one. */
export function book(
  movement: Movement,
  before: Weighing,
  after: Weighing,
  input: Pick<StageInput, 'equipment' | 'accounts'>,
): LedgerEntry {
  const gain = gainOf(before, after, input.equipment, input.accounts.hoseForce);
  const outward = OUTWARD.includes(movement);
  return {
    movement,
    massKg: outward ? -gain.massKg : gain.massKg,
    sdKg: gain.sdKg,
    countsBefore: before.counts,
    countsAfter: after.counts,
    atMs: after.atMs,
  };
}

/** Tank mass now against a weighing, offsets and hose force taken out of both. Positive when the tank has lost. */
export function deliveredKg(
  reference: Weighing,
  { equipment, estimates, accounts }: Pick<StageInput, 'equipment' | 'estimates' | 'accounts'>,
): number {
  const referenceKg = netMassKg(reference.counts, equipment) - reference.offsetKg;
  return referenceKg - accounts.hoseForce.kgPerPa * reference.hoseGaugePa - estimates.scale.massKg;
}

/** The vehicle has been open, or will be before it is evacuated. */
export const isOpened = ({ plan, accounts }: Pick<StageInput, 'plan' | 'accounts'>): boolean =>
  plan.ticket.opened || plan.ticket.repair || accounts.repair !== undefined;

/** Everything that can move refrigerant or oil stands still. */
export const allShut = (permitted: Commands): boolean =>
  VALVES.every((valve) => !permitted[valve].on) && !permitted.compressor.on && !permitted.vacuumPump.on;

export const millilitres = (volumeM3: number): string => (volumeM3 * 1e6).toFixed(0);
export const kilograms = (massKg: number): string => massKg.toFixed(2);
/** Nothing weighed a little short of nothing is 0, not -0. */
export const grams = (massKg: number): string => (Math.round(massKg * 1000) + 0).toFixed(0);
export const kilopascals = (pressurePa: number): string => (pressurePa / 1000).toFixed(0);
export const minutes = (ms: number): string => (ms / 60_000).toFixed(0);
