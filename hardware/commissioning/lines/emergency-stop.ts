// (b) Emergency stop: pressed, it is seen, the board trips and everything is dark; released, nothing moves until armed.
import type { Line } from '../line.ts';
import { confirmed, done, until } from '../moves.ts';
import { armed, lit, staysDark, tripsOn, WALK_MS } from './board-trip.ts';

const REMEDY =
  'check that the button is wired as a break contact into both its input and the coil supply, then repeat the line';

export const emergencyStop: Line = {
  id: 'emergency-stop',
  title: 'Emergency stop',
  why: 'It is what you reach for when anything below goes wrong, so it is tried before anything else.',
  needs: ['facts'],
  mayDrive: { highSideValve: WALK_MS + 5_000 },
  validDays: 90,
  tolerances: [
    {
      figure: 'word',
      max: 0,
      because: 'no output may be on behind a pressed emergency stop',
      basis: 'common practice',
      remedy: REMEDY,
    },
  ],
  remedy: REMEDY,
  moves: () => [
    done('emergency-stop.released', 'Release the emergency stop. Stand so that you can reach it.'),
    armed('the board does not arm: is the emergency stop released, and the high-pressure switch closed?'),
    lit(),
    tripsOn(
      'The high-side valve is on. Press the emergency stop now, within a minute.',
      'emergency-stop',
      ({ seen }) => seen.readings.emergencyStop.ok && seen.readings.emergencyStop.value,
      'the board did not see the emergency stop, or did not drop its outputs',
    ),
    confirmed(
      'emergency-stop.dark',
      'Is every output light dark, did the valve drop, and is no coil or drive under voltage?',
      'an output keeps its supply behind a pressed emergency stop',
    ),
    until({
      tell: 'Release the emergency stop.',
      met: ({ seen }) => seen.readings.emergencyStop.ok && !seen.readings.emergencyStop.value,
      withinMs: WALK_MS,
      otherwise: 'the board does not see the emergency stop released',
    }),
    staysDark(),
    until({
      met: ({ seen }) => seen.board.state === 'tripped' && seen.board.word === 0,
      withinMs: 500,
      otherwise: 'the board forgot its trip by itself when the emergency stop was released',
    }),
    armed('the board does not obey again after it was armed'),
  ],
};
