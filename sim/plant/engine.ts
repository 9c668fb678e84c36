// The vehicle's engine with its air conditioning at the coldest: compressor and its safeties, condenser fan, warm engine bay.
import { ZERO_CELSIUS_K } from '../celsius.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import type { OilHold } from '../network/oil.ts';
import type { VehicleSpec, WeatherSpec } from '../spec.ts';
import { Cabin } from './cabin.ts';
import { condensingShare, release, subcool, throttle, wettedShare } from './inventory.ts';
import type { Vehicle } from './vehicle.ts';

/** What may be wrong with a vehicle's air conditioning: shares of the sound part's size. */
export type Condition = {
  /** Of the compressor's swept volume. */
  compressorShare: number;
  /** Of the air through the condenser. */
  condenserAirShare: number;
  /** Of the passage of orifice tube or expansion valve. */
  expansionShare: number;
};

/**
 * The displacement follows the air behind the evaporator, in proportion over this band (externally controlled
 * compressor, or the mean of a cycling clutch; estimates). Full stroke takes the ramp's time.
 */
const AIR_AIM_K = ZERO_CELSIUS_K + 2;
const AIR_BAND_K = 12;
const STROKE_RAMP_S = 10;
const LEAST_STROKE = 0.03;
/** Pressure switches of the vehicle (typical for the trade, estimates): beyond them the clutch lets go. */
const HIGH_CUT_PA = 2_900_000;
const HIGH_RESUME_PA = 2_100_000;
const LOW_CUT_PA = 180_000;
const LOW_RESUME_PA = 300_000;
const LEAST_PAUSE_S = 10;
/** A low-pressure switch does not mind the dip of a start. */
const LOW_LASTS_S = 8;

/** Air side of the condenser, fan slow and fast; the fan speeds up with the head between two pressures (estimates). */
const FAN_SLOW_W_PER_K = 200;
const FAN_FAST_W_PER_K = 560;
const FAN_SLOW_BELOW_PA = 900_000;
const FAN_FAST_ABOVE_PA = 1_600_000;
/** Warm air that comes round to the condenser of a standing vehicle. */
const RECIRCULATION_K = 3;
/** Refrigerant to metal with vapour condensing and liquid boiling in forced flow, and with dry vapour (estimates). */
const CONDENSING_W_PER_K = 1500;
const BOILING_W_PER_K = 950;
const SUPERHEATING_W_PER_K = 25;

/** The engine bay warms to this above the surroundings (15 to 35 K, estimate) and cools slowly after. */
const BAY_RISE_K = 27;
const BAY_WARMS_S = 300;
const BAY_COOLS_S = 1200;
/**
 * The compressor's body warms to this above the surroundings, 60 to 80 °C on an ordinary day, and cools with 5.4 kJ/K over
 * 2 W/K (estimates); so much of the low side's oil lies in it.
 */
const BODY_RISE_K = 48;
const BODY_WARMS_S = 400;
const BODY_COOLS_S = 2700;
const OIL_IN_BODY = 0.7;
/** How much of the bay's warmth reaches what stands at its edge: condenser, and evaporator with its suction line. */
const HIGH_IN_BAY = 0.3;
const LOW_IN_BAY = 0.3;
const VESSEL_IN_BAY = { 'orifice-tube': 1, 'expansion-valve': 0.1 } as const;
/** Air moved by the fan carries this many times the heat that still air does to accumulator or receiver. */
const MOVED_AIR = 3;
const SETTLED_K = 0.05;

/** Slow things happen this often. */
const PERIOD_S = 1;

type Still = {
  readonly dry: number;
  readonly wet: number;
  readonly condensing: number;
  readonly out: number;
};

export class Engine {
  readonly cabin: Cabin;
  readonly condition: Condition = { compressorShare: 1, condenserAirShare: 1, expansionShare: 1 };
  readonly #vehicle: Vehicle;
  readonly #equilibrium: Equilibrium;
  readonly #ambientK: number;
  readonly #vesselUaWPerK: number;
  readonly #bodyOil: OilHold;
  readonly #stillHigh: Still;
  readonly #stillLow: Still;
  #running = false;
  #clutch = false;
  #pausedS = LEAST_PAUSE_S;
  #lowForS = 0;
  #stroke = 0;
  /** The openings of the circuit are this engine's. */
  #throttles = false;
  #gain = 1;
  #bayRiseK = 0;
  #bodyRiseK = 0;
  #sinceS = 0;

  constructor(vehicle: Vehicle, spec: VehicleSpec, weather: WeatherSpec, equilibrium: Equilibrium) {
    this.cabin = new Cabin(weather);
    this.#vehicle = vehicle;
    this.#equilibrium = equilibrium;
    this.#ambientK = weather.ambientK;
    this.#vesselUaWPerK = spec.accumulatorUaWPerK;
    this.#bodyOil = vehicle.holds.oils.find(({ node }) => node === vehicle.low)!;
    this.#stillHigh = stillAir(vehicle.high);
    this.#stillLow = stillAir(vehicle.low);
  }

  get running(): boolean {
    return this.#running;
  }

  /** Share of the displacement in use; 0 with the clutch off. */
  get stroke(): number {
    return this.#stroke;
  }

  /** Body of the compressor, K. */
  get bodyK(): number {
    return this.#ambientK + this.#bodyRiseK;
  }

  /** Air of the engine bay, K. */
  get bayK(): number {
    return this.#ambientK + this.#bayRiseK;
  }

  start(): void {
    this.#running = true;
  }

  stop(): void {
    this.#running = false;
  }

  /** Call after the network has moved by this time. Answers whether a path opened or shut: the network must know. */
  advance(durationS: number): boolean {
    if (!this.#running && this.#bayRiseK === 0 && this.#bodyRiseK === 0) return false;
    const changed = this.#drive(durationS);
    this.#sinceS += durationS;
    if (this.#sinceS >= PERIOD_S - 1e-9) {
      this.#exchangeHeat(this.#sinceS);
      this.#sinceS = 0;
    }
    return changed;
  }

  save() {
    return {
      running: this.#running,
      clutch: this.#clutch,
      pausedS: this.#pausedS,
      lowForS: this.#lowForS,
      stroke: this.#stroke,
      throttles: this.#throttles,
      gain: this.#gain,
      bayRiseK: this.#bayRiseK,
      bodyRiseK: this.#bodyRiseK,
      sinceS: this.#sinceS,
      condition: { ...this.condition },
      cabin: this.cabin.save(),
    };
  }

  restore(saved: ReturnType<Engine['save']>): void {
    this.#running = saved.running;
    this.#clutch = saved.clutch;
    this.#pausedS = saved.pausedS;
    this.#lowForS = saved.lowForS;
    this.#stroke = saved.stroke;
    this.#throttles = saved.throttles;
    this.#gain = saved.gain;
    this.#bayRiseK = saved.bayRiseK;
    this.#bodyRiseK = saved.bodyRiseK;
    this.#sinceS = saved.sinceS;
    Object.assign(this.condition, saved.condition);
    this.cabin.restore(saved.cabin);
  }

  #drive(durationS: number): boolean {
    const { circuit } = this.#vehicle;
    const turned = this.#stroke > 0;
    this.#watchSwitches(durationS);
    if (this.#clutch) {
      const wanted = Math.min(1, Math.max(LEAST_STROKE, (this.cabin.coilAirK - AIR_AIM_K) / AIR_BAND_K));
      const most = durationS / STROKE_RAMP_S;
      this.#stroke += Math.min(most, Math.max(-most, wanted - this.#stroke));
    } else this.#stroke = 0;
    const throttled = this.#throttles;
    this.#throttles = this.#running;
    if (this.#running) {
      throttle(this.#vehicle, this.#stroke, this.#gain, this.condition.expansionShare, durationS);
      circuit.compressor.opening = this.#stroke * this.condition.compressorShare;
    } else if (throttled) release(circuit);
    return throttled !== this.#throttles || turned !== this.#stroke > 0;
  }

  #watchSwitches(durationS: number): void {
    const highPa = this.#vehicle.high.pressurePa;
    const lowPa = this.#vehicle.circuit.suction.pressurePa;
    if (this.#clutch) {
      this.#lowForS = lowPa < LOW_CUT_PA ? this.#lowForS + durationS : 0;
      this.#clutch = this.#running && highPa < HIGH_CUT_PA && this.#lowForS < LOW_LASTS_S;
      this.#pausedS = 0;
    } else {
      this.#pausedS += durationS;
      this.#lowForS = 0;
      this.#clutch =
        this.#running && this.#pausedS >= LEAST_PAUSE_S && highPa < HIGH_RESUME_PA && lowPa > LOW_RESUME_PA;
    }
  }

  #exchangeHeat(durationS: number): void {
    const aimK = this.#running ? BAY_RISE_K : 0;
    const timeS = this.#running ? BAY_WARMS_S : BAY_COOLS_S;
    this.#bayRiseK = this.#towards(this.#bayRiseK, aimK, durationS / timeS);
    this.#warmVessel();
    this.#warmBody(durationS);
    if (this.#running) this.#blow(durationS);
    else this.#stand(durationS);
  }

  #towards(riseK: number, aimK: number, times: number): number {
    const nextK = riseK + (aimK - riseK) * (1 - Math.exp(-times));
    return !this.#running && nextK < SETTLED_K ? 0 : nextK;
  }

  #warmBody(durationS: number): void {
    const turns = this.#stroke > 0;
    const aimK = turns ? BODY_RISE_K : this.#bayRiseK;
    const timeS = turns ? BODY_WARMS_S : BODY_COOLS_S;
    this.#bodyRiseK = this.#towards(this.#bodyRiseK, aimK, durationS / timeS);
    this.#bodyOil.apartShare = this.#bodyRiseK === 0 ? 0 : OIL_IN_BODY;
    this.#bodyOil.apartK = this.#ambientK + this.#bodyRiseK;
  }

  #warmVessel(): void {
    const { vessel, circuit } = this.#vehicle;
    vessel.contactUaWPerK = this.#vesselUaWPerK * (this.#running ? MOVED_AIR : 1);
    vessel.surroundingsK = this.#ambientK + VESSEL_IN_BAY[circuit.kind] * this.#bayRiseK;
  }

  /** Fan and blower on: forced flow inside as long as the compressor turns. */
  #blow(durationS: number): void {
    const { high, low } = this.#vehicle;
    const turns = this.#stroke > 0;
    const warm = (RECIRCULATION_K * this.#bayRiseK) / BAY_RISE_K;
    high.surroundingsK = this.#ambientK + warm;
    const fast = (high.pressurePa - FAN_SLOW_BELOW_PA) / (FAN_FAST_ABOVE_PA - FAN_SLOW_BELOW_PA);
    const fan = FAN_SLOW_W_PER_K + (FAN_FAST_W_PER_K - FAN_SLOW_W_PER_K) * Math.min(1, Math.max(0, fast));
    const air = this.#stillHigh.out + (fan - this.#stillHigh.out) * this.condition.condenserAirShare;
    const free = condensingShare(high);
    high.wallUaOutWPerK = air * free;
    if (turns) setInside(high, CONDENSING_W_PER_K * free);
    else setStillInside(high, this.#stillHigh);
    this.#gain = subcool(this.#vehicle, high.surroundingsK, this.#equilibrium);
    const wetted = wettedShare(this.#vehicle);
    this.cabin.blow(low, wetted, durationS);
    if (turns) setInside(low, SUPERHEATING_W_PER_K + (BOILING_W_PER_K - SUPERHEATING_W_PER_K) * wetted);
    else setStillInside(low, this.#stillLow);
  }

  /** Still air, in a bay that is still warm. */
  #stand(durationS: number): void {
    const { high, low } = this.#vehicle;
    setStill(high, this.#stillHigh, this.#ambientK + HIGH_IN_BAY * this.#bayRiseK);
    setStill(low, this.#stillLow, this.#ambientK + LOW_IN_BAY * this.#bayRiseK);
    this.cabin.rest(durationS);
  }
}

const stillAir = (node: Vehicle['high']): Still => ({
  dry: node.wallUaDryWPerK,
  wet: node.wallUaWetWPerK,
  condensing: node.wallUaCondensingWPerK,
  out: node.wallUaOutWPerK,
});

function setStillInside(node: Vehicle['high'], still: Still): void {
  node.wallUaDryWPerK = still.dry;
  node.wallUaWetWPerK = still.wet;
  node.wallUaCondensingWPerK = still.condensing;
}

/** In forced flow the whole length counts, however little liquid there is at a time. */
function setInside(node: Vehicle['high'], wPerK: number): void {
  node.wallUaDryWPerK = wPerK;
  node.wallUaWetWPerK = wPerK;
  node.wallUaCondensingWPerK = wPerK;
}

function setStill(node: Vehicle['high'], still: Still, surroundingsK: number): void {
  setStillInside(node, still);
  node.wallUaOutWPerK = still.out;
  node.surroundingsK = surroundingsK;
}
