// The whole proof of the board's safety on the emulated board, more of it than the tests have time for. Writes its
// figures to docs/rig-proof.md and fails where one is out of its limit.
import { writeFileSync } from 'node:fs';
import { burst, corrupted, threeBits } from './corrupted.ts';
import { bursts, drawnLines, type Passed, summed, threeFlips } from './every-flip.ts';
import { FLOODS, flood, hostile } from './hostile.ts';
import { hung, linkLost, switchOpened } from './off-times.ts';

const PAGE = new URL('../../../docs/rig-proof.md', import.meta.url);

type Row = { readonly what: string; readonly limit: string; readonly found: string; readonly holds: boolean };

const ms = (value: number): string => `${value.toFixed(1)} ms`;

function times(what: string, limitMs: number, found: readonly number[]): Row {
  const within = found.filter((each) => each <= limitMs).length;
  return {
    what,
    limit: `off within ${limitMs} ms`,
    found: `${within} of ${found.length}, from ${ms(Math.min(...found))} to ${ms(Math.max(...found))}`,
    holds: within === found.length,
  };
}

function none(what: string, sent: number, obeyed: number): Row {
  return {
    what,
    limit: 'none obeyed',
    found: `${obeyed} of ${sent.toLocaleString('en')}`,
    holds: obeyed === 0,
  };
}

function corruption(what: string, spoil: typeof burst): Row {
  const { sent, obeyed, changes } = corrupted(20_000, spoil);
  return none(what, sent, obeyed + changes);
}

function everyWay(what: string, lines: number, each: (line: string) => Passed): Row {
  const { ways, passed } = summed(drawnLines(lines), each);
  return {
    what: `${what} of ${lines.toLocaleString('en')} lines, all of them`,
    limit: 'none passes the check',
    found: `${passed} of ${ways.toLocaleString('en')}`,
    holds: passed === 0,
  };
}

function noise(): Row {
  const { sent, obeyed } = hostile(102_000, 2);
  return none('lines cut short, replayed (of this session and an older one) or random', sent, obeyed);
}

function flooded(name: string, piece: (typeof FLOODS)[keyof typeof FLOODS]): Row {
  const { offMs, longestGapMs, unsent } = flood(piece);
  return {
    what: `a second of flood: ${name}`,
    limit: 'off within 250 ms, SEEN at most 60 ms apart, none unsent',
    found: `${ms(offMs)}, ${ms(longestGapMs)}, ${unsent}`,
    holds: offMs <= 250 && longestGapMs <= 60 && unsent === 0,
  };
}

const rows: readonly Row[] = [
  times('the line falls silent, at random moments, half of them within a line', 250, linkLost(300)),
  times('emergency stop, at random moments', 5, switchOpened('emergencyStop', 300).times),
  times('high-pressure switch, at random moments', 5, switchOpened('highPressureSwitch', 300).times),
  times('the main loop hangs', 150, hung('main loop', 100)),
  times('the timer stands still', 150, hung('timer', 100)),
  times('everything hangs', 150, hung('everything', 100)),
  corruption('command lines with one to three flipped bits', threeBits),
  corruption('command lines with a burst of two to sixteen bits', burst),
  everyWay('one to three flipped bits', 2000, threeFlips),
  everyWay('bursts of up to sixteen bits', 50, bursts),
  noise(),
  ...Object.entries(FLOODS).map(([name, piece]) => flooded(name, piece)),
];

const table = rows.map(
  ({ what, limit, found, holds }) => `| ${what} | ${limit} | ${found} | ${holds ? 'yes' : 'NO'} |`,
);
writeFileSync(
  PAGE,
  `# What the board does when things go wrong

Written by \`npm run rig-proof\`, which runs the compiled firmware on the emulated board. Times are counted from the last
byte of the last line that was obeyed, from the opening of the contact, or from the moment of the hang, until no output
is driven any more and the fan is free to run. The tests in \`tests/hardware/\` do the same in smaller numbers, each with
a test that shows how the check fails. What emulation cannot show (the oscillator's and the watchdog's tolerance,
brown-out, disturbance on the wires) has to be tried on the bench.

| what happens | limit | found | holds |
| --- | --- | --- | --- |
${table.join('\n')}
`,
);
process.stdout.write(`${table.join('\n')}\n`);
process.exitCode = rows.every(({ holds }) => holds) ? 0 : 1;
