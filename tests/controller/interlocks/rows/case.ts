// What a case of an interlock row is, and the wishes that cases begin with.
import type { Bands } from '../../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../../controller/interlocks/interlock.ts';
import type { Remembered } from '../../../../controller/interlocks/remembered.ts';
import type { Output } from '../../../../controller/signals.ts';

export interface RowCase {
  readonly row: string;
  readonly title: string;
  readonly wants: readonly Output[];
  readonly bands?: Partial<Bands>;
  readonly memory?: Partial<Remembered>;
  readonly fitting?: Partial<Fitting>;
  /** The rig switches every wish off after this. */
  readonly briefMs?: number;
  /** What must not come through; everything else that is wanted must. */
  readonly falls: readonly Output[];
  readonly trips?: string;
}

export const RECOVER = ['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'] as const;
export const EVACUATE = ['highSideValve', 'lowSideValve', 'vacuumValve', 'vacuumPump'] as const;
export const CHARGE = ['highSideValve', 'chargeValve'] as const;
export const DRAIN = ['recoveryValve', 'separatorDrainValve'] as const;
export const ADD_OIL = ['highSideValve', 'oilValve'] as const;
export const ADD_DYE = ['highSideValve', 'dyeValve'] as const;
export const CLEAR = ['highSideValve', 'lowSideValve'] as const;
export const PURGE = ['airPurgeValve'] as const;
export const VACUUM = { manifold: 'vacuum' } as const;
