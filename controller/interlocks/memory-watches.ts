// What the memory watches by weight and by delivery, where nothing else can tell: noted before judging.
import { type ArrivalInput, watchArrival } from './arrival-watch.ts';
import { type DeliveryInput, watchDelivery } from './delivery-watch.ts';
import { type GivenInput, watchGiven } from './given-watch.ts';
import { type RestWeight, watchLoss } from './loss-watch.ts';
import { isMachineShut, type Memory } from './memory.ts';
import { type PourWeight, SEEP, STREAM, TRICKLE, watchPour } from './pour-watch.ts';

/** What the watches are told. What the tank weighs is asked for only where it is looked at. */
export type Told = {
  readonly rest: (sensorTells: boolean) => RestWeight | undefined;
  readonly pour: () => PourWeight | undefined;
  /** Absent while nothing is drawn. */
  readonly delivery: DeliveryInput | undefined;
  /** Absent while the compressor stands. */
  readonly arrival: ArrivalInput | undefined;
  readonly given: GivenInput;
};

/** All of them together, for every change is a copy of the whole memory. */
export function noteWatches(memory: Memory, told: Told, nowMs: number): Memory {
  const weight = mayPour(memory) ? told.pour() : undefined;
  const lossWatch = watchLoss(memory.lossWatch, restWeight(memory, told.rest), nowMs);
  const pourWatch = watchPour(memory.pourWatch, weight, nowMs, STREAM);
  const trickleWatch = watchPour(memory.trickleWatch, weight, nowMs, TRICKLE);
  const seepWatch = watchPour(memory.seepWatch, weight?.calm ? weight : undefined, nowMs, SEEP);
  const deliveryWatch =
    told.delivery === undefined
      ? memory.deliveryWatch
      : watchDelivery(memory.deliveryWatch, told.delivery, nowMs);
  const arrivalWatch = watchArrival(memory.arrivalWatch, told.arrival, nowMs);
  const givenWatch = watchGiven(memory.givenWatch, told.given, nowMs);
  const isSame =
    lossWatch === memory.lossWatch &&
    pourWatch === memory.pourWatch &&
    trickleWatch === memory.trickleWatch &&
    seepWatch === memory.seepWatch &&
    deliveryWatch === memory.deliveryWatch &&
    arrivalWatch === memory.arrivalWatch &&
    givenWatch === memory.givenWatch;
  return isSame
    ? memory
    : { ...memory, lossWatch, pourWatch, trickleWatch, seepWatch, deliveryWatch, arrivalWatch, givenWatch };
}

/** The scale counts where it alone can tell, and is itself watched where it cannot have to. */
function restWeight(memory: Memory, weigh: Told['rest']): RestWeight | undefined {
  const { shutSinceMs, fromPa } = memory.seatWatch;
  const tankShut = isMachineShut(memory);
  const tells = tankShut && !memory.manifoldLiquid;
  const alone =
    (shutSinceMs !== undefined && fromPa === undefined) || (tankShut && memory.lowShutSinceMs !== undefined);
  return tells || alone ? weigh(tells) : undefined;
}

/** Whatever else is open: without a way out of the tank it must not pour out. */
const mayPour = (memory: Memory): boolean => memory.chargeShutSinceMs !== undefined && !memory.purging;
