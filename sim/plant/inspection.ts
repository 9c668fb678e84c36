// What an inspector with a gauge in every pipe and a hand on every valve would see: the truth that hazards are judged by.
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { Node } from '../network/node.ts';
import type { Machine } from './machine.ts';
import type { Paths } from './paths.ts';
import type { Lost, Places } from './places.ts';
import type { MachineServices } from './services.ts';

/** A stretch of the machine that valves can shut off at both ends. */
export type Segment = {
  readonly name: string;
  readonly pressurePa: number;
  /** Share of its volume that is liquid, oil included. */
  readonly liquidShare: number;
  /** A way back to the tank stands ready that no command shuts: its relief, a check valve, a seat that lifts backwards. */
  readonly relieved: boolean;
};

export type Inspection = {
  readonly nowMs: number;
  /** Outputs that really act: valves that stand open, drives with power. */
  readonly on: readonly Output[];
  readonly fanTurns: boolean;
  readonly vehicleRefrigerantKg: number;
  readonly lost: Lost;
  readonly tank: {
    readonly refrigerantKg: number;
    readonly pressurePa: number;
    readonly liquidShare: number;
  };
  readonly manifoldPa: number;
  /** The pump's way is open, turning or not. */
  readonly pumpJoined: boolean;
  readonly condenserPa: number;
  readonly compressorTurns: boolean;
  /** Through the compressor since the start. */
  readonly compressedAirKg: number;
  readonly segments: readonly Segment[];
};

type Looked = {
  readonly machine: Machine;
  readonly paths: Paths;
  readonly services: MachineServices;
  readonly places: Places;
  readonly isOn: (output: Output) => boolean;
};

/** Looks without bringing anything up to date, and so disturbs nothing: what lags behind is what no instrument shows. */
export function inspect({ machine, paths, services, places, isOn }: Looked, nowMs: number): Inspection {
  const { highHose, lowHose, manifold, separator, condenser, tank } = machine;
  const segment = (node: Node, ...ways: readonly { readonly opening: number }[]): Segment => ({
    name: node.name,
    pressurePa: node.pressurePa,
    liquidShare: node.liquidFraction,
    relieved: ways.some(({ opening }) => opening > 0),
  });
  return {
    nowMs,
    on: OUTPUTS.filter(isOn),
    fanTurns: services.fanTurns(),
    vehicleRefrigerantKg: places.vehicleKg(),
    lost: places.lost(),
    tank: {
      refrigerantKg: tank.refrigerantKg + tank.dissolvedKg,
      pressurePa: tank.pressurePa,
      liquidShare: tank.liquidFraction,
    },
    manifoldPa: manifold.pressurePa,
    pumpJoined: paths.vacuumPump.opening > 0 || paths.restingPump.opening > 0,
    condenserPa: condenser.pressurePa,
    compressorTurns: paths.compressor.opening > 0,
    compressedAirKg: paths.compressor.passedAirKg,
    segments: [
      segment(highHose, paths.highHoseRelief),
      segment(lowHose, paths.lowHoseRelief),
      segment(manifold, paths.manifoldRelief),
      segment(separator, paths.recoveryLift, paths.recoveryValve),
      segment(condenser, paths.delivery),
    ],
  };
}
