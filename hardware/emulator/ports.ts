// The chip's digital pins. Register addresses: ATmega328P data sheet, "Register Summary".
import type { Core } from './core.ts';
import type { Port, Surroundings } from './surroundings.ts';

const PIN: Readonly<Record<Port, number>> = { B: 0x23, C: 0x26, D: 0x29 };

/** Connects a port; a pin that is an input reads the level outside, at the very clock at which it is read. */
function connect(core: Core, port: Port, outside: Surroundings): void {
  const { data } = core;
  const pin = PIN[port];
  const direction = pin + 1;
  const output = pin + 2;
  const tell = (): void =>
    outside.driven(port, data[direction]!, data[output]! & data[direction]!, core.cycles);
  const read = (): number =>
    (outside.levels(port, core.cycles) & ~data[direction]!) | (data[output]! & data[direction]!);
  core.readHooks[pin] = read;
  core.writeHooks[direction] = core.writeHooks[output] = (value, old, address) => {
    data[address] = value;
    if (value !== old) tell();
    return true;
  };
  // Writing ones to the input register toggles the output.
  core.writeHooks[pin] = (value, _old, _address, mask) => {
    data[output]! ^= value & mask;
    tell();
    return true;
  };
  // After a reset every pin is an input: what it drove is let go.
  tell();
}

export function connectPorts(core: Core, outside: Surroundings): void {
  connect(core, 'B', outside);
  connect(core, 'C', outside);
  connect(core, 'D', outside);
}
