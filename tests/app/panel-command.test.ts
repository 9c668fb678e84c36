// `coldbench panel`: wrong arguments are one line with the remedy, before anything is built or served.
import { expect, test } from 'vitest';
import { dispatch } from '../../app/cli/dispatch.ts';
import { panel } from '../../app/cli/panel.ts';
import { fakeTerminal } from './fake-terminal.ts';

test.each([
  [['--port', 'eighty'], /--port must be a whole number from 0 to 65535, not 'eighty'/],
  [['--port', '70000'], /--port must be a whole number from 0 to 65535/],
  [['--seed', 'x'], /--seed must be a whole number/],
  [['nowhere.json'], /nowhere\.json: there is no such file/],
  [['--open'], /--open/],
  [['--board', '/dev/ttyX'], /--file is missing/],
  [['--file', 'rig.json'], /--file belongs to --board/],
  [['--board', '/dev/ttyX', '--file', 'rig.json', '--seed', '1'], /for the simulated bench/],
  [['--board', '/dev/ttyX', '--file', 'package.json', '--records', ':memory:'], /package\.json: /],
])('%j is refused', async (args, said) => {
  const terminal = fakeTerminal({ input: [] });
  expect(await dispatch([panel], ['panel', ...args], terminal)).toBe(2);
  expect(terminal.errors()).toMatch(said);
  expect(terminal.errors().trim().split('\n')).toHaveLength(1);
});
