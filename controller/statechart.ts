// The order of the stages: which event leads where. Events only, on edges; deadlines and outputs live elsewhere.
import { assign, setup, transition } from 'xstate';
import {
  type ChartContext,
  type ChartState,
  type ChartValue,
  isFinished,
  runningStage,
} from './chart-state.ts';
import type { StageEvent } from './stage-events.ts';
import { STAGES, type Stage } from './stages.ts';

export type ChartEvent = {
  readonly type: StageEvent | 'paused' | 'resumed' | 'aborted' | 'tripped' | 'reset';
};

/** To the first of these stages that the plan has; the last one is taken without asking. */
const toFirst = <S extends Stage>(...stages: readonly [...S[], S]) =>
  stages.map((stage, index) =>
    index === stages.length - 1
      ? ({ target: stage } as const)
      : ({ guard: { type: 'plans', params: { stage: stage as Stage } }, target: stage } as const),
  );

/** For whoever draws it; the sequence moves along it by `follow`. */
export const machine = setup({
  types: {
    context: {} as ChartContext,
    events: {} as ChartEvent,
  },
  guards: {
    plans: ({ context }, { stage }: { stage: Stage }) => context.stages.includes(stage),
    /** A check that no charge follows. */
    onlyChecks: ({ context: { stages } }) => stages.includes('leak-check') && !stages.includes('charge'),
    isGivingBack: ({ context }) => context.givingBack,
    isSpoiled: ({ context }) => context.spoiled,
    hasTriedEngine: ({ context }) => context.engineTried,
    wasIn: ({ context }, { stage }: { stage: Stage }) => context.interrupted === stage,
  },
  actions: {
    spoil: assign({ spoiled: true }),
    giveBack: assign({ givingBack: true }),
    tryNoEngine: assign({ engineTried: true }),
  },
}).createMachine({
  id: 'service',
  initial: 'identify',
  context: { stages: STAGES, interrupted: null, spoiled: false, givingBack: false, engineTried: false },
  on: { aborted: { target: '.stopped' } },
  states: {
    identify: {
      on: {
        'refrigerant-accepted': toFirst('purge-air', 'settle', 'fill'),
        'refrigerant-refused': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    fill: {
      on: {
        'tank-filled': 'recover-hoses',
        'cylinder-emptied': 'recover-hoses',
        'fill-fell-short': { target: 'recover-hoses', actions: 'spoil' },
        'cylinder-unfit': 'stopped',
        'tank-unfit': 'stopped',
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'purge-air': {
      on: {
        'no-air-purged': 'settle',
        'air-purged': 'settle',
        'air-left': 'settle',
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    settle: {
      on: {
        'pressure-found': [{ guard: 'onlyChecks', target: 'leak-check' }, { target: 'recover' }],
        'vehicle-found-empty': toFirst('repair', 'evacuate', 'recover-hoses'),
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
        'rest-stayed-low': [
          { guard: 'isGivingBack', target: 'recover-hoses' },
          ...toFirst('drain-oil', 'repair', 'evacuate', 'recover-hoses'),
        ],
        'liquid-left': { target: 'recover-hoses', actions: 'spoil' },
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'drain-oil': {
      on: {
        'oil-drained': toFirst('repair', 'evacuate', 'recover-hoses'),
        'oil-not-drained': toFirst('repair', 'evacuate', 'recover-hoses'),
        'valve-does-not-shut': { target: 'recover-hoses', actions: 'spoil' },
        'scale-lost': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    repair: {
      on: {
        repaired: 'evacuate',
        'repair-not-needed': 'evacuate',
        'pressure-rose': 'recover',
        'liquid-left': { target: 'recover-hoses', actions: 'spoil' },
        'vehicle-found-pressurised': 'stopped',
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
        'held-tight': toFirst('add-oil', 'leak-check', 'charge'),
        'hold-inconclusive': toFirst('add-oil', 'leak-check', 'charge'),
        'outgassing-accepted': toFirst('add-oil', 'leak-check', 'charge'),
        outgassed: 'evacuate',
        'leak-suspected': 'evacuate',
        'leak-found': 'stopped',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'add-oil': {
      on: {
        'oil-added': toFirst('leak-check', 'charge'),
        'oil-not-added': toFirst('leak-check', 'charge'),
        'air-drawn-in': 'evacuate',
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'leak-check': {
      on: {
        'search-clear': [
          { guard: 'onlyChecks', target: 'recover', actions: 'giveBack' },
          { target: 'charge' },
        ],
        'search-found': [
          { guard: 'onlyChecks', target: 'recover', actions: 'giveBack' },
          { target: 'recover', actions: ['giveBack', 'spoil'] },
        ],
        'search-ended': 'recover-hoses',
        'search-failed': { target: 'recover', actions: ['giveBack', 'spoil'] },
        'not-searched': { target: 'recover-hoses', actions: 'spoil' },
        'vacuum-gone': 'stopped',
        'scale-lost': { target: 'recover-hoses', actions: 'spoil' },
        'timed-out': 'stopped',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    charge: {
      on: {
        charged: [
          { guard: 'hasTriedEngine', target: 'recover-hoses' },
          ...toFirst('verify', 'recover-hoses'),
        ],
        'charge-fell-short': { target: 'recover-hoses', actions: 'spoil' },
        'vacuum-gone': 'stopped',
        'scale-lost': { target: 'recover-hoses', actions: 'spoil' },
        'timed-out': { target: 'recover-hoses', actions: 'spoil' },
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    verify: {
      on: {
        verified: 'clear-hoses',
        'engine-not-used': 'recover-hoses',
        'engine-of-no-help': { target: 'charge', actions: 'tryNoEngine' },
        'timed-out': 'recover-hoses',
        paused: 'paused',
        tripped: 'tripped',
      },
    },
    'clear-hoses': {
      on: {
        'hoses-cleared': 'recover-hoses',
        'hoses-not-cleared': 'recover-hoses',
        'tank-poured': 'stopped',
        'timed-out': 'recover-hoses',
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

/**
 * One edge. An event that has no edge here leads nowhere; leaving a stage for a halt remembers it. A chart that breaks throws,
 * and the scan answers with a trip.
 */
export function follow(state: ChartState, type: ChartEvent['type']): ChartState {
  if (isFinished(state)) return state;
  const interrupted = runningStage(state) ?? state.context.interrupted;
  const context = { ...state.context, interrupted };
  const snapshot = machine.resolveState({ value: state.value, context });
  const [next] = transition(machine, snapshot, { type });
  return { value: next.value as ChartValue, context: next.context };
}
