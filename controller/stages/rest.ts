// Rest: compressor off, vehicle joined to the gauge. A rise says that liquid is still boiling; only calm says done.

import type { Weighing } from '../estimates/masses.ts';
import { circuitPa } from '../estimates/pressures.ts';
import { residueOf } from '../estimates/residue.ts';
import { tankExcessPa } from '../estimates/tank-air.ts';
import type { NoticeDraft } from '../notices.ts';
import type { Plan } from '../plan.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import type { Accounts } from '../state.ts';
import { mayWarm } from '../ticket.ts';
import type { RestData, RestVerdict } from './data-recovery.ts';
import { recovered } from './recovered.ts';
import { at, book, forPorts, kilopascals, minutes, type StageInput, type StageStep } from './stage.ts';
import { whenWeighed } from './weighing.ts';

/** Hose, manifold and vehicle have become one pressure (estimate). */
const JOINED_MS = 3_000;
const VEHICLE_VALVES = forPorts();

export const enterRest = (nowMs: number): RestData => ({
  stage: 'rest',
  step: 'open',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  samplesPa: [],
  sampledAtMs: nowMs,
  verdict: undefined,
  weighing: undefined,
});

type Step = StageStep<RestData>;

export function stepRest(data: RestData, input: StageInput): Step {
  if (data.step === 'weigh') return whenWeighed(data, input, weigh);
  const sampled = sample(data, input);
  const wanted = VEHICLE_VALVES[input.plan.ticket.ports];
  if (isBlind(sampled, input)) {
    return input.nowMs - data.sinceMs < input.plan.rest.timeoutMs
      ? { data: sampled, wanted }
      : {
          data: sampled,
          wanted: SAFE_COMMANDS,
          event: 'timed-out',
          result: 'pressure-unknown',
          notices: [{ code: 'pressure-unknown' }],
        };
  }
  const verdict = judge(sampled, input);
  if (verdict === undefined) return { data: sampled, wanted };
  const next: RestData = { ...at(sampled, 'weigh', input.nowMs), verdict };
  return verdict === 'rose'
    ? leave(next, input, withRise(input.accounts, risePa(sampled)))
    : { data: next, wanted };
}

function sample(data: RestData, input: StageInput): RestData {
  const { nowMs, seen, plan } = input;
  const pressurePa = circuitPa(seen, plan.ticket.ports);
  const first = data.samplesPa.length === 0;
  const dueMs = first ? data.sinceMs + JOINED_MS : data.sampledAtMs + plan.rest.sampleMs;
  if (pressurePa === undefined || nowMs < dueMs) return data;
  // After a gap only the first sample still stands at a known distance: what is older than steady proves nothing.
  const gap = !first && nowMs > dueMs + plan.rest.sampleMs;
  const samplesPa = gap ? [data.samplesPa[0]!, pressurePa] : [...data.samplesPa, pressurePa];
  return { ...data, samplesPa, sampledAtMs: nowMs };
}

/** No sensor has told of the pressure lately: unknown is not calm. */
const isBlind = ({ samplesPa, sampledAtMs }: RestData, { nowMs, plan }: StageInput): boolean =>
  samplesPa.length === 0 || nowMs - sampledAtMs > 2 * plan.rest.sampleMs;

const risePa = ({ samplesPa }: RestData): number => (samplesPa.at(-1) ?? 0) - (samplesPa[0] ?? 0);

/** Change over the last so many milliseconds, or none while there are not enough samples. */
function changePa(data: RestData, overMs: number, sampleMs: number): number | undefined {
  const count = Math.round(overMs / sampleMs);
  const before = data.samplesPa.at(-1 - count);
  return before === undefined ? undefined : data.samplesPa.at(-1)! - before;
}

function judge(data: RestData, input: StageInput): RestVerdict | undefined {
  const { plan, nowMs, accounts } = input;
  const { rest } = plan;
  const elapsedMs = nowMs - data.sinceMs;
  if (elapsedMs < rest.earliestMs || input.compressorRestLeftMs > plan.recover.compressorDelayMs)
    return undefined;
  const rise = risePa(data);
  const recentPa = changePa(data, rest.slopeMs, rest.sampleMs) ?? 0;
  if (rise >= rest.risePa && recentPa > 0) return 'rose';
  if (elapsedMs < rest.longMs) return undefined;
  const lastPa = data.samplesPa.at(-1);
  if (lastPa !== undefined && lastPa >= rest.leftPa) return 'rose';
  const stablePa = changePa(data, rest.stableMs, rest.sampleMs);
  const stable = stablePa !== undefined && Math.abs(stablePa) < rest.stablePa;
  if (!stable && elapsedMs < rest.timeoutMs) return undefined;
  const worthwhile = (accounts.cycles.at(-1)?.recoveredKg ?? 0) >= rest.worthKg;
  return rise >= rest.smallRisePa && worthwhile ? 'rose-slightly' : 'stayed-low';
}

function withRise(accounts: Accounts, restRisePa: number): Accounts {
  const last = accounts.cycles.at(-1);
  if (last === undefined) return accounts;
  return { ...accounts, cycles: [...accounts.cycles.slice(0, -1), { ...last, restRisePa }] };
}

function weigh(data: RestData, input: StageInput, weighed: Weighing): Step {
  const { accounts } = input;
  const entry = book('vehicle-to-tank', accounts.weighed ?? weighed, weighed, input);
  const left = leave(data, input, {
    ...withRise(recovered(accounts, entry.massKg, weighed, input), risePa(data)),
  });
  return { ...left, ledger: [entry] };
}

/** Another cycle if one is worth it and allowed; otherwise on, unless liquid is left. */
function leave(data: RestData, input: StageInput, accounts: Accounts): Step {
  const { plan, nowMs } = input;
  const spentMs = nowMs - (accounts.recoveryStartedAtMs ?? nowMs);
  const exhausted = accounts.cycles.length >= plan.recover.cycles || spentMs >= plan.recover.totalMs;
  const drawnInPa = data.verdict === 'rose' ? airDrawnInPa(input) : 0;
  const event = eventOf(data.verdict, exhausted || drawnInPa > plan.rest.tankAirPa);
  const left = { data, wanted: SAFE_COMMANDS, event };
  if (drawnInPa <= plan.rest.tankAirPa) {
    const notices = noticesOf(event, data, spentMs, accounts, plan);
    const unclear = event === 'liquid-left' && !metLiquid(accounts.cycles, plan);
    return { ...left, accounts: unclear ? doubtingLittle(accounts, plan) : accounts, notices };
  }
  const air: NoticeDraft = { code: 'air-drawn-in', with: { excess: kilopascals(drawnInPa) } };
  return { ...left, accounts: doubtingAir(accounts), notices: [air] };
}

/** What came after the first rise may all be air: neither scale nor displacement can tell. */
function doubtingAir(accounts: Accounts): Accounts {
  const laterKg = accounts.cycles.slice(1).reduce((sum, { recoveredKg }) => sum + recoveredKg, 0);
  return { ...accounts, recoveredUncertaintyKg: (accounts.recoveredUncertaintyKg ?? 0) + laterKg };
}

/** Draws that brought next to nothing and did not end the rise may have brought air. */
function doubtingLittle(accounts: Accounts, { rest }: Plan): Accounts {
  const littleKg = accounts.cycles.reduce(
    (sum, { recoveredKg }) => sum + littleOf(recoveredKg, rest.worthKg),
    0,
  );
  return { ...accounts, recoveredUncertaintyKg: (accounts.recoveredUncertaintyKg ?? 0) + littleKg };
}

const littleOf = (kg: number, worthKg: number): number => (kg < worthKg ? Math.max(kg, 0) : 0);

/** By how much the tank's excess over saturation has grown; offsets drop out. */
export function knownAirDrawnInPa({ seen, plan, accounts }: StageInput): number | undefined {
  const nowPa = tankExcessPa(seen, plan.curve);
  const firstPa = accounts.tankExcessFirstPa;
  return nowPa === undefined || firstPa === undefined ? undefined : nowPa - firstPa;
}

/** The same; unknown is nothing that could be told. */
export const airDrawnInPa = (input: StageInput): number => knownAirDrawnInPa(input) ?? 0;

function eventOf(verdict: RestVerdict | undefined, exhausted: boolean): StageEvent {
  if (verdict === 'rose') return exhausted ? 'liquid-left' : 'pressure-rose';
  return verdict === 'rose-slightly' && !exhausted ? 'pressure-rose' : 'rest-stayed-low';
}

/** A draw that brought next to nothing has hardly met liquid; a condenser that keeps it back may look the same. */
const metLiquid = (cycles: Accounts['cycles'], { rest }: Plan): boolean =>
  (cycles.at(-1)?.recoveredKg ?? 0) >= rest.worthKg;

/** What a rise that does not end is put down to, where the last draw met liquid and where it did not. */
const leftOf = (met: boolean): Readonly<Record<'what' | 'why' | 'first', string>> =>
  met
    ? { what: 'Refrigerant is still left', why: '', first: '' }
    : {
        what: 'The last draw brought next to nothing, and the pressure still rises',
        why: ' Oil gives off the last of what it holds, or air comes in through a hole.',
        first: 'Look for a hole in the vehicle and for a hose that leaks. ',
      };

/** What the next cold vehicle with such an engine may be spared. */
const warmingHelps = ({ ticket }: Plan): string =>
  mayWarm(ticket) && !ticket.warmUp
    ? ' Another time let the engine warm the vehicle before the recovery: the ticket can ask for it.'
    : '';

/** A second draw of a warm vehicle brings a few grams out of its oil, of one that has stayed cold many times that (estimate). */
const LIQUID_KG = 0.03;

/** After the first draw a rise says enough, but for a vehicle that was warmed by its engine: its oil alone makes as much. */
const showsLiquid = (cycles: Accounts['cycles'], { ticket }: Plan): boolean =>
  ticket.warmUp ? cycles.length === 2 && (cycles[1]?.recoveredKg ?? 0) >= LIQUID_KG : cycles.length === 1;

export const liquidTrapped = (plan: Plan): NoticeDraft => ({
  code: 'liquid-trapped',
  with: { also: warmingHelps(plan) },
});

function noticesOf(
  event: StageEvent,
  data: RestData,
  spentMs: number,
  { cycles }: Accounts,
  plan: Plan,
): readonly NoticeDraft[] {
  if (event === 'liquid-left') {
    const spent = { cycles: String(cycles.length), minutes: minutes(spentMs) };
    return [{ code: 'liquid-left', with: { ...spent, ...leftOf(metLiquid(cycles, plan)) } }];
  }
  if (event !== 'pressure-rose') return [];
  const seconds = ((data.stepSinceMs - data.sinceMs) / 1000).toFixed(0);
  const rose: NoticeDraft = {
    code: metLiquid(cycles, plan) ? 'restarted-on-rise' : 'restarted-on-vapour',
    with: { rise: kilopascals(risePa(data)), seconds },
  };
  const heatLimited =
    data.verdict === 'rose' &&
    (showsLiquid(cycles, plan) || residueOf(cycles.map((c) => c.recoveredKg)).kind === 'liquid');
  const told = cycles[0]?.unrested === true;
  return heatLimited && cycles.length <= 2 && !told ? [rose, liquidTrapped(plan)] : [rose];
}
