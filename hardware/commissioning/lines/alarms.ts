// (e) Fan flow and, where fitted, gas alarm: each is seen to change and to come back.
import { fittedSensor } from '../facts.ts';
import type { Line, Move, Turn } from '../line.ts';
import { until } from '../moves.ts';

const WALK_MS = 120_000;

const air = ({ seen }: Turn): boolean => seen.readings.fanFlow.ok && seen.readings.fanFlow.value;
const gas = ({ seen }: Turn): boolean => seen.readings.gasAlarm.ok && seen.readings.gasAlarm.value;
const noGas = ({ seen }: Turn): boolean => seen.readings.gasAlarm.ok && !seen.readings.gasAlarm.value;

const FAN: readonly Move[] = [
  until({
    met: air,
    withinMs: 5_000,
    otherwise: 'no air is seen at the fan, which must run whenever nothing stops it',
  }),
  until({
    tell: 'Take the air away from the flow switch of the fan, within two minutes: hold a sheet before it.',
    met: (turn) => !air(turn),
    withinMs: WALK_MS,
    otherwise: 'the board still sees air at the fan',
  }),
  until({
    tell: 'Let the air pass again.',
    met: air,
    withinMs: WALK_MS,
    otherwise: 'the board sees no air at the fan',
    figures: () => ({ fanFlowSeen: true }),
  }),
];

const GAS: readonly Move[] = [
  until({
    met: noGas,
    withinMs: 5_000,
    otherwise:
      'the gas alarm is on before anything has been done: air the room, and let the detector warm up',
  }),
  until({
    tell: "Make the gas alarm act within two minutes, with its maker's test gas or its test button.",
    met: gas,
    withinMs: WALK_MS,
    otherwise: 'the board did not see the gas alarm',
  }),
  until({
    tell: 'Take the test gas away and wait.',
    met: noGas,
    withinMs: 2 * WALK_MS,
    otherwise: 'the gas alarm does not go out',
    figures: () => ({ gasAlarmSeen: true }),
  }),
];

export const alarms: Line = {
  id: 'alarms',
  title: 'Fan and gas alarm',
  why: 'They stand between a leak of flammable refrigerant and a spark.',
  needs: ['facts', 'emergency-stop'],
  mayDrive: {},
  validDays: 90,
  tolerances: [],
  remedy: 'check fan, flow switch and detector and their wires, then repeat the line',
  moves: ({ facts }) => [...FAN, ...(fittedSensor(facts, 'gasAlarm') ? GAS : [])],
};
