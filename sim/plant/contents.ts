// What a vehicle holds at the start: refrigerant free and dissolved in its oil, air, water, and moisture.
import { newPropertyState } from '../fluids/property-state.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import { MoistureHold } from '../network/moisture.ts';
import type { Holds } from '../network/network.ts';
import type { Node } from '../network/node.ts';
import { OilHold } from '../network/oil.ts';
import { layFilm } from '../network/water-film.ts';
import type { VehicleSpec } from '../spec.ts';

/** Where the oil lies: half of it in compressor and suction side, the rest in exchangers and vessel (estimates). */
export const OIL_SHARES = { high: 0.2, low: 0.5, vessel: 0.3 } as const;
/** In the receiver or accumulator (estimate 30–60 g). */
const DESICCANT_KG = 0.04;
/** The vessel may be filled this far with liquid before the rest stands in the exchangers. */
const VESSEL_FILL = 0.85;
/** And the exchangers so far. */
const FULL = 0.98;

type Sides = { readonly high: Node; readonly low: Node; readonly vessel: Node };

/** Fills the vehicle, everything at one temperature, and answers what its nodes hold besides gas and liquid. */
export function fillVehicle(sides: Sides, spec: VehicleSpec, equilibrium: Equilibrium): Holds {
  const nodes = [sides.high, sides.low, sides.vessel];
  for (const node of nodes) node.wallK = spec.temperatureK;
  const oils = (['high', 'low', 'vessel'] as const).map((side) => {
    sides[side].oilKg = OIL_SHARES[side] * spec.oil.kg;
    return new OilHold(sides[side], spec.oil.kind, equilibrium.tables);
  });
  const freeKg = freeRefrigerantKg(nodes, oils, spec, equilibrium);
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = equilibrium.saturationAt(spec.temperatureK);
  const gain = liquidDensityKgPerM3 - vapourDensityKgPerM3;
  const roomM3 = nodes.reduce((sum, node) => sum + equilibrium.freeVolumeM3(node), 0);
  const liquidM3 = Math.max(0, (freeKg - vapourDensityKgPerM3 * roomM3) / gain);
  const vesselM3 = equilibrium.freeVolumeM3(sides.vessel);
  // What the exchangers cannot take either stands in the vessel after all.
  const inVesselM3 = Math.max(
    Math.min(liquidM3, VESSEL_FILL * vesselM3),
    liquidM3 - FULL * (roomM3 - vesselM3),
  );
  const gasM3 = roomM3 - liquidM3;
  const restShare = (liquidM3 - inVesselM3) / (roomM3 - vesselM3);
  const vapourDensity = liquidM3 > 0 ? vapourDensityKgPerM3 : freeKg / roomM3;
  for (const node of nodes) {
    const room = equilibrium.freeVolumeM3(node);
    const nodeLiquidM3 = node === sides.vessel ? inVesselM3 : restShare * room;
    equilibrium.fill(node, spec.temperatureK, {
      refrigerantKg: nodeLiquidM3 * gain + vapourDensity * room,
      airKg: (spec.airKg * (room - nodeLiquidM3)) / gasM3,
      oilKg: node.oilKg,
      dissolvedKg: node.dissolvedKg,
    });
  }
  for (const oil of oils) oil.start();
  return { oils, moistures: moisten(sides, spec) };
}

/**
 * Water on the evaporator's wall, moisture in the oil, and a dry desiccant; where free water has stood it is spent, and
 * neither takes nor gives any more.
 */
function moisten(sides: Sides, spec: VehicleSpec): readonly MoistureHold[] {
  if (spec.waterKg > 0) layFilm(sides.low, spec.waterKg);
  return [sides.high, sides.low, sides.vessel].map((node) => {
    const sieveKg = node === sides.vessel && spec.waterKg === 0 ? DESICCANT_KG : 0;
    const hold = new MoistureHold(node, spec.oil.kind, sieveKg);
    hold.start(spec.oil.humidity);
    return hold;
  });
}

/**
 * Sets what the oil of every node holds in equilibrium and answers the rest of the charge: by bisection, for the more
 * is free, the higher the pressure and the more is dissolved.
 */
function freeRefrigerantKg(
  nodes: readonly Node[],
  oils: readonly OilHold[],
  spec: VehicleSpec,
  equilibrium: Equilibrium,
): number {
  const state = newPropertyState();
  const dissolveAt = (freeKg: number): number => {
    const roomM3 = nodes.reduce((sum, node) => sum + equilibrium.freeVolumeM3(node), 0);
    equilibrium.tables.evaluate(freeKg / roomM3, spec.temperatureK, state);
    let sum = 0;
    for (const oil of oils) {
      const { node } = oil;
      node.dissolvedKg = oil.equilibriumKg(node.oilKg, state.pressurePa, spec.temperatureK);
      sum += node.dissolvedKg;
    }
    return sum;
  };
  for (const node of nodes) node.dissolvedKg = 0;
  if (spec.oil.kg === 0) return spec.chargeKg;
  let low = 0;
  let high = spec.chargeKg;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (middle + dissolveAt(middle) > spec.chargeKg) high = middle;
    else low = middle;
  }
  return spec.chargeKg - dissolveAt(low);
}
