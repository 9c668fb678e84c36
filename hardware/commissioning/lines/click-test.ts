// (f) Click test: each output alone, read back by the board, heard or seen by the operator, and nothing else with it.
import type { Output } from '../../../controller/signals.ts';
import { fittedOutputs } from '../facts.ts';
import { LONGEST_PULSE_MS } from '../guard.ts';
import { BEFORE_DRIVING, type Line, type Move, type Turn } from '../line.ts';
import { asked, done, held, until, wish } from '../moves.ts';
import { isOnly } from './board-trip.ts';

const PULSE_MS = 1_000;
/** A fan runs down for some seconds. */
const FAN_STOP_MS = 15_000;
const REMEDY = 'check relay, coil and wire of that output against the pin map, then repeat the line';

const SEEN_TO_ACT: { readonly [O in Output]?: string } = {
  compressor: 'Did the compressor turn for a second',
  vacuumPump: 'Did the vacuum pump turn for a second',
  tankHeater: 'Did the relay of the heater click on and off',
  fanStop: 'Did the fan stop and start again',
};

const air = ({ seen }: Turn): boolean => seen.readings.fanFlow.ok && seen.readings.fanFlow.value;

/** Both edges are seen in what the board reads back from the end of its register chain. */
function pulse(output: Output): readonly Move[] {
  const on = [wish(output, output === 'fanStop' ? FAN_STOP_MS : PULSE_MS)];
  const readBack = until({
    met: (turn) => isOnly(turn, output) && (output !== 'fanStop' || !air(turn)),
    withinMs: output === 'fanStop' ? FAN_STOP_MS - 1_000 : PULSE_MS - 200,
    otherwise:
      output === 'fanStop'
        ? 'the fan was told to stop and air is still seen at it, or the board does not read fanStop back alone'
        : `the board does not read back ${output}, and nothing else, as on`,
    on,
  });
  const back = until({
    met: (turn) => turn.seen.board.word === 0 && (output !== 'fanStop' || air(turn)),
    withinMs: output === 'fanStop' ? FAN_STOP_MS : 1_000,
    otherwise: `${output} does not go off again`,
  });
  return [readBack, held(output === 'fanStop' ? 0 : PULSE_MS / 2, on), back];
}

const tried = (output: Output): readonly Move[] => [
  done(`click-test.${output}.ready`, `Watch and listen: ${output} is next. Press Enter when you are ready.`),
  ...pulse(output),
  asked(
    {
      id: `click-test.${output}.moved`,
      kind: 'yes-no',
      text: `${SEEN_TO_ACT[output] ?? `Did ${output} click on and off`}, and nothing else?`,
    },
    (yes) =>
      yes === true
        ? {}
        : { failed: `${output} did not act alone: wires may be exchanged, or the output is dead` },
  ),
];

const PULSES: Line['mayDrive'] = {
  highSideValve: LONGEST_PULSE_MS,
  lowSideValve: LONGEST_PULSE_MS,
  recoveryValve: LONGEST_PULSE_MS,
  vacuumValve: LONGEST_PULSE_MS,
  chargeValve: LONGEST_PULSE_MS,
  oilValve: LONGEST_PULSE_MS,
  dyeValve: LONGEST_PULSE_MS,
  separatorDrainValve: LONGEST_PULSE_MS,
  airPurgeValve: LONGEST_PULSE_MS,
  compressor: LONGEST_PULSE_MS,
  vacuumPump: LONGEST_PULSE_MS,
  tankHeater: LONGEST_PULSE_MS,
  fanStop: FAN_STOP_MS,
};

export const clickTest: Line = {
  id: 'click-test',
  title: 'Each output by itself',
  why: 'Two exchanged wires turn every later command into another one, and every interlock into nothing.',
  needs: [...BEFORE_DRIVING, 'alarms'],
  mayDrive: PULSES,
  validDays: 180,
  tolerances: [],
  remedy: REMEDY,
  moves: ({ facts }) => fittedOutputs(facts).flatMap(tried),
};
