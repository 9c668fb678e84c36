// What the commands for a real rig are given of it: its equipment file, or every reason why it may not be driven.
import type { Equipment } from '../../controller/equipment.ts';
import type { FittedSensors } from '../../hardware/fitted.ts';
import { readEquipment } from '../rig/equipment-file.ts';
import { InputError } from './command.ts';

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
