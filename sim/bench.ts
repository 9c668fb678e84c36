// The simulated bench as a rig: commands in, readings out, nothing happens until it is told how far to go.
import type { TimeControlledRig } from '../controller/signals.ts';
import type { HandAction, Truth } from './spec.ts';

export interface Bench extends TimeControlledRig {
  /** A person's hand on the plant: couplers and hoses. */
  operate(action: HandAction): void;
  truth(): Truth;
}
