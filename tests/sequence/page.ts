// The page on the sequence: services, diagram and table of the statechart, all from the code.
import { type ChartEdge, EDGES, EDGES_OF_ALL, returnTo } from '../../app/bench/chart-edges.ts';
import { EVERYWHERE, isEverywhere, mermaid } from '../../app/bench/mermaid.ts';
import { SERVICE_ROWS } from './services.ts';
import { waysOut } from './ways-out.ts';

export const PAGE = new URL('../../docs/sequence.md', import.meta.url);

const code = (text: string): string => `\`${text}\``;

/** Columns as wide as their widest cell, as the formatter writes them. */
function table(rows: readonly (readonly string[])[]): string {
  const [head = []] = rows;
  const widths = head.map((_, column) => Math.max(3, ...rows.map((row) => row[column]!.length)));
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell, column) => cell.padEnd(widths[column]!)).join(' | ')} |`;
  return [line(head), line(widths.map((width) => '-'.repeat(width))), ...rows.slice(1).map(line)].join('\n');
}

/** Where an event has several edges, the one without a condition is what remains. */
function conditionOf(edge: ChartEdge): string {
  if (edge.when !== '') return edge.when;
  return EDGES.some((other) => other !== edge && other.from === edge.from && other.event === edge.event)
    ? 'otherwise'
    : '';
}

function edgeTable(): string {
  const rows = EDGES.filter((edge) => !isEverywhere(edge) && !isReturn(edge)).map((edge) => [
    code(edge.from),
    code(edge.event),
    conditionOf(edge),
    [code(edge.to), edge.besides].filter((text) => text !== '').join('; '),
  ]);
  const [back] = EDGES.filter(isReturn);
  if (back !== undefined) rows.push([code(back.from), code(back.event), '', 'the stage that was left']);
  return table([['in', 'when', 'if', 'to'], ...rows]);
}

/** Out of a halt, back to where it was. */
const isReturn = ({ when, to }: ChartEdge): boolean => when === returnTo(to);

const edgeText = ({ event, to }: ChartEdge): string => `${code(event)} leads to ${code(to)}`;

function servicesTable(): string {
  const rows = SERVICE_ROWS.map(({ service, stages }) => [
    code(service),
    stages.length === 0 ? 'not available' : stages.map(code).join(', '),
  ]);
  return table([['service', 'stages'], ...rows]);
}

function leftOutList(): string {
  const lines = new Map<string, string[]>();
  for (const { service, leftOut } of SERVICE_ROWS)
    for (const { stage, with: reasons } of leftOut) {
      const line = `${code(stage)}, with ${reasons.join(', ')}`;
      lines.set(line, [...(lines.get(line) ?? []), code(service)]);
    }
  return [...lines].map(([line, services]) => `- ${line} (${services.join(', ')})`).join('\n');
}

function waysOutTable(): string {
  const rows = waysOut().map(({ stage, limit, leadsTo, resume }) => [
    code(stage),
    limit,
    code(leadsTo),
    resume,
  ]);
  return table([['stage', 'limit', 'then', 'after a pause or a trip that was reset'], ...rows]);
}

export const pageText = (): string => `# Sequence

Which step follows which. Everything here is written by \`npm run sequence\` from \`controller/statechart.ts\` and
\`controller/plan.ts\`; a test compares.

## Services

A ticket asks for a service; the plan has the stages that it takes, in this order.

${servicesTable()}

A stage is left out where it does not apply:

${leftOutList()}

## Chart

A stage answers with an event, and the chart leads on. From every stage ${EVERYWHERE.map(edgeText).join(' and ')},
and from everywhere ${EDGES_OF_ALL.map(edgeText).join(' and ')}: these are left out below.

\`\`\`mermaid
${mermaid()}
\`\`\`

Where an event has several edges, the first whose condition holds is taken. A spoiled job still puts the machine away in
order, and then ends as stopped.

${edgeTable()}

## Ways out

No stage waits for ever. Each has a limit of time, for the whole of it or for its current step, and leaves when that is over;
an open question may stand for a working day, and other limits do not run meanwhile. \`aborted\` leads out of every state.
A pause or a trip switches everything off in the same scan; the first reason of a trip is kept until the operator resets it,
which leads to a pause and not to the work.

${waysOutTable()}
`;
