// The engine was to suck the hoses dry and is of no help: their liquid is missing in the vehicle. Once the engine stands and
// the vehicle is even, the hoses are drawn back and the charge corrected, as on a vehicle whose engine cannot run.
import { SURE } from '../constants.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { beginDrawBack } from './charge-draw-back.ts';
import { at } from './charge-steps.ts';
import type { ChargeData } from './data-charge.ts';
import { referenceOf } from './partial-charge.ts';
import type { StageInput, StageStep } from './stage.ts';
import { sidesApartPa } from './standstill.ts';

/** Sides that are no further apart than this are even, and so long are they waited for (estimates). */
const EVEN_PA = 30_000;
const EVEN_MS = 5 * 60_000;

/** What must be before the tank is weighed and the hoses are drawn back, or nothing when it is. */
export function waitsForEngine(data: ChargeData, input: StageInput): StageStep<ChargeData> | undefined {
  if (!input.accounts.engineOfNoHelp) return undefined;
  const wait = { data: { ...data, weighing: undefined }, wanted: SAFE_COMMANDS };
  if (input.engine === 'running') return { ...wait, prompt: 'stop-engine' };
  return isEven(input) || input.nowMs - data.stepSinceMs > EVEN_MS ? undefined : wait;
}

/** Sides that cannot be seen are not waited for. */
function isEven(input: StageInput): boolean {
  const { highSideSdPa, lowSideSdPa } = input.equipment.pressure;
  const apartPa = sidesApartPa(input);
  return apartPa === undefined || apartPa < EVEN_PA + SURE * Math.hypot(highSideSdPa, lowSideSdPa);
}

/** The charge that was given counts on; nothing more is given before the hoses have been drawn back. */
export function correct(data: ChargeData, input: StageInput, weighed: Weighing): StageStep<ChargeData> {
  const { accounts, seen, equipment, nowMs } = input;
  const reference = referenceOf(data, input, weighed);
  const known: ChargeData = {
    ...at(data, 'draw-manifold', nowMs),
    reference,
    targetKg: accounts.targetKg ?? data.targetKg,
    drawsBack: true,
    result: 'charged',
    deliveredAtShutKg: -gainOf(reference, weighed, equipment, accounts.hoseForce).massKg,
    vehiclePa: seen.highSidePa === undefined ? undefined : seen.highSidePa - accounts.highSideZeroPa,
  };
  return {
    data: beginDrawBack(known, input, true),
    wanted: SAFE_COMMANDS,
    accounts: { ...accounts, weighed, weighedBeforeCharge: reference },
  };
}
