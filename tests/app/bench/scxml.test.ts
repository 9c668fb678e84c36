// The exported chart is the chart that jobs follow: another engine runs it, event for event.
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EDGES, EDGES_OF_ALL } from '../../../app/bench/chart-edges.ts';
import { scxml } from '../../../app/bench/scxml.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { sequence } from '../../../app/cli/sequence.ts';
import { openChart } from '../../../controller/chart-state.ts';
import { STAGES, type Stage } from '../../../controller/stages.ts';
import { type ChartEvent, follow } from '../../../controller/statechart.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { inFolder } from './recordings.ts';

const RUN = fileURLToPath(new URL('scxml/run.py', import.meta.url));
/** Debian's Python: the one that has Debian's Qt. */
const PYTHON = '/usr/bin/python3';
const engine = spawnSync(PYTHON, ['-c', 'import PySide2.QtScxml']).status === 0;
if (!engine)
  process.stderr.write(
    'skipped: python3-pyside2.qtscxml is not installed, so no other engine runs the chart\n',
  );

type EventType = ChartEvent['type'];
type Case = { readonly stages: readonly [Stage, ...Stage[]]; readonly events: readonly EventType[] };

const ALL_EVENTS = [...new Set([...EDGES, ...EDGES_OF_ALL].map(({ event }) => event))] as EventType[];
const LENGTH = 30;

const isEnd = (to: string): boolean => to === 'stopped' || to === 'completed';

/** Mostly events that lead somewhere else than to an end, now and then any other. */
function walk(stages: Case['stages'], choices: readonly number[]): Case {
  let chart = openChart(stages);
  const events = choices.map((choice) => {
    const edges = EDGES.filter(({ from, to }) => from === chart.value && !isEnd(to));
    const some = choice % 5 === 0 || edges.length === 0 ? ALL_EVENTS : edges.map(({ event }) => event);
    const event = some[Math.floor(choice / 5) % some.length] as EventType;
    chart = follow(chart, event);
    return event;
  });
  return { stages, events };
}

/** In any order: the first is where the job begins. */
const plans = fc
  .shuffledSubarray([...STAGES], { minLength: 1 })
  .map((stages) => stages as unknown as Case['stages']);
const CASES: readonly Case[] = [
  ...fc.sample(
    fc
      .tuple(plans, fc.array(fc.nat({ max: 1_000_000 }), { minLength: LENGTH, maxLength: LENGTH }))
      .map(([stages, choices]) => walk(stages, choices)),
    { numRuns: 400, seed: 11 },
  ),
];

function valuesOf({ stages, events }: Case): string[] {
  let chart = openChart(stages);
  const values: string[] = [chart.value];
  for (const event of events) {
    chart = follow(chart, event);
    values.push(chart.value);
  }
  return values;
}

describe('the chart as SCXML', () => {
  test('the walks go along every edge that leads on, and along many that end it', () => {
    const gone = new Set<string>();
    for (const one of CASES) {
      const values = valuesOf(one);
      one.events.forEach((event, at) => {
        if (values[at] !== values[at + 1]) gone.add(`${values[at]} ${event}`);
      });
    }
    const inside = EDGES.filter(({ to }) => !isEnd(to)).map(({ from, event }) => `${from} ${event}`);
    expect(inside.filter((edge) => !gone.has(edge))).toEqual([]);
    expect([...gone].filter((edge) => !inside.includes(edge)).length).toBeGreaterThan(20);
  });

  test.runIf(engine)('another engine is in the same state after every event of every walk', () => {
    const lines = CASES.map(({ stages, events }, at) => {
      const file = inFolder(`chart-${at}.scxml`);
      writeFileSync(file, scxml(stages));
      return JSON.stringify({ file, events });
    });
    const { status, stdout, stderr } = spawnSync(PYTHON, [RUN], {
      input: lines.join('\n'),
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    const answers = stdout
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(answers).toHaveLength(CASES.length);
    CASES.forEach((one, at) => {
      expect(answers[at], JSON.stringify(one)).toEqual({
        errors: [],
        states: valuesOf(one).map((value) => [value]),
      });
    });
  });
});

describe('coldbench sequence', () => {
  async function called(...args: string[]) {
    const terminal = fakeTerminal();
    const status = await dispatch([sequence], ['sequence', ...args], terminal);
    return { status, out: terminal.output(), err: terminal.errors() };
  }

  test('prints the diagram of the page on the sequence, or the machine', async () => {
    const { status, out } = await called();
    expect(status).toBe(0);
    expect(out).toMatch(/^stateDiagram-v2\n[\s\S]*recover --> rest: run-ended/);
    expect((await called('--format', 'scxml')).out).toBe(scxml());
  });

  test('another format is one line', async () => {
    expect(await called('--format', 'dot')).toEqual({
      status: 2,
      out: '',
      err: "coldbench: --format must be mermaid or scxml, not 'dot'\n",
    });
  });
});
