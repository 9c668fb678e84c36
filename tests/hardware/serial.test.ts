import { expect, test } from 'vitest';
import { portProblem } from '../../hardware/serial.ts';

// As the library says it on Linux, macOS and Windows.
test.each([
  ['Error: No such file or directory, cannot open /dev/ttyUSB0', /there is no port/],
  ['Opening COM7: File not found', /there is no port/],
  ['Error: Permission denied, cannot open /dev/ttyUSB0', /no permission.*dialout/],
  ['Opening COM7: Access denied', /no permission/],
  ['Error Resource temporarily unavailable Cannot lock port', /in use by another program/],
  ['Error: Resource busy, cannot open /dev/tty.usbserial', /in use by another program/],
  ['Error: Inappropriate ioctl for device, cannot open /etc/passwd', /no serial port/],
  ['Error: Is a directory, cannot open /tmp', /no serial port/],
  ['something new', /something new; check the cable/],
])('%s is told with its remedy', (message, remedy) => {
  const told = portProblem('/dev/ttyUSB0', message);
  expect(told).toMatch(remedy);
  expect(told).toContain('/dev/ttyUSB0');
  expect(told).not.toContain('\n');
});
