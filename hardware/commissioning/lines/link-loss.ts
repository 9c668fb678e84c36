// (c) Link loss: one harmless output on, the host falls silent, and the board drops it by itself in time.
import type { Line, Move, MoveMemory, Outcome, Sample, Turn } from '../line.ts';
import { confirmed } from '../moves.ts';
import { armed, HARMLESS, lit } from './board-trip.ts';

const SILENT_MS = 1_500;
const LIMIT_MS = 300;
const REMEDY =
  'flash hardware/firmware/coldbench.hex anew, check the supply of the board, and repeat the line';

const OBEYED = 0;
const DARK = 1;

/** When the number of the last obeyed line was seen first, and when the word was dark first, by the board's clock. */
function watched({ samples }: MoveMemory, { seen }: Turn): readonly Sample[] {
  const { obeyed, word, timeMs } = seen.board;
  const last = samples[OBEYED];
  if (last === undefined || last.value !== obeyed) return [{ atMs: timeMs, value: obeyed }];
  return samples[DARK] === undefined && word === 0 ? [last, { atMs: timeMs, value: word }] : samples;
}

/** Says nothing, and looks when the board drops its outputs. */
const silence = (): Move => ({
  asks: false,
  tell: 'The line falls silent for a moment. The high-side valve must drop.',
  step: (memory, turn): Outcome => {
    const samples = watched(memory, turn);
    if (turn.nowMs - memory.sinceMs < SILENT_MS) return { kind: 'stay', silent: true, samples };
    const { trip, word } = turn.seen.board;
    const [obeyed, dark] = samples;
    if (obeyed === undefined || dark === undefined)
      return { kind: 'fail', why: 'the board kept an output on although nothing was said to it' };
    if (trip !== 'link-lost') return { kind: 'fail', why: `the board says '${trip}' and not 'link-lost'` };
    return { kind: 'next', figures: { darkAfterMs: dark.atMs - obeyed.atMs, trippedBy: trip, word } };
  },
});

export const linkLoss: Line = {
  id: 'link-loss',
  title: 'Loss of the line',
  why: 'Computers stop, cables come off. The board alone must then shut everything.',
  needs: ['facts', 'emergency-stop'],
  mayDrive: { [HARMLESS]: 65_000 },
  validDays: 90,
  tolerances: [
    {
      figure: 'darkAfterMs',
      max: LIMIT_MS,
      because:
        'by docs/protocol.md the board drops its outputs 250 ms after the last line that it obeyed; it tells of it every 50 ms',
      basis: 'source',
      remedy: REMEDY,
    },
    { figure: 'word', max: 0, because: 'no output stays on', basis: 'common practice', remedy: REMEDY },
  ],
  remedy: REMEDY,
  moves: () => [
    armed('the board does not arm: are emergency stop and high-pressure switch closed?'),
    lit(),
    silence(),
    confirmed('link-loss.dropped', 'Did the high-side valve drop by itself?', 'the valve stayed on'),
    armed('the board does not obey again after it was armed'),
  ],
};
