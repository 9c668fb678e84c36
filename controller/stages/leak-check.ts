// Leak check: a partial charge, or what the vehicle holds as it stands, searched by a detector while nothing moves.
// The detector decides. The pressure is watched meanwhile, and only told.
import { STANDARD_ATMOSPHERE_PA } from '../constants.ts';
import { type PressureWatch, watched } from '../estimates/pressure-watch.ts';
import { barometerPa } from '../estimates/pressures.ts';
import type { Seen } from '../estimates/seen.ts';
import { updateTrend } from '../estimates/trend.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import type { Accounts } from '../state.ts';
import { enterPartialCharge, stepCharge } from './charge.ts';
import type { LeakCheckData } from './data-checks.ts';
import { grams, kilopascals, type StageInput, type StageStep } from './stage.ts';
import { whenWeighed } from './weighing.ts';

const TREND_S = 5;

export const enterLeakCheck = (nowMs: number): LeakCheckData => ({
  stage: 'leak-check',
  step: 'admit',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  admission: undefined,
  vehicle: undefined,
  from: undefined,
  to: undefined,
  seenAtMs: nowMs,
  ending: undefined,
  weighing: undefined,
});

type Step = StageStep<LeakCheckData>;

export function stepLeakCheck(before: LeakCheckData, input: StageInput): Step {
  if (before.step === 'admit') return admit(before, input);
  if (before.step === 'weigh') return weigh(before, input);
  const data = look(before, input);
  return data.step === 'settle' ? settle(data, input) : search(data, input);
}

const at = (data: LeakCheckData, step: LeakCheckData['step'], nowMs: number): LeakCheckData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  seenAtMs: nowMs,
});

/** A vehicle that was not evacuated is searched as it stands: nothing is let into what nobody has emptied. */
const asItStands = ({ accounts }: StageInput): boolean => accounts.evacuations === 0;

/** The charge's own steps, up to the partial charge. */
function admit(data: LeakCheckData, input: StageInput): Step {
  const { nowMs } = input;
  if (asItStands(input)) return { data: at(data, 'settle', nowMs), wanted: SAFE_COMMANDS };
  const stepped = stepCharge(data.admission ?? enterPartialCharge(nowMs), input);
  const { event, result, ...going } = stepped;
  const next = { ...data, admission: stepped.data };
  if (event === undefined) return { ...going, data: next };
  const accounts = stepped.accounts ?? input.accounts;
  if (event === 'charged') return { ...going, accounts, data: at(next, 'settle', nowMs) };
  // Nothing has left the tank before its first weighing, and none into a vehicle that has lost its vacuum.
  if (stepped.data.reference === undefined || event === 'vacuum-gone') return { ...going, data: next, event };
  return {
    ...going,
    data: next,
    event: 'search-failed',
    result: result ?? event,
    accounts: givingBack(withCheck(accounts, { watch: undefined, found: undefined })),
  };
}

/** The lowest that a gauge on one of the vehicle's ports shows, or nothing while one of them does not read. */
function vehiclePa({ lowSidePa, highSidePa }: Seen, ports: 1 | 2): number | undefined {
  if (ports === 1 || highSidePa === undefined) return highSidePa;
  return lowSidePa === undefined ? undefined : Math.min(lowSidePa, highSidePa);
}

/** Every valve is shut: the hoses show the vehicle. */
function look(data: LeakCheckData, { seen, plan, nowMs }: StageInput): LeakCheckData {
  const vehicle = updateTrend(data.vehicle, vehiclePa(seen, plan.ticket.ports), nowMs, TREND_S);
  return { ...data, vehicle, seenAtMs: vehicle === undefined ? data.seenAtMs : nowMs };
}

function settle(data: LeakCheckData, input: StageInput): Step {
  const { plan, nowMs } = input;
  const { leakCheck } = plan;
  const stay = { data, wanted: SAFE_COMMANDS };
  if (isBlind(data, input)) return fail(data, input, { code: 'search-blind' }, 'pressure-unknown');
  const waitedMs = nowMs - data.stepSinceMs;
  if (data.vehicle === undefined || waitedMs < leakCheck.settleMs) return stay;
  const calm = Math.abs(data.vehicle.perS) < leakCheck.calmPaPerS;
  if (!calm && waitedMs < leakCheck.settleMostMs) return stay;
  if (lacksPressure(data, input)) return failWithoutPressure(data, input);
  const weak = weakness(data.vehicle.value, input);
  return {
    data: { ...at(data, 'search', nowMs), from: lookOf(data, input) },
    wanted: SAFE_COMMANDS,
    notices: weak === undefined ? [] : [weak],
  };
}

const isBlind = ({ seenAtMs }: LeakCheckData, { nowMs, plan }: StageInput): boolean =>
  nowMs - seenAtMs > plan.leakCheck.blindMs;

const gaugePa = (pressurePa: number, { seen }: StageInput): number => pressurePa - barometerPa(seen);

/** What was let in must be there. What stood there by itself was looked at when the hoses were put on. */
const lacksPressure = ({ vehicle }: LeakCheckData, input: StageInput): boolean =>
  !asItStands(input) &&
  !(vehicle !== undefined && gaugePa(vehicle.value, input) >= input.plan.leakCheck.leastGaugePa);

function weakness(pressurePa: number, input: StageInput): NoticeDraft | undefined {
  const { plan, seen } = input;
  const pressed = gaugePa(pressurePa, input) >= plan.leakCheck.searchGaugePa;
  const warm = seen.ambientK !== undefined && seen.ambientK >= plan.leakCheck.searchK;
  if (pressed && warm) return undefined;
  const temperature =
    seen.ambientK === undefined ? 'an unknown number of' : (seen.ambientK - 273.15).toFixed(0);
  return {
    code: 'search-weak',
    with: { pressure: kilopascals(Math.max(gaugePa(pressurePa, input), 0)), temperature },
  };
}

const lookOf = ({ vehicle }: LeakCheckData, { seen, nowMs }: StageInput): LeakCheckData['from'] =>
  vehicle === undefined ? undefined : { pa: vehicle.value, ambientK: seen.ambientK, atMs: nowMs };

/** The question stands until it is answered by yes or no; and a no is worth nothing without pressure. */
function search(before: LeakCheckData, input: StageInput): Step {
  const data = { ...before, to: lookOf(before, input) };
  const answer = input.answers.find((each) => each.type === 'searched');
  const found: unknown = answer?.found;
  if (found !== true && found !== false) return { data, wanted: SAFE_COMMANDS, prompt: 'search-leak' };
  if (!found && data.vehicle === undefined)
    return fail(data, input, { code: 'search-blind' }, 'pressure-unknown');
  if (!found && lacksPressure(data, input)) return failWithoutPressure(data, input);
  return concluded(data, input, found);
}

function concluded(data: LeakCheckData, input: StageInput, found: boolean): Step {
  const { plan, equipment, nowMs } = input;
  const watch = data.from && watched(data.from, data.to, plan.curve, equipment);
  const accounts = withCheck(input.accounts, { watch, found });
  const notices = [
    ...(watch === undefined ? [] : [watchNotice(watch)]),
    ...(found ? [foundNotice(input)] : []),
  ];
  const step = { wanted: SAFE_COMMANDS, notices, accounts };
  const result = found ? 'found' : 'not-found';
  if (asItStands(input)) return { ...step, data, event: 'search-ended', result };
  if (!found && plan.stages.includes('charge')) return { ...step, data, event: 'search-clear', result };
  return { ...step, data: { ...at(data, 'weigh', nowMs), ending: found ? 'search-found' : 'search-clear' } };
}

const foundNotice = (input: StageInput): NoticeDraft =>
  asItStands(input)
    ? { code: 'search-found-as-it-stood' }
    : { code: 'search-found', with: { admitted: grams(input.accounts.chargedKg ?? 0) } };

function watchNotice({ said, fallPa = 0, minutes, limitKgPerYear = 0 }: PressureWatch): NoticeDraft {
  switch (said) {
    case 'fell':
      return { code: 'pressure-fell', with: { fall: (fallPa / 1000).toFixed(1) } };
    case 'steady':
      return {
        code: 'pressure-says-little',
        with: { minutes: minutes.toFixed(1), limit: limitKgPerYear.toPrecision(2) },
      };
    default:
      return { code: 'pressure-says-nothing', with: { reason: SAYS_NOTHING[said] } };
  }
}

const SAYS_NOTHING = {
  saturated: 'there may be liquid in the vehicle, and it holds the pressure whatever is lost',
  unknown: 'pressure or temperature was not known all the time',
} as const;

/** What goes back to the tank is weighed from here: nothing that the scale did during the search is booked. */
function weigh(data: LeakCheckData, input: StageInput): Step {
  const step = whenWeighed(data, input, (done, { accounts }, weighed) =>
    leaveBack(done, { ...accounts, weighed }),
  );
  // Without a scale it is the recovery that says so: what is out there must come back.
  return step.event === 'scale-lost' ? leaveBack(step.data, input.accounts) : step;
}

function leaveBack(data: LeakCheckData, accounts: Accounts): Step {
  const event: StageEvent = data.ending ?? 'search-clear';
  const result = event === 'search-found' ? 'found' : 'not-found';
  return { data, wanted: SAFE_COMMANDS, event, result, accounts: givingBack(accounts) };
}

const failWithoutPressure = (data: LeakCheckData, input: StageInput): Step => {
  const pressure = kilopascals(data.vehicle?.value ?? STANDARD_ATMOSPHERE_PA);
  return fail(data, input, { code: 'search-no-pressure', with: { pressure } }, 'no-pressure');
};

function fail(data: LeakCheckData, input: StageInput, notice: NoticeDraft, result: string): Step {
  const accounts = withCheck(input.accounts, { watch: undefined, found: undefined });
  const step = { data, wanted: SAFE_COMMANDS, result, notices: [notice] };
  return asItStands(input)
    ? { ...step, event: 'not-searched', accounts }
    : { ...step, event: 'search-failed', accounts: givingBack(accounts) };
}

type Outcome = { readonly watch: PressureWatch | undefined; readonly found: boolean | undefined };

const withCheck = (accounts: Accounts, { watch, found }: Outcome): Accounts => ({
  ...accounts,
  leakCheck: {
    ...(found === undefined ? {} : { found }),
    ...(watch === undefined ? {} : { watch }),
    ...(accounts.chargedKg === undefined ? {} : { admittedKg: accounts.chargedKg }),
  },
});

/** The recovery of the vehicle stands apart from that of the partial charge, which begins anew; nothing is left to charge. */
const givingBack = (accounts: Accounts): Accounts => ({
  ...accounts,
  recoveryBefore: {
    cycles: accounts.cycles,
    recoveredKg: accounts.recoveredKg,
    recoveredUncertaintyKg: accounts.recoveredUncertaintyKg,
    recoveredOverMs: accounts.recoveredOverMs,
  },
  cycles: [],
  recoveryStartedAtMs: undefined,
  weighedFirst: accounts.weighed,
  recoveredKg: undefined,
  recoveredUncertaintyKg: undefined,
  weighedBeforeCharge: undefined,
});
