// A serial port as a line to a board, and what is wrong with a port, in one sentence with the remedy.
import { readdirSync } from 'node:fs';
import { SerialPort } from 'serialport';
import type { Line, LineEvents } from './connection.ts';
import { BAUD } from './protocol.ts';

/** At 250,000 baud this takes 160 ms to leave; a port that has more waiting does not take anything. */
const MOST_WAITING_BYTES = 4_096;

const REMEDIES: readonly (readonly [RegExp, (path: string) => string])[] = [
  [
    /no such file|file not found|ENOENT/i,
    (path) =>
      `there is no port ${path}; plug the board in, or name another port (coldbench ports lists them)`,
  ],
  [
    /permission denied|access denied|EACCES/i,
    (path) =>
      `no permission to open ${path}; on Linux add yourself to the group that owns it (usually: sudo usermod -a -G dialout $USER) and log in again`,
  ],
  [
    /cannot lock|resource temporarily unavailable|resource busy|EBUSY/i,
    (path) => `${path} is in use by another program; close that program, then try again`,
  ],
  [
    /inappropriate ioctl|not a (tty|typewriter)|ENOTTY|is a directory|invalid argument/i,
    (path) => `${path} is no serial port; name one (coldbench ports lists them)`,
  ],
];

/** What to do about an error of a serial port. */
export function portProblem(path: string, message: string): string {
  const known = REMEDIES.find(([pattern]) => pattern.test(message));
  if (known !== undefined) return known[1](path);
  return `${path}: ${message.replace(/\.?\s*$/, '')}; check the cable and that the board has power`;
}

/** Opens the port anew each time it is called; a closed port object is never used again. */
export const openSerial =
  (path: string) =>
  ({ heard, ended }: LineEvents): Line => {
    let over = false;
    const end = (problem: string): void => {
      if (!over) ended(problem);
      over = true;
    };
    const port = new SerialPort({ path, baudRate: BAUD }, (error) => {
      if (error !== null) end(portProblem(path, error.message));
    });
    port.on('data', (bytes: Uint8Array) => {
      if (!over) heard(bytes);
    });
    port.on('error', (error: Error) => end(portProblem(path, error.message)));
    port.on('close', () => end(`${path} has gone; check the cable, and that the board has power`));
    return {
      send: (text) => {
        if (over || !port.isOpen) return;
        if (port.writableLength > MOST_WAITING_BYTES)
          end(`${path} takes nothing more; unplug the board, plug it in again, and take control again`);
        else port.write(text, 'latin1');
      },
      close: () => {
        over = true;
        if (port.isOpen || port.opening) port.close(() => {});
      },
    };
  };

export type PortFound = { readonly path: string; readonly what: string };

/** Where Linux puts the serial ports of boards. */
const BOARDS = /^tty(USB|ACM|AMA|S)\d+$/;

/** By name alone, where the computer lacks what the library asks (udev). */
function portsByName(): readonly PortFound[] {
  const names = readdirSync('/dev').filter((name) => BOARDS.test(name));
  return names.sort().map((name) => ({ path: `/dev/${name}`, what: '' }));
}

/** The serial ports of this computer. */
export async function serialPorts(): Promise<readonly PortFound[]> {
  try {
    const found = await SerialPort.list();
    return found.map(({ path, manufacturer, serialNumber }) => ({
      path,
      what: [manufacturer, serialNumber].filter((part) => part !== undefined).join(', '),
    }));
  } catch {
    return process.platform === 'linux' ? portsByName() : [];
  }
}
