// docs/traces.md says what is in a recording and what is told over MQTT: every key and topic, and no other.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Telemetry } from '../../../app/bench/telemetry.ts';
import { dispatch } from '../../../app/cli/dispatch.ts';
import { exportCommand } from '../../../app/cli/export.ts';
import { hand } from '../../../app/cli/hand.ts';
import { job } from '../../../app/cli/job.ts';
import { panel } from '../../../app/cli/panel.ts';
import { replay } from '../../../app/cli/replay.ts';
import { resume } from '../../../app/cli/resume.ts';
import { run } from '../../../app/cli/run.ts';
import { sequence } from '../../../app/cli/sequence.ts';
import { fakeTerminal } from '../fake-terminal.ts';
import { seen } from '../seen.ts';
import { demoPart } from './recordings.ts';

const page = readFileSync(new URL('../../../docs/traces.md', import.meta.url), 'utf8');

/** What stands in code style in the first column of the table below a heading. */
function firstColumn(heading: string): Set<string> {
  const part = page.split(`## ${heading}\n`)[1]!.split('\n## ')[0]!;
  const cells = part
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .map((line) => line.split('|')[1]!);
  return new Set(cells.flatMap((cell) => [...cell.matchAll(/`([^`]+)`/g)].map(([, name]) => name!)));
}

test('the table of the format has every key that a recording uses', async () => {
  const lines = readFileSync(await demoPart(), 'utf8')
    .trimEnd()
    .split('\n')
    .slice(1, -1);
  const used = new Set(lines.flatMap((line) => Object.keys(JSON.parse(line))));
  const named = firstColumn('The format');
  expect([...used].filter((key) => !named.has(key))).toEqual([]);
  // These happen later in a job, by hand or in trouble.
  expect([...named].filter((key) => !used.has(key)).sort()).toEqual([
    'byHand',
    'given',
    'held',
    'ledger',
    'notices',
    'trip',
  ]);
});

test('the table of the telemetry has every topic that is told', () => {
  const topics = new Set<string>(['state']);
  const notice = { code: 'a', severity: 'advice', text: 't', remedy: 'r', atMs: 0 } as const;
  new Telemetry(({ topic }) => topics.add(topic)).look(seen(0, { notices: [notice] }));
  expect(firstColumn('Telemetry')).toEqual(topics);
});

test('every option that the page shows is one of its command', async () => {
  const commands = [run, job, resume, panel, hand, replay, exportCommand, sequence];
  const shown = [...page.matchAll(/^npx coldbench (\S+)(.*)$/gm)];
  expect(shown.length).toBeGreaterThan(6);
  for (const [, name, rest] of shown) {
    const terminal = fakeTerminal();
    await dispatch(commands, [name!, '--help'], terminal);
    for (const [option] of rest!.split('#')[0]!.matchAll(/--[a-z-]+/g))
      expect(terminal.output(), `${name} ${option}`).toContain(option);
  }
});
