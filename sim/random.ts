// Seeded chance: one stream of numbers for each purpose, so that one purpose never shifts another.
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus, xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';

export class Random {
  #generator;
  #spare: number | undefined;

  /**
   * Streams of one seed differ by their name, and know nothing of each other. The generator is linear in its seed: two whose
   * seeds differ by a constant give values that do, so that the seed is mixed before and after the name comes to it.
   */
  constructor(seed: number, stream: string) {
    this.#generator = xoroshiro128plus(mixed(mixed(seed | 0) + hash(stream)));
  }

  /** Uniform in [0, 1). */
  uniform(): number {
    return uniformFloat64(this.#generator);
  }

  /** Standard normal, by the polar method of Marsaglia. */
  normal(): number {
    if (this.#spare !== undefined) {
      const spare = this.#spare;
      this.#spare = undefined;
      return spare;
    }
    for (;;) {
      const x = 2 * this.uniform() - 1;
      const y = 2 * this.uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      this.#spare = y * scale;
      return x * scale;
    }
  }

  save() {
    return { generator: this.#generator.getState(), spare: this.#spare };
  }

  restore({ generator, spare }: ReturnType<Random['save']>): void {
    this.#generator = xoroshiro128plusFromState(generator);
    this.#spare = spare;
  }
}

/**
 * The finalizer of MurmurHash3 (Austin Appleby, public domain): every number of 32 bits goes to another one, and half of
 * the bits change with each bit of it.
 */
export function mixed(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}

/** FNV-1a, 32 bit. */
function hash(text: string): number {
  let value = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193);
  return value;
}
