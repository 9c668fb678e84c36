// An emulated board with the committed firmware, for the bench of a session.
import { readFileSync } from 'node:fs';
import { createBoard } from '../../hardware/emulator/board.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import type { Session } from '../run/prepare.ts';
import { sensorsOfBuild } from './simulated-sensors.ts';
import type { WiredParts } from './wired-board.ts';

const FIRMWARE = new URL('../../hardware/firmware/coldbench.hex', import.meta.url);

/** The bridge's converter gives ten values a second, as the bench's scale does. */
const BRIDGE_RATE_HZ = 10;

/** The bench of a session and a board to be wired to it. */
export function emulatedParts({ scenario, machine, bench }: Session): WiredParts {
  const flammable = findFluid(scenario.tank.refrigerant)?.lowerFlammableLimitKgPerM3 !== undefined;
  return {
    bench,
    board: createBoard({ hex: readFileSync(FIRMWARE, 'utf8'), bridgeRateHz: BRIDGE_RATE_HZ }),
    sensors: sensorsOfBuild(machine, flammable),
  };
}
