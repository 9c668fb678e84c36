// The lines in the order in which they are worked through: what stops the machine first, what it weighs last.
import type { Line } from '../line.ts';
import type { LineId } from '../record.ts';
import { alarms } from './alarms.ts';
import { atmosphere } from './atmosphere.ts';
import { clickTest } from './click-test.ts';
import { deadTimeLine } from './dead-time.ts';
import { emergencyStop } from './emergency-stop.ts';
import { facts } from './facts.ts';
import { highPressure } from './high-pressure.ts';
import { inFlightLine } from './in-flight.ts';
import { leakTest } from './leak-test.ts';
import { linkLoss } from './link-loss.ts';
import { scale } from './scale.ts';
import { secondPoint } from './second-point.ts';
import { temperatures } from './temperatures.ts';
import { volumesLine } from './volumes.ts';

const BY_ID: { readonly [L in LineId]: Line } = {
  facts,
  'emergency-stop': emergencyStop,
  'link-loss': linkLoss,
  'high-pressure': highPressure,
  alarms,
  'click-test': clickTest,
  atmosphere,
  'second-point': secondPoint,
  temperatures,
  scale,
  'dead-time': deadTimeLine,
  volumes: volumesLine,
  'leak-test': leakTest,
  'in-flight': inFlightLine,
};

export const LINES: readonly Line[] = Object.values(BY_ID);
export const lineOf = (id: LineId): Line => BY_ID[id];
