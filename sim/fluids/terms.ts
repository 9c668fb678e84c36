// The separable terms of a Helmholtz equation of state, and their derivatives.

/** One residual term n·δ^d·τ^t·exp(−c·δ^l − η(δ − ε)² − β(τ − γ)²), with c = 1 where l > 0 and 0 otherwise. */
type ResidualTerm = {
  readonly n: number;
  readonly t: number;
  readonly d: number;
  readonly l: number;
  readonly eta: number;
  readonly epsilon: number;
  readonly beta: number;
  readonly gamma: number;
};

export type ResidualData = {
  readonly power: readonly { n: number; t: number; d: number; l: number }[];
  readonly gaussian: readonly {
    n: number;
    t: number;
    d: number;
    eta: number;
    epsilon: number;
    beta: number;
    gamma: number;
  }[];
};

/** A negative power only ever meets a coefficient of zero; at δ = 0 that product must be 0 and not NaN. */
const power = (base: number, exponent: number): number => (exponent < 0 ? 0 : base ** exponent);

/**
 * The residual part of a Helmholtz equation as a sum of products f(δ)·g(τ). Keeping the two factors apart makes a
 * grid of states cost one multiplication per term and node.
 *
 * The density factors are those of φ = f/δ, which stays analytic at δ = 0: deep vacuum needs no special case.
 */
export class ResidualTerms {
  readonly count: number;
  readonly #terms: readonly ResidualTerm[];

  constructor(data: ResidualData) {
    this.#terms = [
      ...data.power.map((term) => ({ ...term, eta: 0, epsilon: 0, beta: 0, gamma: 0 })),
      ...data.gaussian.map((term) => ({ ...term, l: 0 })),
    ];
    this.count = this.#terms.length;
  }

  /** Fills n·g, n·dg/dτ and n·d²g/dτ² of each term, three numbers a term. */
  temperatureFactors(tau: number, out: Float64Array): void {
    let at = 0;
    for (const { n, t, beta, gamma } of this.#terms) {
      const offset = tau - gamma;
      const g = n * tau ** t * (beta === 0 ? 1 : Math.exp(-beta * offset * offset));
      const logSlope = t / tau - 2 * beta * offset;
      out[at] = g;
      out[at + 1] = g * logSlope;
      out[at + 2] = g * (logSlope * logSlope - t / (tau * tau) - 2 * beta);
      at += 3;
    }
  }

  /** Fills φ, dφ/dδ, d(δφ)/dδ and d²(δφ)/dδ² of each term, four numbers a term. */
  densityFactors(delta: number, out: Float64Array): void {
    let at = 0;
    for (const { d, l, eta, epsilon } of this.#terms) {
      const offset = delta - epsilon;
      const exponent = (l > 0 ? -(delta ** l) : 0) - eta * offset * offset;
      const e = exponent === 0 ? 1 : Math.exp(exponent);
      const e1 = -l * power(delta, l - 1) - 2 * eta * offset;
      const e2 = -l * (l - 1) * power(delta, l - 2) - 2 * eta;
      const p0 = power(delta, d - 1);
      const p1 = (d - 1) * power(delta, d - 2);
      const p2 = (d - 1) * (d - 2) * power(delta, d - 3);
      const phi = p0 * e;
      const phi1 = (p1 + p0 * e1) * e;
      const phi2 = (p2 + 2 * p1 * e1 + p0 * (e1 * e1 + e2)) * e;
      out[at] = phi;
      out[at + 1] = phi1;
      out[at + 2] = phi + delta * phi1;
      out[at + 3] = 2 * phi1 + delta * phi2;
      at += 4;
    }
  }
}

export type IdealData = {
  readonly constant: number;
  readonly linear: number;
  readonly logarithm: number;
  readonly power: readonly { n: number; t: number }[];
  readonly planckEinstein: readonly { n: number; theta: number }[];
};

/** The ideal-gas part without its ln δ: value, first and second derivative in τ. */
export function idealPart(data: IdealData, tau: number): { value: number; d1: number; d2: number } {
  let value = data.constant + data.linear * tau + data.logarithm * Math.log(tau);
  let d1 = data.linear + data.logarithm / tau;
  let d2 = -data.logarithm / (tau * tau);
  for (const { n, t } of data.power) {
    const term = n * tau ** t;
    value += term;
    d1 += (term * t) / tau;
    d2 += (term * t * (t - 1)) / (tau * tau);
  }
  for (const { n, theta } of data.planckEinstein) {
    const decay = Math.exp(-theta * tau);
    value += n * Math.log(1 - decay);
    d1 += (n * theta * decay) / (1 - decay);
    d2 -= (n * theta * theta * decay) / (1 - decay) ** 2;
  }
  return { value, d1, d2 };
}
