// The paths of the machine: valves, couplers, reliefs, compressor and pump between its nodes.
import {
  areaOfBore,
  areaOfKv,
  areasInSeries,
  type Mouth,
  makeEdge,
  type Port,
  SHARP_EDGE,
  type Tube,
  tubeOf,
} from '../network/edge.ts';
import type { Node } from '../network/node.ts';
import type { Build } from '../spec.ts';
import { dipTubeOf } from './dip-tube.ts';
import type { Machine } from './machine.ts';

/** Flow coefficients of the valves, m³/h (estimates: 2.5 mm direct-acting seats, a wide one ahead of the pump). */
const SERVICE_VALVE_KV = 0.16;
const RECOVERY_VALVE_KV = 0.3;
const CHARGE_VALVE_KV = 0.1;
const VACUUM_VALVE_KV = 1.0;
const OIL_VALVE_KV = 0.05;
/** Filter-drier, check valve and tank valve in the delivery line. */
const DELIVERY_KV = 0.25;
/** Valve core and coupler depressor as one orifice (estimate). */
const COUPLER_BORE_M = 2.2e-3;
/** Turbulent friction of half a service hose, as about four velocity heads (f·L/2D at f ≈ 0.02). */
const HALF_HOSE_VELOCITY_HEADS = 4;
/** A pump at rest lets this much through its clearances: 0.2 L/s of air at one atmosphere (estimate). */
const PUMP_CLEARANCE_BORE_M = 1.5e-3;
/** The pipe from the bottom of the separator to the catch bottle (estimate). */
export const DRAIN_BORE_M = 2.8e-3;
/** A joint of the tank that passes 50 g of vapour a second at 20 °C; what leaks is a share of it. */
const CABINET_LEAK_BORE_M = 6e-3;
/**
 * Spring reliefs from every segment that can trap liquid, back to the tank: above the hottest vehicle's pressure over a
 * cold tank, below what hoses and fittings stand (estimate).
 */
const RELIEF_PA = 2_200_000;
const RELIEF_KV = 0.05;

const path = (
  name: string,
  a: Node,
  b: Node,
  areaM2: number,
  more: { tube?: Tube; checkPa?: number; portA?: Port; portB?: Port; mouthA?: Mouth; opening?: number } = {},
) =>
  makeEdge({ kind: 'restriction', name, a, b, portA: 'mixed', portB: 'mixed', areaM2, opening: 0, ...more });

const relief = (name: string, from: Node, tank: Node) =>
  path(name, from, tank, areaOfKv(RELIEF_KV), { checkPa: RELIEF_PA, portB: 'vapour', opening: 1 });

/** Every path of the machine by name; couplers join the hoses to the vehicle's ports. */
export function makePaths(
  machine: Machine,
  build: Build,
  ports: { high: Node; low: Node; outlet: Port },
  surroundings: Node,
) {
  const { highHose, lowHose, manifold, separator, condenser, tank } = machine;
  const halfHose = areaOfBore(build.hoseBoreM, 1) / Math.sqrt(HALF_HOSE_VELOCITY_HEADS);
  const halfTube = tubeOf(build.hoseBoreM, build.hoseLengthM / 2);
  const coupler = areasInSeries(areaOfBore(COUPLER_BORE_M, SHARP_EDGE), halfHose);
  const service = areasInSeries(areaOfKv(SERVICE_VALVE_KV), halfHose);
  const openHose = areasInSeries(areaOfBore(build.hoseBoreM, SHARP_EDGE), halfHose);
  return {
    highCoupler: path('high-side coupler', ports.high, highHose, coupler, {
      tube: halfTube,
      portA: ports.outlet,
    }),
    lowCoupler: path('low-side coupler', ports.low, lowHose, coupler, {
      tube: halfTube,
      portA: ports.outlet,
    }),
    highSideValve: path('high-side valve', highHose, manifold, service, { tube: halfTube }),
    lowSideValve: path('low-side valve', lowHose, manifold, service, { tube: halfTube }),
    recoveryValve: path('recovery valve', manifold, separator, areaOfKv(RECOVERY_VALVE_KV), {
      portB: 'vapour',
    }),
    chargeValve: path('charge valve', tank, manifold, areaOfKv(CHARGE_VALVE_KV), {
      portA: 'liquid',
      mouthA: dipTubeOf(tank.volumeM3),
    }),
    delivery: path('delivery check valve', condenser, tank, areaOfKv(DELIVERY_KV), {
      portA: 'liquid',
      portB: 'vapour',
      checkPa: 5_000,
      opening: 1,
    }),
    compressor: makeEdge({
      kind: 'compressor',
      name: 'compressor',
      a: separator,
      b: condenser,
      portA: 'vapour',
      portB: 'mixed',
      sweptM3PerS: build.compressorSweptM3PerS,
      clearance: 0.05,
      polytropicExponent: 1.1,
      efficiency: 0.6,
      opening: 0,
    }),
    vacuumPump: makeEdge({
      kind: 'pump',
      name: 'vacuum pump',
      a: manifold,
      b: surroundings,
      portA: 'vapour',
      portB: 'mixed',
      sweptM3PerS: build.vacuumPumpM3PerS,
      ultimatePa: build.vacuumPumpUltimatePa,
      valveAreaM2: areaOfKv(VACUUM_VALVE_KV),
      opening: 0,
    }),
    restingPump: path(
      'resting vacuum pump',
      manifold,
      surroundings,
      areaOfBore(PUMP_CLEARANCE_BORE_M, SHARP_EDGE),
    ),
    separatorDrain: path('separator drain', separator, surroundings, areaOfBore(DRAIN_BORE_M, SHARP_EDGE)),
    cabinetLeak: path('joint at the tank', tank, surroundings, areaOfBore(CABINET_LEAK_BORE_M, SHARP_EDGE), {
      portA: 'vapour',
    }),
    oilBottle: path('empty oil bottle', surroundings, manifold, areaOfKv(OIL_VALVE_KV)),
    dyeBottle: path('empty dye bottle', surroundings, manifold, areaOfKv(OIL_VALVE_KV)),
    openHighHose: path('high-side hose off the vehicle', highHose, surroundings, openHose, {
      tube: halfTube,
    }),
    openLowHose: path('low-side hose off the vehicle', lowHose, surroundings, openHose, { tube: halfTube }),
    manifoldRelief: relief('manifold relief', manifold, tank),
    highHoseRelief: relief('high-side hose relief', highHose, tank),
    lowHoseRelief: relief('low-side hose relief', lowHose, tank),
    ...makeLifts(machine, service, build.valveReverseLiftPa),
  };
}

/**
 * A direct-acting valve shuts against its inlet; a pressure behind it that beats the spring lifts the plunger and
 * passes backwards.
 */
function makeLifts(
  { highHose, lowHose, manifold, separator, tank }: Machine,
  serviceM2: number,
  liftPa: number,
) {
  const lift = (name: string, outlet: Node, inlet: Node, areaM2: number, portB: Port = 'mixed') =>
    path(`${name} lifted`, outlet, inlet, areaM2, { checkPa: liftPa, portB });
  return {
    highSideLift: lift('high-side valve', manifold, highHose, serviceM2),
    lowSideLift: lift('low-side valve', manifold, lowHose, serviceM2),
    recoveryLift: lift('recovery valve', separator, manifold, areaOfKv(RECOVERY_VALVE_KV)),
    chargeLift: lift('charge valve', manifold, tank, areaOfKv(CHARGE_VALVE_KV), 'liquid'),
  };
}

export type Paths = ReturnType<typeof makePaths>;
