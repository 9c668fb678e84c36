// The edges of the statechart as its machine has them, none left out: from, event, condition, to.
import { machine } from '../../controller/statechart.ts';

export type ChartEdge = {
  readonly from: string;
  readonly event: string;
  /** When it is taken, in words; empty for always. */
  readonly when: string;
  readonly to: string;
  /** What else comes of it, in words. */
  readonly besides: string;
};

/** Back to this stage, because it is the one that was left. */
export const returnTo = (stage: string): string => `\`${stage}\` was left`;

const GUARDS: { readonly [type: string]: (stage: string) => string } = {
  plans: (stage) => `\`${stage}\` is planned`,
  wasIn: returnTo,
  isSpoiled: () => 'the job is spoiled',
  onlyChecks: () => '`leak-check` is planned and no `charge`',
  isGivingBack: () => 'it is what the leak check had let in',
  hasTriedEngine: () => 'the engine has been tried',
};

const ACTIONS: { readonly [type: string]: string } = {
  spoil: 'the job is spoiled',
  giveBack: 'what was let in is taken back',
  tryNoEngine: 'the engine is not tried again',
};

/** A guard or action of the machine: its name, or its name and what it is given. */
type Named = string | { readonly type: string; readonly params?: { readonly stage?: string } };

const nameOf = (named: Named): string => (typeof named === 'string' ? named : named.type);

/** @throws Error for a guard that has no words yet. */
function guardText(guard: Named | undefined): string {
  if (guard === undefined) return '';
  const words = GUARDS[nameOf(guard)];
  if (words === undefined)
    throw new Error(`tests/sequence/edges.ts has no words for the guard ${nameOf(guard)}`);
  return words(typeof guard === 'string' ? '' : (guard.params?.stage ?? ''));
}

/** @throws Error for an action that has no words yet. */
const actionText = (action: Named): string => {
  const words = ACTIONS[nameOf(action)];
  if (words === undefined)
    throw new Error(`tests/sequence/edges.ts has no words for the action ${nameOf(action)}`);
  return words;
};

/** Of the whole machine, or of one of its states. */
function edgesOf(from: string, node: typeof machine.root): ChartEdge[] {
  return [...node.transitions].flatMap(([event, transitions]) =>
    transitions.map(({ guard, target, actions }) => ({
      from,
      event,
      when: guardText(guard as Named | undefined),
      to: (target ?? []).map(({ key }) => key).join(', '),
      besides: (actions as readonly Named[]).map(actionText).join(', '),
    })),
  );
}

export const INITIAL = String(machine.config.initial);
/** In the order of the machine. */
export const STATES = Object.values(machine.states).map(({ key, type }) => ({ key, ends: type === 'final' }));
/** Edges that lead out of every state alike. */
export const EDGES_OF_ALL = edgesOf('', machine.root);
export const EDGES = Object.values(machine.states).flatMap((node) => edgesOf(node.key, node));
