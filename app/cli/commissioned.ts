// What the commands for a real rig are given of it: its equipment file, or every reason why it may not be driven.
import type { Equipment } from '../../controller/equipment.ts';
import { Connection } from '../../hardware/connection.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../hardware/rig.ts';
import { openSerial } from '../../hardware/serial.ts';
import { readEquipment } from '../rig/equipment-file.ts';
import { type RealTime, realTime } from '../rig/paced.ts';
import { InputError } from './command.ts';
import { checkPort } from './port.ts';

/** @throws InputError without a file, and for one that does not let its rig be driven, line by line. */
export function commissioned(
  file: string | undefined,
  port: string,
): { readonly equipment: Equipment; readonly sensors: FittedSensors } {
  if (file === undefined)
    throw new InputError('--file is missing: the equipment file that coldbench commission wrote');
  const read = readEquipment(file, Date.now(), port);
  if (read.ok) return read;
  const list = read.problems.map((problem) => `\n  ${problem}`).join('');
  throw new InputError(`${file}: this rig may not be driven:${list}`);
}

export type JoinedRig = {
  readonly time: RealTime;
  /** Only read until control is taken; its connection is to be closed by whoever asked for it. */
  readonly rig: BoardRig;
};

/** The rig at a port. @param fromMs what its clock shows now. @throws InputError where there is no port. */
export function joinRig(sensors: FittedSensors, port: string, fromMs = 0): JoinedRig {
  checkPort(port);
  const time = realTime(fromMs);
  const { nowMs } = time;
  const connection = new Connection({ open: openSerial(port), nowMs });
  const rig = new BoardRig({ connection, sensors, capabilities: SERIAL_CAPABILITIES, nowMs });
  return { time, rig };
}
