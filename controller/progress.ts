// The live view of a running job: where it is, what it waits for, how long it may still take.

import { isFinished, isHalted } from './chart-state.ts';
import type { Prompt } from './operator.ts';
import { remainingMs } from './remaining.ts';
import { deliveredKg } from './stages/stage.ts';
import type { Stage } from './stages.ts';
import type { ControllerState } from './state.ts';
import { waitingFor } from './waiting.ts';

export type Progress = {
  readonly stage: Stage | 'by-hand' | 'idle' | 'finished';
  readonly ended: boolean;
  readonly stageElapsedMs: number;
  /** For the whole job; absent when it is finished. */
  readonly remainingMs?: { readonly low: number; readonly high: number };
  /** In plain words. */
  readonly waitingFor: string;
  readonly prompt?: Prompt;
  /** By the operator or by a trip. */
  readonly paused: boolean;
  readonly figures: {
    readonly lowSidePa?: number;
    readonly highSidePa?: number;
    readonly manifoldPa?: number;
    readonly vehicleVacuumPa?: number;
    readonly tankPa?: number;
    readonly tankTemperatureK?: number;
    readonly ventK?: number;
    readonly tankNetKg?: number;
    /** Moved so far in this stage. */
    readonly phaseKg?: number;
    readonly targetKg?: number;
    /** Positive into the tank. */
    readonly flowKgPerS?: number;
  };
};

export function progress(state: ControllerState, nowMs: number): Progress {
  const byHand = state.byHand !== undefined;
  const ended = isFinished(state.chart) && !byHand;
  const visit = ended || byHand ? undefined : state.visits.at(-1);
  const halted = isHalted(state.chart);
  return {
    stage: visit?.stage ?? withoutJob(state),
    ended,
    stageElapsedMs: visit === undefined ? 0 : nowMs - visit.startedAtMs,
    ...(visit === undefined ? {} : { remainingMs: remainingMs(state, nowMs) }),
    waitingFor: waitingFor(state, nowMs),
    ...(state.prompt === undefined ? {} : { prompt: state.prompt }),
    paused: halted,
    figures: figuresOf(state),
  };
}

function withoutJob({ byHand, chart }: ControllerState): Progress['stage'] {
  if (byHand !== undefined) return 'by-hand';
  return chart.value === 'idle' ? 'idle' : 'finished';
}

type Figures = { -readonly [K in keyof Progress['figures']]: number };

function figuresOf(state: ControllerState): Progress['figures'] {
  const { seen, estimates, plan } = state;
  const figures: Figures = {};
  if (seen === undefined) return figures;
  // A capped hose would only mislead.
  const looksAtLow = state.byHand !== undefined || plan.ticket.ports === 2;
  if (looksAtLow && seen.lowSidePa !== undefined) figures.lowSidePa = seen.lowSidePa;
  if (seen.highSidePa !== undefined) figures.highSidePa = seen.highSidePa;
  if (seen.manifoldPa !== undefined) figures.manifoldPa = seen.manifoldPa;
  if (seen.vehicleVacuumPa !== undefined) figures.vehicleVacuumPa = seen.vehicleVacuumPa;
  if (seen.tankPa !== undefined) figures.tankPa = seen.tankPa;
  if (seen.tankTemperatureK !== undefined) figures.tankTemperatureK = seen.tankTemperatureK;
  if (seen.ventK !== undefined) figures.ventK = seen.ventK;
  if (estimates.scale.trust === 'not-read') return figures;
  figures.tankNetKg = estimates.scale.massKg;
  figures.flowKgPerS = estimates.scale.flowKgPerS;
  addPhase(figures, state);
  return figures;
}

/** What has moved in this stage, from the last weighing to the live scale. */
function addPhase(figures: Figures, { stage, equipment, estimates, accounts }: ControllerState): void {
  if (stage === undefined) return;
  const live = { equipment, estimates, accounts };
  const charge = stage.stage === 'leak-check' ? stage.admission : stage;
  if (charge?.stage === 'charge') {
    if (charge.reference !== undefined) figures.phaseKg = deliveredKg(charge.reference, live);
    if (charge.targetKg > 0) figures.targetKg = charge.targetKg;
  } else if (stage.stage === 'recover' && accounts.weighed !== undefined) {
    figures.phaseKg = (accounts.recoveredKg ?? 0) - deliveredKg(accounts.weighed, live);
  } else if (stage.stage === 'recover-hoses' && accounts.weighed !== undefined) {
    figures.phaseKg =
      (accounts.hoseRecoveredKg ?? 0) -
      (stage.step === 'hand-over' ? 0 : deliveredKg(accounts.weighed, live));
  }
}
