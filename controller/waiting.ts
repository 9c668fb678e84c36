// What the machine is waiting for, in plain words.
import { compressorRestLeftMs } from './stage-input.ts';
import type { DataOf, StageData } from './stages/data.ts';
import { waitsForCompressor } from './stages/settle.ts';
import { kilopascals } from './stages/stage.ts';
import type { ControllerState } from './state.ts';

const WEIGHING = 'the scale to come to rest for a weighing';
const APART = 'the shut manifold to show whether the machine itself lets anything in';

export function waitingFor(state: ControllerState, nowMs: number): string {
  const { chart, memory, stage, prompt } = state;
  if (state.byHand !== undefined) return "the operator's next wish";
  if (memory.trip !== undefined || chart.value === 'tripped')
    return `a reset of the trip "${memory.trip?.reason ?? 'unknown'}"`;
  if (chart.value === 'completed') return 'nothing: the job is completed';
  if (chart.value === 'stopped') return 'nothing: the job was stopped';
  if (chart.value === 'idle') return 'a job, or an operator who works it by hand';
  if (chart.value === 'paused') return 'the operator to resume';
  if (prompt !== undefined) return `the operator: ${prompt.text}`;
  return stage === undefined ? 'the first scan' : inStage(stage, state, nowMs);
}

function inStage(stage: StageData, state: ControllerState, nowMs: number): string {
  switch (stage.stage) {
    case 'identify':
      return 'the refrigerant identifier';
    case 'fill':
      return FILLING[stage.step];
    case 'purge-air':
      return PURGING[stage.step];
    case 'settle':
      return settling(stage, state, nowMs);
    case 'recover':
      return recovering(stage, state);
    case 'rest':
      return resting(stage, state);
    case 'drain-oil':
      return DRAINING[stage.step];
    case 'repair':
      return REPAIRING[stage.step];
    case 'evacuate':
      if (stage.step === 'apart') return APART;
      return stage.step === 'join'
        ? 'the pump to come up to speed'
        : 'the vacuum to reach its level and stay flat';
    case 'hold':
      if (stage.step === 'apart') return APART;
      return stage.step === 'watch'
        ? 'the pressure in the isolated system to show whether it rises'
        : 'the pressure to even out along the hoses';
    case 'add-oil':
      return adding(stage);
    case 'leak-check':
      return checking(stage);
    case 'charge':
      return charging(stage);
    case 'verify':
      return stage.step === 'run'
        ? 'the running system to become steady'
        : 'proof that every machine valve is shut';
    case 'clear-hoses':
      return CLEARING[stage.step];
    case 'recover-hoses':
      return hoses(stage, state, nowMs);
  }
}

function settling(stage: DataOf<'settle'>, state: ControllerState, nowMs: number): string {
  if (stage.step === 'apart') return APART;
  if (stage.step === 'pulse') return 'the high side to answer a short opening of its valve';
  if (stage.step === 'weigh' || stage.step === 'weigh-connected') return WEIGHING;
  const { plan, equipment } = state;
  const rests = { plan, equipment, compressorRestLeftMs: compressorRestLeftMs(state, nowMs) };
  return stage.step === 'look' && waitsForCompressor(nowMs - stage.stepSinceMs, rests)
    ? 'the compressor to have rested since it was switched on, while both sides are looked at'
    : 'both sides to come to the same pressure';
}

function recovering(stage: DataOf<'recover'>, { seen }: ControllerState): string {
  if (stage.step === 'weigh') return WEIGHING;
  if (stage.compressorSinceMs === undefined) return 'the compressor to be ready to start';
  if (stage.lowSinceMs !== undefined && seen?.manifoldPa !== undefined)
    return `the trickle at ${kilopascals(seen.manifoldPa)} kPa absolute to end: cold liquid is still boiling`;
  return 'the suction pressure to fall';
}

function resting(stage: DataOf<'rest'>, { estimates }: ControllerState): string {
  if (stage.step === 'weigh') return WEIGHING;
  const kPaPerMinute = ((estimates.circuit?.perS ?? 0) * 60) / 1000;
  return kPaPerMinute > 1
    ? `the pressure to settle: it rises by ${kPaPerMinute.toFixed(0)} kPa a minute, liquid boils or oil gives off vapour`
    : 'the pressure to prove that it stays where it is';
}

const PURGING: { readonly [S in DataOf<'purge-air'>['step']]: string } = {
  look: 'the tank to show whether it holds air',
  weigh: WEIGHING,
  ask: 'the operator to agree',
  burst: 'a little vapour with its air to leave the tank',
  rest: 'the tank to come to rest',
  'weigh-after': WEIGHING,
};

const DRAINING: { readonly [S in DataOf<'drain-oil'>['step']]: string } = {
  look: "the absolute sensor to show the separator's pressure",
  pulse: 'a little tank vapour to raise the separator',
  ease: 'the separator to come down into the span of the absolute sensor',
  drain: 'the oil to run into the catch bottle',
  weigh: WEIGHING,
  return: 'the compressor to take the vapour back into the tank',
  'weigh-return': WEIGHING,
};

const REPAIRING: { readonly [S in DataOf<'repair'>['step']]: string } = {
  look: "the absolute sensor to show the vehicle's pressure",
  wait: 'the pressure in the vehicle to be let off',
  check: "the absolute sensor to show the vehicle's pressure",
  weigh: WEIGHING,
};

function adding({ step, liquid }: DataOf<'add-oil'>): string {
  switch (step) {
    case 'read':
      return 'the foam in the catch bottle to settle';
    case 'open':
      return 'the absolute sensor to show the vacuum';
    case 'dose':
      return `the ${liquid} to be drawn in`;
    case 'run-in':
      return `the rest of the ${liquid} to run in`;
  }
}

const FILLING: { readonly [S in DataOf<'fill'>['step']]: string } = {
  weigh: WEIGHING,
  connect: 'the cylinder to be connected',
  look: "the hose to show the cylinder's pressure",
  'weigh-connected': WEIGHING,
  draw: 'the liquid let in to boil away before the next opening',
  steady: 'the scale to be let go of',
  pause: 'the scale to show that its zero stands',
  rest: 'what drips from the condenser to come to rest, and the scale to show that its zero stands',
  'weigh-after': WEIGHING,
};

function checking({ step, admission }: DataOf<'leak-check'>): string {
  if (step === 'admit' && admission !== undefined) return charging(admission);
  return step === 'settle' ? 'the pressure in the vehicle to come to rest' : WEIGHING;
}

const CLEARING: { readonly [S in DataOf<'clear-hoses'>['step']]: string } = {
  close: 'the high coupler to be closed',
  look: 'both hoses to show their pressure',
  poured: 'the scale to show whether the tank has poured',
  join: 'the low side to suck the hoses dry',
  watch: 'the high hose to prove that it stays low',
  tell: 'the high hose to show where its pressure comes from',
};

const charging = ({ step, told }: DataOf<'charge'>): string =>
  step === 'full' && told.includes('charge-stalled-dip-tube')
    ? 'a tank short of liquid to give the rest of the charge as vapour'
    : CHARGING[step];

const CHARGING: { readonly [S in DataOf<'charge'>['step']]: string } = {
  weigh: WEIGHING,
  cushion: 'the liquid in the hose to find room before the hose is shut off',
  'weigh-still': WEIGHING,
  'clear-manifold': 'the manifold to be drawn down',
  'prove-shut': 'proof that every machine valve is shut',
  'start-engine': 'the engine to be started',
  'engine-runs': 'the running engine to part the sides',
  'engine-look': 'the scale to settle after the last pulses',
  'engine-pulse': 'the engine to suck the rest in, pulse by pulse',
  'engine-draw': 'the engine to suck the rest in, pulse by pulse',
  heat: 'the tank to stand above the vehicle again',
  'weigh-again': WEIGHING,
  look: 'a last look at the vacuum of the vehicle',
  full: 'the charge to come near its target',
  settle: 'the scale to settle after the valve has shut',
  pulse: 'the last grams, pulse by pulse',
  'blow-down': 'the hose to blow down into the vehicle',
  'draw-manifold': 'the manifold to be drawn back',
  'draw-hose': 'the liquid in the hose to be drawn back',
  'pump-out': 'the manifold to be drawn back',
  'stand-apart': 'proof that the charge valve is shut',
  'prove-dry': 'proof that no liquid is left in the manifold',
  'weigh-drawn': WEIGHING,
  'weigh-after': WEIGHING,
};

function hoses(stage: DataOf<'recover-hoses'>, state: ControllerState, nowMs: number): string {
  switch (stage.step) {
    case 'weigh':
      return WEIGHING;
    case 'read-oil':
      return 'the foam in the catch bottle to settle';
    case 'standstill':
      return 'the sides to show that the engine stands still';
    case 'rest':
      return 'the hose pressure to prove that it does not come back';
    case 'draw': {
      const offMs = state.memory.compressorOffSinceMs ?? Number.NEGATIVE_INFINITY;
      const resting = nowMs - offMs < state.equipment.compressor.minimumOffMs;
      return resting ? 'the compressor to have rested' : 'the hoses to be drawn down';
    }
    default:
      return 'the hose pressure';
  }
}
