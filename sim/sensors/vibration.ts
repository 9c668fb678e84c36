// Vibration of the running machines as the scale's converter shows it: tones folded into 0 to 5 Hz by ten samples a second.
import type { Random } from '../random.ts';

/** Shaft speeds under load: 1450/min at 50 Hz mains, 1740/min of a pump at 60 Hz or by its belt (estimates). */
export const COMPRESSOR_HZ = 24.17;
export const PUMP_HZ = 29;
/** The compressor's second harmonic, 48 Hz, as a share of its first (estimate). */
const HARMONIC_SHARE = 0.3;
/** Slip differs from motor to motor, one standard deviation (estimate). */
const SLIP_SD = 0.005;

const TURN = 2 * Math.PI;

/** One machine on the same frame as the scale. Its tone stays coherent while it runs: worse for a filter than noise. */
class Tone {
  readonly #turnsPerSample: number;
  #turns: number;

  constructor(hertz: number, periodS: number, random: Random) {
    this.#turnsPerSample = hertz * (1 + SLIP_SD * random.normal()) * periodS;
    this.#turns = random.uniform();
  }

  /** Angle at the next sample. */
  next(): number {
    this.#turns += this.#turnsPerSample;
    this.#turns -= Math.floor(this.#turns);
    return TURN * this.#turns;
  }

  save(): number {
    return this.#turns;
  }

  restore(turns: number): void {
    this.#turns = turns;
  }
}

export class Vibration {
  readonly #amplitudeKg: number;
  readonly #compressor: Tone;
  readonly #pump: Tone;

  constructor(amplitudeKg: number, periodS: number, random: Random) {
    this.#amplitudeKg = amplitudeKg;
    this.#compressor = new Tone(COMPRESSOR_HZ, periodS, random);
    this.#pump = new Tone(PUMP_HZ, periodS, random);
  }

  /** What the next sample carries; nothing when both machines stand still. */
  sample(compressorTurns: boolean, pumpTurns: boolean): number {
    let kg = 0;
    if (compressorTurns) {
      const angle = this.#compressor.next();
      kg += this.#amplitudeKg * (Math.sin(angle) + HARMONIC_SHARE * Math.sin(2 * angle));
    }
    if (pumpTurns) kg += this.#amplitudeKg * Math.sin(this.#pump.next());
    return kg;
  }
  save() {
    return { compressor: this.#compressor.save(), pump: this.#pump.save() };
  }

  restore({ compressor, pump }: ReturnType<Vibration['save']>): void {
    this.#compressor.restore(compressor);
    this.#pump.restore(pump);
  }
}
