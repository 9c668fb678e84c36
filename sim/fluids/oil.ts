// Compressor oil and the refrigerant it takes up: Flory–Huggins, fitted to published isotherms.
import { ZERO_CELSIUS_K } from '../celsius.ts';
import type { Fluid } from './fluid.ts';

/** Polyalkylene glycol or polyol ester. */
export type OilKind = 'PAG' | 'POE';

type Oil = {
  readonly molarMassKgPerMol: number;
  /** Density at 0 °C and its fall per kelvin. */
  readonly densityKgPerM3: number;
  readonly densityPerK: number;
  /** Interaction parameter χ at 25 °C with R-134a, and its slope in 1/T. */
  readonly interaction: number;
  readonly interactionK: number;
};

/**
 * Fitted for this project to the isotherms of Martz and Jacobi, University of Illinois ACRC TR-68 (hdl.handle.net/2142/10986): R-134a with
 * PAG, 41 points, 0 to 80 °C, mass fraction 0.06 to 0.83, mean error 3.7 % in pressure, largest 18 %; with POE, 35
 * points, −10 to 70 °C, mean 2.5 %, largest 6 %.
 */
const OILS: { readonly [K in OilKind]: Oil } = {
  PAG: {
    molarMassKgPerMol: 2,
    densityKgPerM3: 986.25,
    densityPerK: 0.717,
    interaction: 0.715,
    interactionK: 154,
  },
  POE: {
    molarMassKgPerMol: 0.59,
    densityKgPerM3: 970.95,
    densityPerK: 0.696,
    interaction: 0.949,
    interactionK: 450.7,
  },
};

/** Of every oil, J/(kg·K): handbook range 1.7 to 2.1 kJ/(kg·K). */
export const OIL_HEAT_J_PER_KG_K = 1900;

/** Other refrigerants mix a little worse than R-134a (estimate, 0.1 ± 0.2: no open isotherms were at hand). */
const INTERACTION_OF_OTHERS = 0.1;
/**
 * Largest volume share of refrigerant that counts as dissolved: what is beyond it is liquid that lies beside the oil.
 * Without a limit the oil would swallow the charge, for at saturation both mix in any proportion; the last tenth below
 * saturation takes days in a standing vehicle, and is left out (estimate; 0.35 is reached at some 0.89 of saturation).
 */
const MOST_SHARE = 0.35;
/** Where a gap of miscibility begins, the oil-rich side ends just before it. */
const BEFORE_GAP = 0.98;
const REFERENCE_K = 298.15;

export const oilDensityKgPerM3 = (kind: OilKind, temperatureK: number): number =>
  OILS[kind].densityKgPerM3 - OILS[kind].densityPerK * (temperatureK - ZERO_CELSIUS_K);

/** One pair of oil and refrigerant. */
export class Solubility {
  readonly kind: OilKind;
  readonly #fluid: Fluid;
  readonly #interactionShift: number;

  constructor(kind: OilKind, fluid: Fluid) {
    this.kind = kind;
    this.#fluid = fluid;
    this.#interactionShift = fluid.name === 'R-134a' ? 0 : INTERACTION_OF_OTHERS;
  }

  /**
   * Mass of refrigerant per mass of oil in equilibrium with vapour at `activity` = p / p_sat(T), for a liquid
   * refrigerant density at that temperature. 0 without vapour; at and above saturation the largest dissolved share.
   */
  content(activity: number, temperatureK: number, liquidDensityKgPerM3: number): number {
    if (activity <= 0) return 0;
    const oilDensity = oilDensityKgPerM3(this.kind, temperatureK);
    const size = this.#sizeTerm(oilDensity, liquidDensityKgPerM3);
    const chi = this.#interactionAt(temperatureK);
    const share = shareAt(Math.log(activity), size, chi, mostShare(size, chi));
    return (share * liquidDensityKgPerM3) / ((1 - share) * oilDensity);
  }

  /** p / p_sat(T) over oil that holds `content` kilograms of refrigerant per kilogram. */
  activity(content: number, temperatureK: number, liquidDensityKgPerM3: number): number {
    if (content <= 0) return 0;
    const oilDensity = oilDensityKgPerM3(this.kind, temperatureK);
    const refrigerant = content / liquidDensityKgPerM3;
    const share = refrigerant / (refrigerant + 1 / oilDensity);
    const size = this.#sizeTerm(oilDensity, liquidDensityKgPerM3);
    return Math.exp(logActivity(share, size, this.#interactionAt(temperatureK)));
  }

  /** 1 − 1/r with r the ratio of molar volumes. */
  #sizeTerm(oilDensity: number, liquidDensity: number): number {
    const oilVolume = OILS[this.kind].molarMassKgPerMol / oilDensity;
    return 1 - this.#fluid.molarMassKgPerMol / liquidDensity / oilVolume;
  }

  #interactionAt(temperatureK: number): number {
    const { interaction, interactionK } = OILS[this.kind];
    return interaction + this.#interactionShift + interactionK * (1 / temperatureK - 1 / REFERENCE_K);
  }
}

/** Flory–Huggins: ln a = ln φ + (1 − 1/r)(1 − φ) + χ(1 − φ)², φ the volume share of refrigerant. */
function logActivity(share: number, size: number, chi: number): number {
  const oil = 1 - share;
  return Math.log(share) + size * oil + chi * oil * oil;
}

/** The share at which the activity stops rising (spinodal), or the largest share that counts as dissolved. */
function mostShare(size: number, chi: number): number {
  const sum = size + 2 * chi;
  const root = sum * sum - 8 * chi;
  if (root <= 0) return MOST_SHARE;
  return Math.min(MOST_SHARE, (BEFORE_GAP * (sum - Math.sqrt(root))) / (4 * chi));
}

/** Newton on ln φ from the dilute side, where the activity is concave: it comes up to the root and never passes it. */
function shareAt(logOfActivity: number, size: number, chi: number, most: number): number {
  if (logOfActivity >= logActivity(most, size, chi)) return most;
  let share = Math.min(most, Math.exp(logOfActivity - size - chi));
  for (let i = 0; i < 30; i++) {
    const oil = 1 - share;
    const gap = logOfActivity - logActivity(share, size, chi);
    share = Math.min(most, share * Math.exp(gap / (1 - share * (size + 2 * chi * oil))));
    if (gap < 1e-7) break;
  }
  return share;
}
