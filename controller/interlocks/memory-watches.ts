// What the memory watches by weight and by delivery, where nothing else can tell: noted before judging.
import { type DeliveryInput, watchDelivery } from './delivery-watch.ts';
import { type GivenInput, watchGiven } from './given-watch.ts';
import { type RestWeight, watchLoss } from './loss-watch.ts';
import type { Memory } from './memory.ts';
import { type PourWeight, STREAM, TRICKLE, watchPour } from './pour-watch.ts';

/** Nothing can leave the tank or come into it, but through a seat; a liquid manifold may be joined to the high side. */
const isTankShut = (memory: Memory): boolean =>
  memory.chargeShutSinceMs !== undefined &&
  memory.recoveryShutSinceMs !== undefined &&
  memory.vacuumShutSinceMs !== undefined &&
  memory.drainShutSinceMs !== undefined &&
  memory.oilShutSinceMs !== undefined &&
  memory.dyeShutSinceMs !== undefined &&
  memory.compressorOffSinceMs !== undefined &&
  memory.pumpOnSinceMs === undefined &&
  !memory.purging;

/** The scale counts where it alone can tell, and is itself watched where it cannot have to. */
export function noteWeight(
  memory: Memory,
  weigh: (sensorTells: boolean) => RestWeight | undefined,
  nowMs: number,
): Memory {
  const { shutSinceMs, fromPa } = memory.seatWatch;
  const tankShut = isTankShut(memory);
  const tells = tankShut && !memory.manifoldLiquid;
  const alone =
    (shutSinceMs !== undefined && fromPa === undefined) || (tankShut && memory.lowShutSinceMs !== undefined);
  const lossWatch = watchLoss(memory.lossWatch, tells || alone ? weigh(tells) : undefined, nowMs);
  return lossWatch === memory.lossWatch ? memory : { ...memory, lossWatch };
}

/** Whatever is open: without a way out of the tank it must not pour out. */
export function notePour(memory: Memory, weigh: () => PourWeight | undefined, nowMs: number): Memory {
  const shut = memory.chargeShutSinceMs !== undefined && !memory.purging;
  const weight = shut ? weigh() : undefined;
  const pourWatch = watchPour(memory.pourWatch, weight, nowMs, STREAM);
  const trickleWatch = watchPour(memory.trickleWatch, weight, nowMs, TRICKLE);
  const isSame = pourWatch === memory.pourWatch && trickleWatch === memory.trickleWatch;
  return isSame ? memory : { ...memory, pourWatch, trickleWatch };
}

/** And whether what the compressor draws arrives in the tank. */
export const noteDelivery = (memory: Memory, input: DeliveryInput, nowMs: number): Memory => {
  const deliveryWatch = watchDelivery(memory.deliveryWatch, input, nowMs);
  return deliveryWatch === memory.deliveryWatch ? memory : { ...memory, deliveryWatch };
};

/** And how much of what the vehicle may have has left the tank. */
export const noteGiven = (memory: Memory, input: GivenInput, nowMs: number): Memory => {
  const givenWatch = watchGiven(memory.givenWatch, input, nowMs);
  return givenWatch === memory.givenWatch ? memory : { ...memory, givenWatch };
};
