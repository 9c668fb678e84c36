// What the lines that make the board trip have in common: one harmless output on, a cause, and darkness in time.
import type { BoardTrip } from '../../protocol.ts';
import { OUTPUT_BITS } from '../../protocol.ts';
import type { Move, Turn, Wish } from '../line.ts';
import { held, until, wish } from '../moves.ts';

/** A hose valve of an empty machine: whatever it does, nothing comes of it. */
export const HARMLESS = 'highSideValve';
/** An operator needs so long to walk to a switch. */
export const WALK_MS = 60_000;
const WALKED_ON: readonly Wish[] = [wish(HARMLESS, WALK_MS + 5_000)];
const ARMED_MS = 3_000;

/** Everything off under control, and the board says that it obeys. */
export const armed = (otherwise: string): Move => ({
  ...until({ met: ({ seen }) => seen.board.state === 'armed', withinMs: ARMED_MS, otherwise }),
  takesControl: true,
});

const bitOf = (output: (typeof OUTPUT_BITS)[number]): number => 1 << OUTPUT_BITS.indexOf(output);
export const isOnly = ({ seen }: Turn, output: (typeof OUTPUT_BITS)[number]): boolean =>
  seen.board.word === bitOf(output);
const dark = ({ seen }: Turn): boolean => seen.board.word === 0;

/** The harmless output is on, by the board's own word. */
export const lit = (): Move =>
  until({
    met: (turn) => isOnly(turn, HARMLESS),
    withinMs: 2_000,
    otherwise: `the board does not read back ${HARMLESS}, and nothing else, as on`,
    on: WALKED_ON,
  });

/** The operator does something to a switch while the harmless output is on; the board must see it and go dark. */
export const tripsOn = (
  tell: string,
  trip: BoardTrip,
  isSeen: (turn: Turn) => boolean,
  otherwise: string,
): Move =>
  until({
    tell,
    met: (turn) => isSeen(turn) && turn.seen.board.trip === trip && dark(turn),
    withinMs: WALK_MS,
    otherwise,
    on: (turn) => (isSeen(turn) ? [] : WALKED_ON),
    figures: (turn) => ({ trippedBy: turn.seen.board.trip, word: turn.seen.board.word }),
  });

/** Nothing comes on by itself when the cause has gone. */
export const staysDark = (): Move => held(1_000);
