// Enters, steps and resumes whichever stage is running.
import type { Stage } from '../stages.ts';
import { drawnM3, enterAddOil, stepAddOil } from './add-oil.ts';
import { enterCharge, stepCharge } from './charge.ts';
import { enterClearHoses, stepClearHoses } from './clear-hoses.ts';
import type { DataOf, StageData } from './data.ts';
import { enterDrainOil, stepDrainOil } from './drain-oil.ts';
import { enterEvacuate, pumpedMs, stepEvacuate } from './evacuate.ts';
import { enterFill, stepFill } from './fill.ts';
import { enterHold, stepHold } from './hold.ts';
import { enterIdentify, stepIdentify } from './identify.ts';
import { enterLeakCheck, stepLeakCheck } from './leak-check.ts';
import { enterPurgeAir, stepPurgeAir } from './purge-air.ts';
import { enterRecover, stepRecover } from './recover.ts';
import { enterRecoverHoses, stepRecoverHoses } from './recover-hoses.ts';
import { enterRepair, stepRepair } from './repair.ts';
import { enterRest, stepRest } from './rest.ts';
import { enterSettle, stepSettle } from './settle.ts';
import type { StageInput, StageStep } from './stage.ts';
import { enterVerify, stepVerify } from './verify.ts';

const ENTER: { readonly [S in Stage]: (nowMs: number) => StageData } = {
  identify: enterIdentify,
  fill: enterFill,
  'purge-air': enterPurgeAir,
  settle: enterSettle,
  recover: enterRecover,
  rest: enterRest,
  'drain-oil': enterDrainOil,
  repair: enterRepair,
  evacuate: enterEvacuate,
  hold: enterHold,
  'add-oil': enterAddOil,
  'leak-check': enterLeakCheck,
  charge: enterCharge,
  verify: enterVerify,
  'clear-hoses': enterClearHoses,
  'recover-hoses': enterRecoverHoses,
};

export const enterStage = (stage: Stage, nowMs: number): StageData => ENTER[stage](nowMs);

const STEP: { readonly [S in Stage]: (data: DataOf<S>, input: StageInput) => StageStep<StageData> } = {
  identify: stepIdentify,
  fill: stepFill,
  'purge-air': stepPurgeAir,
  settle: stepSettle,
  recover: stepRecover,
  rest: stepRest,
  'drain-oil': stepDrainOil,
  repair: stepRepair,
  evacuate: stepEvacuate,
  hold: stepHold,
  'add-oil': stepAddOil,
  'leak-check': stepLeakCheck,
  charge: stepCharge,
  verify: stepVerify,
  'clear-hoses': stepClearHoses,
  'recover-hoses': stepRecoverHoses,
};

/** By table: with a branch each, the compiled scan would be thrown away whenever a stage is the first of its kind. */
export function stepStage(data: StageData, input: StageInput): StageStep<StageData> {
  // Each entry takes the data of its own stage, which is what it is looked up by.
  const step = STEP[data.stage] as (data: StageData, input: StageInput) => StageStep<StageData>;
  return step(data, input);
}

/**
 * What a stage takes up again after a pause. Its deadline moves by the length of the pause. Whatever the pause has
 * spoilt starts over: a run, a rest, a hold and a performance test; a charge weighs and goes on to the same target; pumped time is kept.
 */
export function resumeStage(data: StageData, pausedAtMs: number, nowMs: number): StageData {
  const sinceMs = data.sinceMs + Math.max(nowMs - pausedAtMs, 0);
  switch (data.stage) {
    case 'identify':
      return { ...data, sinceMs, stepSinceMs: nowMs };
    case 'fill':
      return {
        ...data,
        sinceMs,
        stepSinceMs: nowMs,
        drawnSinceMs: nowMs,
        weighing: undefined,
        compressorSinceMs: undefined,
      };
    // Whatever of a burst is over, the tank is looked at before the next.
    case 'purge-air':
      return data.step === 'burst'
        ? { ...data, sinceMs, step: 'rest', stepSinceMs: nowMs, bursts: data.bursts + 1 }
        : { ...data, sinceMs, stepSinceMs: nowMs, weighing: undefined };
    case 'settle':
      // Nobody knows how long the engine has run by now.
      if (data.step === 'warm') return { ...data, sinceMs, step: 'warm-stop', stepSinceMs: nowMs };
      return LOOKS.includes(data.step)
        ? { ...data, sinceMs, step: 'look', stepSinceMs: nowMs, apart: undefined, pulseTest: undefined }
        : { ...data, sinceMs, stepSinceMs: nowMs, weighing: undefined };
    case 'recover':
      return data.step === 'draw'
        ? { ...enterRecover(nowMs), sinceMs, count: { ...data.count, atMs: nowMs, coilWarmerK: 0 } }
        : { ...data, sinceMs, weighing: undefined };
    case 'rest':
      return data.step === 'weigh' ? { ...data, sinceMs, weighing: undefined } : enterRest(nowMs);
    case 'drain-oil':
      return data.why !== undefined
        ? { ...data, sinceMs, stepSinceMs: nowMs, fired: false, weighing: undefined }
        : { ...data, sinceMs, step: 'look', stepSinceMs: nowMs, fired: false, pulseMs: 0 };
    case 'repair':
      return { ...data, sinceMs, stepSinceMs: nowMs, weighing: undefined };
    case 'evacuate':
      return {
        ...enterEvacuate(nowMs),
        sinceMs,
        pumpedMs: pumpedMs(data, pausedAtMs),
        lowestPa: data.lowestPa,
        boilingTold: data.boilingTold,
      };
    case 'hold':
      return enterHold(nowMs);
    case 'add-oil':
      return resumeAddOil({ ...data, sinceMs }, pausedAtMs, nowMs);
    case 'leak-check':
      return resumeLeakCheck({ ...data, sinceMs }, pausedAtMs, nowMs);
    case 'charge':
      return resumeCharge({ ...data, sinceMs }, nowMs);
    case 'verify':
      return enterVerify(nowMs);
    case 'clear-hoses':
      return enterClearHoses(nowMs);
    case 'recover-hoses':
      return AT_A_QUESTION.includes(data.step)
        ? { ...data, sinceMs, stepSinceMs: nowMs }
        : {
            ...data,
            sinceMs,
            step: data.step === 'weigh' ? 'weigh' : 'look',
            stepSinceMs: nowMs,
            weighing: undefined,
          };
  }
}

const LOOKS: readonly DataOf<'settle'>['step'][] = ['look', 'join', 'apart', 'pulse'];

const AT_A_QUESTION: readonly DataOf<'recover-hoses'>['step'][] = [
  'close',
  'stop-engine',
  'standstill',
  'read-oil',
  'hand-over',
];

/** What ran in before the pause counts; the film is taken to be on the walls by then. */
function resumeAddOil(data: DataOf<'add-oil'>, pausedAtMs: number, nowMs: number): StageData {
  if (data.step === 'read') return { ...data, stepSinceMs: nowMs };
  const openMs = data.step === 'dose' ? Math.max(pausedAtMs - data.stepSinceMs, 0) : 0;
  return {
    ...data,
    step: 'open',
    stepSinceMs: nowMs,
    givenM3: data.givenM3 + drawnM3(data, openMs),
    doseMs: 0,
  };
}

/** The partial charge goes on like a whole one; a search is asked for again and its watch goes on, for nothing has moved. */
function resumeLeakCheck(data: DataOf<'leak-check'>, pausedAtMs: number, nowMs: number): StageData {
  const { admission } = data;
  const pausedMs = Math.max(nowMs - pausedAtMs, 0);
  return {
    ...data,
    stepSinceMs: nowMs,
    seenAtMs: nowMs,
    vehicle: undefined,
    weighing: undefined,
    admission: admission && resumeCharge({ ...admission, sinceMs: admission.sinceMs + pausedMs }, nowMs),
  };
}

const DRAWING: readonly DataOf<'charge'>['step'][] = [
  'draw-manifold',
  'draw-hose',
  'pump-out',
  'stand-apart',
  'prove-dry',
  'weigh-drawn',
];

function resumeCharge(data: DataOf<'charge'>, nowMs: number): DataOf<'charge'> {
  const again = {
    ...data,
    stepSinceMs: nowMs,
    weighing: undefined,
    shutDueMs: undefined,
    pulseMs: 0,
    stallSinceMs: undefined,
    stalledMs: 0,
  };
  const resumed = resumeEngineHelp(again);
  if (resumed !== undefined) return resumed;
  const draws = DRAWING.includes(data.step);
  // What has come back by then is weighed, and decides what follows.
  if (draws) return { ...again, step: 'weigh-drawn' };
  const weighs = data.step === 'weigh' || data.step === 'weigh-after' || data.step === 'blow-down';
  return weighs ? again : { ...again, step: 'settle', settledKg: 0, settledSamples: 0 };
}

/** Proven anew before anyone starts an engine; one that runs is looked at before the next pulse. */
function resumeEngineHelp(data: DataOf<'charge'>): DataOf<'charge'> | undefined {
  if (data.engineHelp === undefined) return undefined;
  switch (data.step) {
    case 'clear-manifold':
      return data;
    case 'prove-shut':
    case 'start-engine':
      return { ...data, step: 'prove-shut' };
    case 'engine-runs':
    case 'engine-look':
    case 'engine-pulse':
    case 'engine-draw':
      return { ...data, step: 'engine-look', engineHelp: { ...data.engineHelp, sumKg: 0, samples: 0 } };
    default:
      return undefined;
  }
}
