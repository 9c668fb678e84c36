import { expect, test } from 'vitest';
import { splitArguments } from '../../app/cli/arguments.ts';
import { type CliCommand, InputError, RunBroken } from '../../app/cli/command.ts';
import { dispatch } from '../../app/cli/dispatch.ts';
import { fakeTerminal } from './fake-terminal.ts';

const command = (name: string, run: CliCommand['run']): CliCommand => ({
  name,
  summary: `does ${name}`,
  help: `all about ${name}`,
  run,
});

const commands = [
  command('weigh', async (args, terminal) => {
    terminal.out(args.join('+'));
    return 1;
  }),
  command('refuse', async () => {
    throw new InputError('the input is wrong; mend it');
  }),
  command('stall', async () => {
    throw new RunBroken('at 7.0 s, tank: too hot');
  }),
  command('break', async () => {
    throw new TypeError('our own mistake');
  }),
];

async function called(...args: string[]) {
  const terminal = fakeTerminal();
  const status = await dispatch(commands, args, terminal);
  return { status, out: terminal.output(), err: terminal.errors() };
}

test('a command gets its arguments and its exit status is passed on', async () => {
  expect(await called('weigh', 'a', 'b')).toEqual({ status: 1, out: 'a+b', err: '' });
});

test('the overview lists every command, and one command explains itself', async () => {
  const overview = await called('--help');
  expect(overview.status).toBe(0);
  for (const { name, summary } of commands) expect(overview.out).toContain(`${name}`.padEnd(8) + summary);
  expect(await called('weigh', '--help')).toEqual({ status: 0, out: 'all about weigh\n', err: '' });
});

test('no command at all shows the overview and is bad input', async () => {
  const { status, out } = await called();
  expect(status).toBe(2);
  expect(out).toContain('Usage');
});

test('the version is the one of the package', async () => {
  expect((await called('--version')).out).toMatch(/^coldbench \d+\.\d+\.\d+\n$/);
});

test('an unknown command is one line with the nearest name', async () => {
  const { status, out, err } = await called('wiegh');
  expect({ status, out }).toEqual({ status: 2, out: '' });
  expect(err).toBe("coldbench: there is no command 'wiegh'; did you mean weigh?\n");
});

test('wrong input is one line without a stack', async () => {
  expect(await called('refuse')).toEqual({
    status: 2,
    out: '',
    err: 'coldbench: the input is wrong; mend it\n',
  });
});

test('a run that cannot go on is one line without a stack, and no mistake of the input', async () => {
  expect(await called('stall')).toEqual({
    status: 1,
    out: '',
    err: 'coldbench: at 7.0 s, tank: too hot\n',
  });
});

test('a mistake of ours says so, with the stack and a status of its own', async () => {
  const { status, err } = await called('break');
  expect(status).toBe(70);
  expect(err).toContain('internal error');
  expect(err).toContain('our own mistake');
  expect(err).toContain('dispatch.test.ts');
});

const OPTIONS = { seed: { type: 'string' }, json: { type: 'boolean' } } as const;

test('options and positionals are taken in any order', () => {
  const { values, positionals } = splitArguments(['--json', 'a.json', '--seed=7'], OPTIONS, 1);
  expect([...values]).toEqual([
    ['json', ''],
    ['seed', '7'],
  ]);
  expect(positionals).toEqual(['a.json']);
});

test('a number below zero is a value, and no option', () => {
  expect(splitArguments(['--seed', '-1', '--json'], OPTIONS, 0).values.get('seed')).toBe('-1');
});

test.each([
  [['--sede', '7'], 'did you mean --seed?'],
  [['--seed'], '--seed needs a value'],
  [['--seed', '--json'], '--seed needs a value'],
  [['--seed', '-x'], '--seed needs a value'],
  [['--json=yes'], '--json takes no value'],
  [['--seed', '1', '--seed', '2'], 'given twice'],
  [['a', 'b'], "one argument too many: 'b'"],
])('%j is refused with the remedy', (args, words) => {
  expect(() => splitArguments(args, OPTIONS, 1)).toThrow(words);
});
