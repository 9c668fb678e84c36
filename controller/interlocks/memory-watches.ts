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

/** What these watches know, one scan later: part of the one copy that `noteReadings` makes. */
export type Weights = Pick<
  Memory,
  'lossWatch' | 'pourWatch' | 'trickleWatch' | 'seepWatch' | 'deliveryWatch' | 'arrivalWatch' | 'givenWatch'
>;

/** What the readings of this scan say of the manifold and of what may leak into it. */
type Manifold = Pick<Memory, 'manifoldLiquid' | 'seatWatch'>;

export function watchWeights(memory: Memory, manifold: Manifold, told: Told, nowMs: number): Weights {
  const weight = mayPour(memory) ? told.pour() : undefined;
  return {
    lossWatch: watchLoss(memory.lossWatch, restWeight(memory, manifold, told.rest), nowMs),
    pourWatch: watchPour(memory.pourWatch, weight, nowMs, STREAM),
    trickleWatch: watchPour(memory.trickleWatch, weight, nowMs, TRICKLE),
    seepWatch: watchPour(memory.seepWatch, weight?.calm ? weight : undefined, nowMs, SEEP),
    deliveryWatch:
      told.delivery === undefined
        ? memory.deliveryWatch
        : watchDelivery(memory.deliveryWatch, told.delivery, nowMs),
    arrivalWatch: watchArrival(memory.arrivalWatch, told.arrival, nowMs),
    givenWatch: watchGiven(memory.givenWatch, told.given, nowMs),
  };
}

/** The scale counts where it alone can tell, and is itself watched where it cannot have to. */
function restWeight(
  memory: Memory,
  { manifoldLiquid, seatWatch: { shutSinceMs, fromPa } }: Manifold,
  weigh: Told['rest'],
): RestWeight | undefined {
  const tankShut = isMachineShut(memory);
  const tells = tankShut && !manifoldLiquid;
  const alone =
    (shutSinceMs !== undefined && fromPa === undefined) || (tankShut && memory.lowShutSinceMs !== undefined);
  return tells || alone ? weigh(tells) : undefined;
}

/** Whatever else is open: without a way out of the tank it must not pour out. */
const mayPour = (memory: Memory): boolean => memory.chargeShutSinceMs !== undefined && !memory.purging;
