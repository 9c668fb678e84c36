// The statechart as a diagram of Mermaid.
import { type ChartEdge, EDGES, INITIAL, STATES } from './chart-edges.ts';

/** Where the operator or a trip leads: no step of the job. */
const isHalt = (key: string): boolean => key === 'paused' || key === 'tripped';

const stages = STATES.filter(({ key, ends }) => !ends && !isHalt(key));

/** Events that lead from every stage to the same place. */
export const EVERYWHERE = EDGES.filter(
  (edge) =>
    edge.from === INITIAL &&
    stages.every(({ key }) =>
      EDGES.some(({ from, event, to }) => from === key && event === edge.event && to === edge.to),
    ),
);
export const isEverywhere = ({ event, to }: ChartEdge): boolean =>
  EVERYWHERE.some((edge) => edge.event === event && edge.to === to);

/** Edges of the diagram: those of one stage only, in one arrow for each pair. */
function arrows(): string[] {
  const shown = EDGES.filter((edge) => !isEverywhere(edge) && !isHalt(edge.from));
  const pairs = new Map<string, string[]>();
  for (const { from, to, event } of shown) {
    const pair = `${alias(from)} --> ${alias(to)}`;
    const events = pairs.get(pair) ?? [];
    if (!events.includes(event)) pairs.set(pair, [...events, event]);
  }
  return [...pairs].map(([pair, events]) => `  ${pair}: ${events.join('<br/>')}`);
}

/** Mermaid takes no dash in the name of a state. */
const alias = (key: string): string => key.replaceAll('-', '_');

/** A state diagram of Mermaid: stages and ends; what leads from every stage to the same place is left out. */
export function mermaid(): string {
  const shown = STATES.filter(({ key }) => !isHalt(key));
  const named = shown
    .filter(({ key }) => alias(key) !== key)
    .map(({ key }) => `  state "${key}" as ${alias(key)}`);
  const ends = shown.filter(({ ends }) => ends).map(({ key }) => `  ${alias(key)} --> [*]`);
  return ['stateDiagram-v2', ...named, `  [*] --> ${alias(INITIAL)}`, ...arrows(), ...ends].join('\n');
}
