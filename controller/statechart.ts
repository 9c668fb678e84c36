// The order of the stages: which event leads where. Events only, on edges; deadlines and outputs live elsewhere.
import { assign, setup, transition } from 'xstate';
import type { BuiltService } from './plan.ts';
import { STAGES, type Stage } from './stages.ts';

/** What happened, in the words of the stages. */
export type StageEvent =
  | 'refrigerant-accepted'
  | 'refrigerant-refused'
  | 'pressure-found'
  | 'vehicle-found-empty'
  | 'vehicle-found-pressurised'
  | 'vehicle-too-cold'
  | 'tank-unfit'
  | 'run-ended'
  | 'pressure-rose'
  | 'rest-stayed-low'
  | 'liquid-left'
  | 'vacuum-reached'
  | 'vacuum-not-reached'
  | 'held-tight'
  | 'hold-inconclusive'
  | 'outgassed'
  | 'leak-suspected'
  | 'leak-found'
  | 'charged'
  | 'charge-fell-short'
  | 'hoses-recovered'
  | 'hoses-not-recovered'
  | 'scale-lost'
  | 'timed-out';
export type ChartEvent = {
  readonly type: StageEvent | 'paused' | 'resumed' | 'aborted' | 'tripped' | 'reset';
};

export type ChartContext = {
  readonly service: BuiltService;
  /** The last stage that ran: where a resume leads. */
  readonly interrupted: Stage | null;
  /** The job ends as stopped even though the machine is put away in order. */
  readonly spoiled: boolean;
};

export type ChartValue = Stage | 'paused' | 'tripped' | 'completed' | 'stopped';
/** The chart between scans: plain, so that it survives JSON. */
export type ChartState = { readonly value: ChartValue; readonly context: ChartContext };

const machine = setup({
  types: {
    context: {} as ChartContext,
    events: {} as ChartEvent,
  },
  guards: {
    recoversOnly: ({ context }) => context.service === 'recover',
    isSpoiled: ({ context }) => context.spoiled,
    wasIn: ({ context }, { stage }: { stage: Stage }) => context.interrupted === stage,
  },
  actions: {
    spoil: assign({ spoiled: true }),
  },
}).createMachine({
  id: 'service',
  initial: 'identify',
  context: { service: 'whole', interrupted: null, spoiled: false },
  on: { aborted: { target: '.stopped' } },
  states: {
    identify: {
      on: {
        'refrigerant-accepted': 'settle',
        'refrigerant-refused': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    settle: {
      on: {
        'pressure-found': 'recover',
        'vehicle-found-empty': [{ guard: 'recoversOnly', target: 'recover-hoses' }, { target: 'evacuate' }],
        'vehicle-found-pressurised': 'stopped',
        'vehicle-too-cold': 'stopped',
        'tank-unfit': 'stopped',
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    recover: {
      on: {
        'run-ended': 'rest',
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    rest: {
      on: {
        'pressure-rose': 'recover',
        'rest-stayed-low': [{ guard: 'recoversOnly', target: 'recover-hoses' }, { target: 'evacuate' }],
        'liquid-left': { target: 'recover-hoses', actions: 'spoil' },
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    evacuate: {
      on: {
        'vacuum-reached': 'hold',
        'vacuum-not-reached': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    hold: {
      on: {
        'held-tight': 'charge',
        'hold-inconclusive': 'charge',
        outgassed: 'evacuate',
        'leak-suspected': 'evacuate',
        'leak-found': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    charge: {
      on: {
        charged: 'recover-hoses',
        'charge-fell-short': { target: 'recover-hoses', actions: 'spoil' },
        'scale-lost': { target: 'recover-hoses', actions: 'spoil' },
        'timed-out': { target: 'recover-hoses', actions: 'spoil' },
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'recover-hoses': {
      on: {
        'hoses-recovered': [{ guard: 'isSpoiled', target: 'stopped' }, { target: 'completed' }],
        'hoses-not-recovered': 'stopped',
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    paused: {
      on: {
        resumed: STAGES.map(
          (stage) => ({ guard: { type: 'wasIn', params: { stage } }, target: stage }) as const,
        ),
        'timed-out': 'stopped',
        tripped: 'tripped',
      },
    },
    tripped: { on: { reset: 'paused', 'timed-out': 'stopped' } },
    completed: { type: 'final' },
    stopped: { type: 'final' },
  },
});

const FIRST_STAGE: { readonly [S in BuiltService]: Stage } = {
  whole: 'identify',
  recover: 'identify',
  'evacuate-and-charge': 'settle',
};

export const openChart = (service: BuiltService): ChartState => ({
  value: FIRST_STAGE[service],
  context: { service, interrupted: null, spoiled: false },
});

/** Thrown when the chart itself breaks; the scan answers with a trip. */
class ChartFault extends Error {}

/** One edge. An event that has no edge here changes nothing; leaving a stage for a halt remembers it. */
export function follow(state: ChartState, type: ChartEvent['type']): ChartState {
  if (isFinished(state)) return state;
  const interrupted = runningStage(state) ?? state.context.interrupted;
  const context = { ...state.context, interrupted };
  const snapshot = machine.resolveState({ value: state.value, context });
  const [next] = transition(machine, snapshot, { type });
  if (next.status === 'error') throw new ChartFault(`the sequence broke on ${type} in ${state.value}`);
  return { value: next.value as ChartValue, context: next.context };
}

/** Tripped without the chart's help: for when the chart itself may be what broke. */
export const haltChart = (state: ChartState): ChartState => ({
  value: 'tripped',
  context: { ...state.context, interrupted: runningStage(state) ?? state.context.interrupted },
});

export const isFinished = (state: ChartState): boolean =>
  state.value === 'completed' || state.value === 'stopped';

export const isHalted = (state: ChartState): boolean => state.value === 'paused' || state.value === 'tripped';

/** The stage that is running, or none while paused, tripped or finished. */
export function runningStage(state: ChartState): Stage | undefined {
  const { value } = state;
  return value === 'paused' || value === 'tripped' || value === 'completed' || value === 'stopped'
    ? undefined
    : value;
}
