// Add oil: the vacuum draws what was drained and the ticket's allowance through the high side, by measured time.
import { barometerPa } from '../estimates/pressures.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { Accounts } from '../state.ts';
import { missingOil, readCatchBottle } from './catch-bottle.ts';
import type { AddOilData } from './data-vacuum.ts';
import { at, confirms, counted, millilitres, type StageInput, type StageStep, want } from './stage.ts';

const OPEN = want('highSideValve');
const DOSE = want('highSideValve', 'oilValve');
/** The countdown has run out and the valve has shut for certain. */
const AFTER_DOSE_MS = 300;

export const enterAddOil = (nowMs: number): AddOilData => ({
  stage: 'add-oil',
  step: 'read',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
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

/** Drained and allowance, less what is in already. */
function dueM3({ givenM3 }: AddOilData, { accounts, plan }: StageInput): number {
  const { drainedM3 = 0, injectedM3 = 0 } = accounts.oil;
  return drainedM3 + plan.ticket.oil.addM3 - injectedM3 - givenM3;
}

function read(data: AddOilData, input: StageInput): Step {
  const { plan, nowMs, accounts } = input;
  const wanted = SAFE_COMMANDS;
  const bottle = readCatchBottle(input);
  if (bottle.is === 'foaming') return { data, wanted };
  if (bottle.is === 'asked') return { data, wanted, prompt: 'read-catch-bottle', notices: bottle.notices };
  if (bottle.is === 'read') return { data, wanted, accounts: bottle.accounts, notices: bottle.notices };
  if (dueM3(data, input) < plan.addOil.leastM3) {
    return { data, wanted, event: 'oil-added', result: 'nothing-to-add' };
  }
  if (accounts.oil.emptied >= plan.addOil.empties) return giveUp(data, input);
  if (accounts.oil.emptied === 0 || data.filled) return { data: at(data, 'open', nowMs), wanted };
  return confirms(input.answers, 'fill-oil-bottle')
    ? { data: { ...at(data, 'open', nowMs), filled: true }, wanted }
    : { data, wanted, prompt: 'fill-oil-bottle' };
}

/** Vehicle, hose and manifold show the absolute sensor that nothing but oil can come. */
function open(data: AddOilData, input: StageInput): Step {
  const { plan, equipment, nowMs, seen, accounts } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const { manifoldPa } = seen;
  if (equipment.oil === undefined) return giveUp(data, input);
  if (waitedMs < plan.addOil.joinMs) return { data, wanted: OPEN };
  if (manifoldPa === undefined || manifoldPa > plan.addOil.vacuumPa) {
    return waitedMs < plan.addOil.blindMs ? { data, wanted: OPEN } : giveUp(data, input);
  }
  const { flowM3PerSPa, lineFilmM3 } = equipment.oil;
  const flowM3PerS = flowM3PerSPa * (barometerPa(seen) - manifoldPa);
  const wetted = accounts.oil.injectedM3 !== undefined || data.givenM3 > 0;
  const volumeM3 = dueM3(data, input) + (wetted ? 0 : lineFilmM3);
  const doseMs = Math.min((volumeM3 / flowM3PerS) * 1000, plan.addOil.doseMs);
  const next = { ...at(data, 'dose', nowMs), flowM3PerS, doseMs, fromPa: manifoldPa };
  return { data: next, wanted: counted(DOSE, 'oilValve', doseMs) };
}

/** What has come in so long, the film left out. */
export function dosedM3(data: AddOilData, openMs: number, filmM3: number): number {
  const drawnM3 = (data.flowM3PerS * Math.min(openMs, data.doseMs)) / 1000;
  return Math.max(drawnM3 - (data.givenM3 > 0 ? 0 : filmM3), 0);
}

function dose(data: AddOilData, input: StageInput): Step {
  const { plan, nowMs, seen } = input;
  const { addOil } = plan;
  const openMs = nowMs - data.stepSinceMs;
  const risePa = (seen.manifoldPa ?? Number.POSITIVE_INFINITY) - data.fromPa;
  const air = openMs >= addOil.airMs && risePa > addOil.airPa + (addOil.airPaPerS * openMs) / 1000;
  if (air) return airDrawnIn(data, input, openMs);
  if (openMs < data.doseMs + AFTER_DOSE_MS) return { data, wanted: counted(DOSE, 'oilValve', data.doseMs) };
  return { data: { ...withDosed(data, input, openMs), doseMs: 0 }, wanted: OPEN };
}

function withDosed(data: AddOilData, { equipment, accounts, nowMs }: StageInput, openMs: number): AddOilData {
  const filmM3 = accounts.oil.injectedM3 === undefined ? (equipment.oil?.lineFilmM3 ?? 0) : 0;
  return { ...at(data, 'run-in', nowMs), givenM3: data.givenM3 + dosedM3(data, openMs, filmM3) };
}

/** A large dose takes more than one opening. */
function again(data: AddOilData, input: StageInput): Step {
  if (dueM3(data, input) >= input.plan.addOil.leastM3) {
    return { data: at(data, 'open', input.nowMs), wanted: OPEN };
  }
  return { data, wanted: SAFE_COMMANDS, event: 'oil-added', accounts: booked(data, input, 0) };
}

const booked = (data: AddOilData, { accounts }: StageInput, emptied: number): Accounts => ({
  ...accounts,
  oil: {
    ...accounts.oil,
    injectedM3: (accounts.oil.injectedM3 ?? 0) + data.givenM3,
    emptied: accounts.oil.emptied + emptied,
  },
});

/** The rise is as old as its proof: what came in the meantime was air. */
function airDrawnIn(data: AddOilData, input: StageInput, openMs: number): Step {
  const next = withDosed(data, input, Math.max(openMs - input.plan.addOil.airMs, 0));
  return {
    data: next,
    wanted: SAFE_COMMANDS,
    event: 'air-drawn-in',
    accounts: booked(next, input, 1),
    notices: [{ code: 'oil-bottle-empty', with: { given: millilitres(next.givenM3) } }],
  };
}

function giveUp(data: AddOilData, input: StageInput): Step {
  const accounts = data.givenM3 > 0 ? booked(data, input, 0) : input.accounts;
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'oil-not-added',
    accounts,
    notices: missingOil({ accounts, plan: input.plan }),
  };
}
