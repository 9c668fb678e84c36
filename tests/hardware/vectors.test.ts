import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BOARD_LOSSES, type BoardLosses } from '../../hardware/protocol.ts';
import { Host } from './host.ts';

const VECTORS = readFileSync(new URL('../../hardware/protocol-vectors.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((row) => row !== '' && !row.startsWith('#') && !row.startsWith('board'))
  .map((row) => row.split('\t') as [verdict: string, line: string]);

const APART_MS = 5;

/** The board when it has got the first `count` lines. */
function boardHaving(count: number) {
  const host = new Host();
  const words = VECTORS.slice(0, count).map(([, line]) => {
    host.send(`${line}\n`);
    host.wait(APART_MS);
    return host.board.outputs();
  });
  return { words, ...host.ask() };
}

const isLoss = (verdict: string): verdict is keyof BoardLosses =>
  (BOARD_LOSSES as readonly string[]).includes(verdict);

const wordOf = (line: string): number => Number.parseInt(line.split(' ')[3]!, 16);
const numberOf = (line: string): number => Number.parseInt(line.split(' ')[2]!, 16);
/** Bits of a line whose countdown is over before the next line comes. */
const overAtOnce = (line: string): number =>
  [...line.matchAll(/ ([0-9A-F]):([0-9A-F]{6})/g)]
    .filter(([, , ms]) => Number.parseInt(ms!, 16) < APART_MS)
    .reduce((bits, [, bit]) => bits | (1 << Number.parseInt(bit!, 16)), 0);

describe('the firmware comes to the verdict of every vector', () => {
  const expected: Record<string, number> = Object.fromEntries(BOARD_LOSSES.map((loss) => [loss, 0]));
  let obeyed = 0;
  let session = 0;
  let sessions = 0;
  let word = 0;
  let spent = 0;
  const all = boardHaving(VECTORS.length);

  for (const [at, [verdict, line]] of VECTORS.entries()) {
    if (isLoss(verdict)) expected[verdict]!++;
    if (verdict === 'obeyed') {
      obeyed = numberOf(line);
      // An output whose countdown is over stays off until a line has commanded it off.
      spent = (spent | overAtOnce(line)) & wordOf(line);
      word = wordOf(line) & ~spent;
    }
    if (verdict === 'hello' || verdict === 'hello-other') {
      session = verdict === 'hello' ? ++sessions : 0;
      obeyed = 0;
      word = spent = 0;
    }
    const want = { losses: { ...expected }, obeyed, session, word };
    test(`line ${at + 1} is ${verdict}: ${line.slice(0, 60)}`, () => {
      const got = boardHaving(at + 1);
      const { kind: _, ...losses } = got.lost;
      expect(losses).toEqual(want.losses);
      expect(got.seen.obeyed).toBe(want.obeyed);
      expect(got.board.session).toBe(want.session);
      expect(all.words[at]).toBe(want.word);
    });
  }

  test('the check can fail: a board that lacks one line ends elsewhere', () => {
    const host = new Host();
    for (const [, line] of VECTORS.filter((_, at) => at !== 1)) host.send(`${line}\n`);
    const { kind: _, ...losses } = host.ask().lost;
    expect(losses).not.toEqual(expected);
  });
});
