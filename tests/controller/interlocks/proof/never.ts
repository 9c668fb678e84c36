// How a combination that may never be commanded is written down.
import type { BandName } from '../../../../controller/interlocks/bands.ts';
import type { Asked, View } from '../../../../controller/interlocks/interlock.ts';
import type { MemoryName } from '../../../../controller/interlocks/remembered.ts';
import type { Output } from '../../../../controller/signals.ts';

/** What a combination depends on, as a row of the table declares it. */
export type Forbidden = {
  readonly name: string;
  readonly outputs: readonly Asked[];
  readonly bands: readonly BandName[];
  readonly memory: readonly MemoryName[];
  readonly fitting: readonly Output[];
  is(view: View<Asked, BandName, MemoryName, Output>): boolean;
};

/** Holds the compiler to the declaration, as `interlock` does. */
export function never<
  O extends Asked,
  B extends BandName = never,
  M extends MemoryName = never,
  F extends Output = never,
>(
  name: string,
  reads: {
    readonly outputs: readonly O[];
    readonly bands?: readonly B[];
    readonly memory?: readonly M[];
    readonly fitting?: readonly F[];
  },
  is: (view: View<O, B, M, F>) => boolean,
): Forbidden {
  const { outputs, bands = [], memory = [], fitting = [] } = reads;
  return { name, outputs, bands, memory, fitting, is };
}

export const VEHICLE = ['highSideValve', 'lowSideValve'] as const;
export const BOTTLES = ['oilValve', 'dyeValve'] as const;
/** Every way from the manifold to tank, pump and bottles. */
export const AWAY = [
  'recoveryValve',
  'compressor',
  'vacuumValve',
  'chargeValve',
  ...BOTTLES,
  'separatorDrainValve',
] as const;

export const together = (name: string, one: Output, other: Output): Forbidden =>
  never(name, { outputs: [one, other] }, ({ on }) => on[one] && on[other]);

/** One after the other: `opens` is on while `shutting` has been told to shut and may not have done so. */
export const tooSoon = (opens: Output, shutting: Output, seat: MemoryName): Forbidden =>
  never(
    `${opens} opened while ${shutting} may not have shut yet`,
    { outputs: [opens, shutting], memory: [seat] },
    ({ on, memory }) => on[opens] && !on[shutting] && memory[seat] === 'may-be-open',
  );

/** Not forbidden at all: what shows that a check can fail. */
export const RECOVERING: Forbidden = never(
  'compressor and recovery valve on',
  { outputs: ['compressor', 'recoveryValve'] },
  ({ on }) => on.compressor && on.recoveryValve,
);
