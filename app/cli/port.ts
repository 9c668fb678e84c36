// The port of a board as it was typed: what is not there is bad input.
import { statSync } from 'node:fs';
import { portProblem } from '../../hardware/serial.ts';
import { InputError } from './command.ts';

/** Why nothing can be opened there, as the system calls it. */
function troubleAt(path: string): string | undefined {
  try {
    return statSync(path).isCharacterDevice() ? undefined : 'ENOTTY';
  } catch (error) {
    const { code = '' } = error as NodeJS.ErrnoException;
    return code === 'ENOTDIR' ? 'ENOENT' : code;
  }
}

/**
 * Before anything else is begun. On Windows a port stands in no folder, and is found out when it is opened.
 * @throws InputError with the remedy.
 */
export function checkPort(path: string): void {
  const trouble = process.platform === 'win32' ? undefined : troubleAt(path);
  if (trouble !== undefined) throw new InputError(portProblem(path, trouble));
}
