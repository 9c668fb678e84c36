// The edges of the statechart as its machine has them, none left out: from, event, condition, to.
import type { ChartContext } from '../../controller/chart-state.ts';
import { machine } from '../../controller/statechart.ts';

export type ChartEdge = {
  readonly from: string;
  readonly event: string;
  /** When it is taken, in words; empty for always. */
  readonly when: string;
  readonly to: string;
  /** The same as an expression of ECMAScript over the chart's context; empty for always. */
  readonly condition: string;
  /** What else comes of it, in words. */
  readonly besides: string;
  /** Fields of the context that it sets to true. */
  readonly sets: readonly (keyof ChartContext)[];
};

/** Back to this stage, because it is the one that was left. */
export const returnTo = (stage: string): string => `\`${stage}\` was left`;

type Told = { readonly words: string; readonly condition: string };

const planned = (stage: string): string => `stages.indexOf('${stage}') >= 0`;

const GUARDS: { readonly [type: string]: (stage: string) => Told } = {
  plans: (stage) => ({ words: `\`${stage}\` is planned`, condition: planned(stage) }),
  wasIn: (stage) => ({ words: returnTo(stage), condition: `interrupted === '${stage}'` }),
  isSpoiled: () => ({ words: 'the job is spoiled', condition: 'spoiled' }),
  onlyChecks: () => ({
    words: '`leak-check` is planned and no `charge`',
    condition: `${planned('leak-check')} && !(${planned('charge')})`,
  }),
  isGivingBack: () => ({ words: 'it is what the leak check had let in', condition: 'givingBack' }),
  hasTriedEngine: () => ({ words: 'the engine has been tried', condition: 'engineTried' }),
};

const ACTIONS: { readonly [type: string]: { readonly words: string; readonly sets: keyof ChartContext } } = {
  spoil: { words: 'the job is spoiled', sets: 'spoiled' },
  giveBack: { words: 'what was let in is taken back', sets: 'givingBack' },
  tryNoEngine: { words: 'the engine is not tried again', sets: 'engineTried' },
};

/** A guard or action of the machine: its name, or its name and what it is given. */
type Named = string | { readonly type: string; readonly params?: { readonly stage?: string } };

const nameOf = (named: Named): string => (typeof named === 'string' ? named : named.type);

/** @throws Error for a guard or an action that has no words yet. */
function told<T>(table: { readonly [type: string]: T }, named: Named): T {
  const entry = table[nameOf(named)];
  if (entry === undefined) throw new Error(`app/bench/chart-edges.ts has no words for ${nameOf(named)}`);
  return entry;
}

function guardOf(guard: Named | undefined): Told {
  if (guard === undefined) return { words: '', condition: '' };
  return told(GUARDS, guard)(typeof guard === 'string' ? '' : (guard.params?.stage ?? ''));
}

/** Of the whole machine, or of one of its states. */
function edgesOf(from: string, node: typeof machine.root): ChartEdge[] {
  return [...node.transitions].flatMap(([event, transitions]) =>
    transitions.map(({ guard, target, actions }) => {
      const { words, condition } = guardOf(guard as Named | undefined);
      const done = (actions as readonly Named[]).map((action) => told(ACTIONS, action));
      return {
        from,
        event,
        when: words,
        condition,
        to: (target ?? []).map(({ key }) => key).join(', '),
        besides: done.map((action) => action.words).join(', '),
        sets: done.map((action) => action.sets),
      };
    }),
  );
}

export const INITIAL = String(machine.config.initial);
/** In the order of the machine. */
export const STATES = Object.values(machine.states).map(({ key, type }) => ({ key, ends: type === 'final' }));
/** Edges that lead out of every state alike. */
export const EDGES_OF_ALL = edgesOf('', machine.root);
export const EDGES = Object.values(machine.states).flatMap((node) => edgesOf(node.key, node));
