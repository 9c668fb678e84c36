// (d) High-pressure switch: opened, it is seen, the board trips; closed, nothing moves until armed.
import type { Line } from '../line.ts';
import { confirmed, until } from '../moves.ts';
import { armed, lit, staysDark, tripsOn, WALK_MS } from './board-trip.ts';

const REMEDY =
  'check that the switch is wired as a break contact into both its input and the compressor supply, then repeat the line';

export const highPressure: Line = {
  id: 'high-pressure',
  title: 'High-pressure switch',
  why: 'A compressor against a shut valve reaches its limit within seconds; only the wired switch is quick and sure enough.',
  needs: ['facts', 'emergency-stop', 'link-loss'],
  mayDrive: { highSideValve: WALK_MS + 5_000 },
  validDays: 90,
  tolerances: [
    {
      figure: 'word',
      max: 0,
      because: 'no output may be on behind an open high-pressure switch',
      basis: 'common practice',
      remedy: REMEDY,
    },
  ],
  remedy: REMEDY,
  moves: () => [
    armed('the board does not arm: are emergency stop and high-pressure switch closed?'),
    lit(),
    tripsOn(
      'The high-side valve is on. Open the high-pressure switch now, within a minute: by its test lever, or by taking off one of its wires.',
      'high-pressure',
      ({ seen }) => seen.readings.highPressureSwitch.ok && seen.readings.highPressureSwitch.value,
      'the board did not see the high-pressure switch, or did not drop its outputs',
    ),
    confirmed(
      'high-pressure.dark',
      'Is every output light dark, and is the compressor without supply?',
      'an output keeps its supply behind an open high-pressure switch',
    ),
    until({
      tell: 'Close the high-pressure switch again.',
      met: ({ seen }) => seen.readings.highPressureSwitch.ok && !seen.readings.highPressureSwitch.value,
      withinMs: WALK_MS,
      otherwise: 'the board does not see the high-pressure switch closed',
    }),
    staysDark(),
    until({
      met: ({ seen }) => seen.board.state === 'tripped' && seen.board.word === 0,
      withinMs: 500,
      otherwise: 'the board forgot its trip by itself when the switch closed',
    }),
    armed('the board does not obey again after it was armed'),
  ],
};
