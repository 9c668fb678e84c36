// The tank beyond its node: its heater, how air and vapour lie over the liquid, and the valve that lets air off.
import { AIR } from '../fluids/air.ts';
import { WATER_VAPOUR } from '../fluids/water.ts';
import { areaOfBore, type Edge, makeEdge, SHARP_EDGE } from '../network/edge.ts';
import { evaluateFlow, type FlowContext } from '../network/flow.ts';
import type { Node } from '../network/node.ts';
import { liquidShare } from '../network/stream.ts';

/** A band heater with its own thermostat, and a fuse that opens for good (estimates). */
const TANK_HEATER_W = 200;
const THERMOSTAT_OPENS_K = 323.15;
const THERMOSTAT_CLOSES_K = 320.15;
const FUSE_OPENS_K = 338.15;

/**
 * Air is lighter than refrigerant vapour and gathers under the top of a tank at rest: there it is so many times richer
 * than the mean, more than once over (5 to 10, estimate), and diffusion and slow draughts take hours to bring that
 * about. Liquid that comes back and heat from the wall stir the vapour within a minute.
 */
const ENRICHMENT = 7;
const SETTLES_S = 3 * 3600;
const STIRS_S = 60;
const STIRRED_BY_KG_PER_S = 5e-5;
/** Never pure air: the liquid goes on evaporating. */
const MOST_AIR = 0.95;
/** At most this share of the tank's air in one look. */
const MOST_SHARE = 0.9;
/** The seat of the air-purge valve (estimate): some 0.8 g/s from a tank at 20 °C. */
const PURGE_BORE_M = 0.8e-3;

export class TankService {
  /** Refrigerant that left through the purge valve since the start, and the air it took along. */
  purgedKg = 0;
  purgedAirKg = 0;
  /** 0 air and vapour in layers … 1 mixed. */
  mixing = 0;
  readonly #tank: Node;
  readonly #returns: readonly Edge[];
  readonly #purge: Edge;
  readonly #context: FlowContext;
  #thermostatOpen = false;
  #fuseOpen = false;
  #seenReturnKg = 0;

  /** `returns` are the paths that bring liquid back. */
  constructor(
    tank: Node,
    returns: readonly Edge[],
    surroundings: Node,
    context: FlowContext,
    restedS = Number.POSITIVE_INFINITY,
  ) {
    this.mixing = Math.exp(-restedS / SETTLES_S);
    this.#tank = tank;
    this.#returns = returns;
    this.#context = context;
    this.#purge = makeEdge({
      kind: 'restriction',
      name: 'air purge',
      a: tank,
      b: surroundings,
      portA: 'vapour',
      portB: 'mixed',
      areaM2: areaOfBore(PURGE_BORE_M, SHARP_EDGE),
      opening: 1,
    });
  }

  get heaterFuseOpen(): boolean {
    return this.#fuseOpen;
  }

  /** Once a second: heater and stirring. */
  look(periodS: number, heaterPowered: boolean): void {
    const tank = this.#tank;
    if (tank.wallK > FUSE_OPENS_K) this.#fuseOpen = true;
    if (tank.wallK > THERMOSTAT_OPENS_K) this.#thermostatOpen = true;
    else if (tank.wallK < THERMOSTAT_CLOSES_K) this.#thermostatOpen = false;
    const heats = heaterPowered && !this.#thermostatOpen && !this.#fuseOpen;
    tank.wallHeatW = heats ? TANK_HEATER_W : 0;
    const returnedKg = this.#returns.reduce((sum, edge) => sum + Math.abs(edge.passedRefrigerantKg), 0);
    const stirred = heats || Math.abs(returnedKg - this.#seenReturnKg) > STIRRED_BY_KG_PER_S * periodS;
    this.#seenReturnKg = returnedKg;
    if (stirred) this.mixing = 1 - (1 - this.mixing) * Math.exp(-periodS / STIRS_S);
    else this.mixing *= Math.exp(-periodS / SETTLES_S);
  }

  /** What the open purge valve lets through: the tank is so large that a step needs no solving. */
  purge(durationS: number): void {
    const edge = this.#purge;
    evaluateFlow(edge, this.#context);
    const gasFlows = edge.forward && liquidShare(this.#tank, 'vapour') === 0;
    if (gasFlows) this.#enrich();
    const donor = edge.forward ? edge.a : edge.b;
    const receiver = edge.forward ? edge.b : edge.a;
    const wantedKg = Math.abs(edge.flowKgPerS) * durationS;
    const airKg = Math.min(wantedKg * edge.streamAir, MOST_SHARE * donor.airKg);
    const waterKg = Math.min(wantedKg * edge.streamWater, MOST_SHARE * donor.waterKg);
    const refrigerantKg = Math.min(wantedKg * edge.streamRefrigerant, MOST_SHARE * donor.refrigerantKg);
    const energyJ = (airKg + waterKg + refrigerantKg) * edge.streamEnthalpy;
    move(donor, -1, refrigerantKg, airKg, waterKg, energyJ);
    move(receiver, 1, refrigerantKg, airKg, waterKg, energyJ);
    const sign = edge.forward ? 1 : -1;
    this.purgedKg += sign * refrigerantKg;
    this.purgedAirKg += sign * airKg;
  }

  save() {
    return {
      purgedKg: this.purgedKg,
      purgedAirKg: this.purgedAirKg,
      mixing: this.mixing,
      thermostatOpen: this.#thermostatOpen,
      fuseOpen: this.#fuseOpen,
      seenReturnKg: this.#seenReturnKg,
    };
  }

  restore(saved: ReturnType<TankService['save']>): void {
    this.purgedKg = saved.purgedKg;
    this.purgedAirKg = saved.purgedAirKg;
    this.mixing = saved.mixing;
    this.#thermostatOpen = saved.thermostatOpen;
    this.#fuseOpen = saved.fuseOpen;
    this.#seenReturnKg = saved.seenReturnKg;
  }

  /** Makes the stream of the top layer out of that of the mean: composition, enthalpy and flow (√ of molar mass). */
  #enrich(): void {
    const edge = this.#purge;
    const refrigerantConstant = this.#context.gasConstantJPerKgK;
    const air = edge.streamAir * AIR.gasConstantJPerKgK;
    const others =
      edge.streamRefrigerant * refrigerantConstant + edge.streamWater * WATER_VAPOUR.gasConstantJPerKgK;
    const meanConstant = air + others;
    const meanShare = air / meanConstant;
    const share = Math.min(Math.max(MOST_AIR, meanShare), meanShare * (1 + ENRICHMENT * (1 - this.mixing)));
    if (share <= meanShare) return;
    // Moles of air and of the rest per mole of the mean stream, turned into mass again.
    const airMass = edge.streamAir * (share / meanShare);
    const rest = (1 - share) / (1 - meanShare);
    const mass = airMass + rest * (1 - edge.streamAir);
    const meanAir = edge.streamAir;
    const temperatureK = edge.a.temperatureK;
    const restEnthalpy = edge.streamEnthalpy - meanAir * AIR.cpJPerKgK * temperatureK;
    edge.streamAir = airMass / mass;
    edge.streamRefrigerant *= rest / mass;
    edge.streamWater *= rest / mass;
    edge.streamEnthalpy = edge.streamAir * AIR.cpJPerKgK * temperatureK + (restEnthalpy * rest) / mass;
    edge.flowKgPerS *= Math.sqrt(mass);
  }
}

function move(
  node: Node,
  sign: number,
  refrigerantKg: number,
  airKg: number,
  waterKg: number,
  energyJ: number,
): void {
  node.refrigerantKg += sign * refrigerantKg;
  node.airKg += sign * airKg;
  node.waterKg += sign * waterKg;
  node.energyJ += sign * energyJ;
}
