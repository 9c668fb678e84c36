// Add oil, then dye: the vacuum draws what was drained and what the ticket asks for through the high side, by measured time.
import { barometerPa } from '../estimates/pressures.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { Accounts } from '../state.ts';
import type { Liquid } from '../ticket.ts';
import { readCatchBottle } from './catch-bottle.ts';
import type { AddOilData } from './data-vacuum.ts';
import { dueM3, missing } from './due.ts';
import { at, confirms, counted, millilitres, type StageInput, type StageStep, want } from './stage.ts';

const OPEN = want('highSideValve');
const DOSE = { oil: want('highSideValve', 'oilValve'), dye: want('highSideValve', 'dyeValve') } as const;
/** The countdown has run out and the valve has shut for certain. */
const AFTER_DOSE_MS = 300;

export const enterAddOil = (nowMs: number): AddOilData => ({
  stage: 'add-oil',
  step: 'read',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  ...of('oil'),
});

/** Nothing drawn out of this bottle yet. */
const of = (liquid: Liquid) => ({
  liquid,
  filled: false,
  givenM3: 0,
  flowM3PerS: 0,
  doseMs: 0,
  fromPa: 0,
});

type Step = StageStep<AddOilData>;

export function stepAddOil(data: AddOilData, input: StageInput): Step {
  switch (data.step) {
    case 'read':
      return read(data, input);
    case 'open':
      return open(data, input);
    case 'dose':
      return dose(data, input);
    case 'run-in':
      return input.nowMs - data.stepSinceMs < input.plan.addOil.runInMs
        ? { data, wanted: OPEN }
        : again(data, input);
  }
}

const isDue = (liquid: Liquid, input: StageInput, givenM3 = 0): boolean =>
  dueM3(liquid, input) - givenM3 >= input.plan.addOil.leastM3;

/** What is still to be drawn in and whose bottle nobody has given up: oil first, then dye. */
const nextLiquid = (input: StageInput): Liquid | undefined =>
  input.plan.adds.find(
    (liquid) => isDue(liquid, input) && input.accounts[liquid].emptied < input.plan.addOil.empties,
  );

function read(data: AddOilData, input: StageInput): Step {
  const { plan, nowMs, accounts } = input;
  const wanted = SAFE_COMMANDS;
  const bottle = plan.adds.includes('oil') ? readCatchBottle(input) : { is: 'known' as const };
  if (bottle.is === 'foaming') return { data, wanted };
  if (bottle.is === 'asked') return { data, wanted, prompt: 'read-catch-bottle', notices: bottle.notices };
  if (bottle.is === 'read') return { data, wanted, accounts: bottle.accounts, notices: bottle.notices };
  const liquid = nextLiquid(input);
  if (liquid === undefined) return end(data, input, accounts, 'nothing-to-add');
  const next = liquid === data.liquid ? data : { ...data, ...of(liquid) };
  if (accounts[liquid].emptied === 0 || next.filled) return { data: at(next, 'open', nowMs), wanted };
  const prompt = `fill-${liquid}-bottle` as const;
  return confirms(input.answers, prompt)
    ? { data: { ...at(next, 'open', nowMs), filled: true }, wanted }
    : { data: next, wanted, prompt };
}

/** Something has gone through the line before this visit; oil and dye share it. */
const isWet = ({ oil, dye }: Accounts): boolean => (oil.injectedM3 ?? 0) > 0 || (dye.injectedM3 ?? 0) > 0;

/** What the walls of the line will keep of the next dose. */
const filmM3 = ({ liquid, givenM3 }: AddOilData, { accounts, equipment }: StageInput): number =>
  givenM3 > 0 || isWet(accounts) ? 0 : (equipment[liquid]?.lineFilmM3 ?? 0);

/** Vehicle, hose and manifold show the absolute sensor that nothing but the bottle's content can come. */
function open(data: AddOilData, input: StageInput): Step {
  const { plan, equipment, nowMs, seen } = input;
  const { liquid } = data;
  const waitedMs = nowMs - data.stepSinceMs;
  const { manifoldPa } = seen;
  const bottle = equipment[liquid];
  if (bottle === undefined) return giveUp(data, input);
  // A pause has come after all of it was in.
  if (!isDue(liquid, input, data.givenM3)) return { data: at(data, 'run-in', nowMs), wanted: OPEN };
  if (waitedMs < plan.addOil.joinMs) return { data, wanted: OPEN };
  if (manifoldPa === undefined || manifoldPa > plan.addOil.vacuumPa) {
    return waitedMs < plan.addOil.blindMs ? { data, wanted: OPEN } : giveUp(data, input);
  }
  const flowM3PerS = bottle.flowM3PerSPa * (barometerPa(seen) - manifoldPa);
  const volumeM3 = dueM3(liquid, input) - data.givenM3 + filmM3(data, input);
  const doseMs = Math.min((volumeM3 / flowM3PerS) * 1000, plan.addOil.doseMs);
  const next = { ...at(data, 'dose', nowMs), flowM3PerS, doseMs, fromPa: manifoldPa };
  return { data: next, wanted: counted(DOSE[liquid], `${liquid}Valve`, doseMs) };
}

/** What has come out of the bottle in so long. */
export const drawnM3 = ({ flowM3PerS, doseMs }: AddOilData, openMs: number): number =>
  (flowM3PerS * Math.min(openMs, doseMs)) / 1000;

function dose(data: AddOilData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { addOil } = plan;
  const { liquid, doseMs } = data;
  const openMs = nowMs - data.stepSinceMs;
  const risePa = (seen.manifoldPa ?? Number.POSITIVE_INFINITY) - data.fromPa;
  const air = openMs >= addOil.airMs && risePa > addOil.airPa + (addOil.airPaPerS * openMs) / 1000;
  if (air) return airDrawnIn(data, input, openMs);
  if (openMs < doseMs + AFTER_DOSE_MS)
    return { data, wanted: counted(DOSE[liquid], `${liquid}Valve`, doseMs) };
  return { data: { ...withDosed(data, input, openMs), doseMs: 0 }, wanted: OPEN };
}

/** The film left out. */
const withDosed = (data: AddOilData, input: StageInput, openMs: number): AddOilData => ({
  ...at(data, 'run-in', input.nowMs),
  givenM3: data.givenM3 + Math.max(drawnM3(data, openMs) - filmM3(data, input), 0),
});

/** A large dose takes more than one opening; after the oil comes the dye. */
function again(data: AddOilData, input: StageInput): Step {
  if (isDue(data.liquid, input, data.givenM3)) return { data: at(data, 'open', input.nowMs), wanted: OPEN };
  const accounts = booked(data, input, 0);
  const liquid = nextLiquid({ ...input, accounts });
  if (liquid === undefined) return end(data, input, accounts);
  return { data: { ...at(data, 'read', input.nowMs), ...of(liquid) }, wanted: SAFE_COMMANDS, accounts };
}

function booked(data: AddOilData, input: StageInput, emptied: number): Accounts {
  const { accounts } = input;
  const before = accounts[data.liquid];
  return {
    ...accounts,
    [data.liquid]: {
      ...before,
      injectedM3: (before.injectedM3 ?? 0) + data.givenM3,
      injectedUncertaintyM3: Math.hypot(
        before.injectedUncertaintyM3 ?? 0,
        2 * sdM3(data, input, emptied > 0),
      ),
      emptied: before.emptied + emptied,
    },
  };
}

/** Of what this visit has added: the flow, the film, and how long the bottle was really open, or held anything. */
function sdM3({ givenM3, flowM3PerS }: AddOilData, { plan, accounts }: StageInput, ranDry: boolean): number {
  const { flowSdShare, filmSdM3, openSdMs, airMs } = plan.addOil;
  const openM3 = (flowM3PerS * (ranDry ? airMs : openSdMs)) / 1000;
  return Math.hypot(flowSdShare * givenM3, isWet(accounts) ? 0 : filmSdM3, openM3);
}

/** The rise is as old as its proof: what came in the meantime was air. */
function airDrawnIn(data: AddOilData, input: StageInput, openMs: number): Step {
  const next = withDosed(data, input, Math.max(openMs - input.plan.addOil.airMs, 0));
  return {
    data: next,
    wanted: SAFE_COMMANDS,
    event: 'air-drawn-in',
    accounts: booked(next, input, 1),
    notices: [{ code: `${data.liquid}-bottle-empty`, with: { given: millilitres(next.givenM3) } }],
  };
}

const giveUp = (data: AddOilData, input: StageInput): Step =>
  end(data, input, data.givenM3 > 0 ? booked(data, input, 0) : input.accounts);

/** What is missing is told; the job goes on. */
function end(data: AddOilData, { plan }: StageInput, accounts: Accounts, result?: string): Step {
  const notices = plan.adds.flatMap((liquid) => missing(liquid, { accounts, plan }));
  const wanted = SAFE_COMMANDS;
  if (notices.length > 0) return { data, wanted, event: 'oil-not-added', accounts, notices };
  return { data, wanted, event: 'oil-added', ...(result === undefined ? {} : { result }), accounts };
}
