// Where a job stands on the statechart between two scans, and what can be asked of that without the chart.
import type { Stage } from './stages.ts';

export type ChartContext = {
  /** The stages of the plan: where several edges are possible, the first that is planned. */
  readonly stages: readonly Stage[];
  /** The last stage that ran: where a resume leads. */
  readonly interrupted: Stage | null;
  /** The job ends as stopped even though the machine is put away in order. */
  readonly spoiled: boolean;
  /** What a leak check has let in is being taken back: nothing follows but the hoses. */
  readonly givingBack: boolean;
  /** The engine has been tried: after the charge's correction nothing but the hoses follows. */
  readonly engineTried: boolean;
};

/** `idle`: no job has been begun. It lies outside the machine, and nothing leads out of it. */
export type ChartValue = Stage | 'paused' | 'tripped' | 'completed' | 'stopped' | 'idle';
/** The chart between scans: plain, so that it survives JSON. */
export type ChartState = { readonly value: ChartValue; readonly context: ChartContext };

export const openChart = (stages: readonly Stage[]): ChartState => ({
  value: stages[0] ?? 'idle',
  context: { stages, interrupted: null, spoiled: false, givingBack: false, engineTried: false },
});

/** Tripped without the chart's help: for when the chart itself may be what broke. */
export const haltChart = (state: ChartState): ChartState => ({
  value: 'tripped',
  context: { ...state.context, interrupted: runningStage(state) ?? state.context.interrupted },
});

/** No job runs: it has ended, or none was begun. */
export const isFinished = ({ value }: ChartState): boolean =>
  value === 'completed' || value === 'stopped' || value === 'idle';

export const isHalted = (state: ChartState): boolean => state.value === 'paused' || state.value === 'tripped';

/** The stage that is running, or none while paused, tripped or finished. */
export function runningStage(state: ChartState): Stage | undefined {
  const { value } = state;
  return value === 'paused' ||
    value === 'tripped' ||
    value === 'completed' ||
    value === 'stopped' ||
    value === 'idle'
    ? undefined
    : value;
}
