// What instruments in the operator's hand show on the simulated bench for what is being asked.
import type { Prompt } from '../../../controller/operator.ts';
import { identify, sampledIn } from '../../run/identifier.ts';
import { DETECTED_KG_PER_S } from '../../run/operator.ts';
import type { Session } from '../../run/prepare.ts';
import type { PromptShows } from '../shown.ts';

export class HandInstruments {
  readonly #session: Session;
  /** Since when a leak is searched, and what had leaked by then. */
  #asked: { readonly atMs: number; readonly leakedKg: number } | undefined;

  constructor(session: Session) {
    this.#session = session;
  }

  /** After every scan. */
  look(prompt: Prompt | undefined): void {
    if (prompt?.id === 'search-leak' && this.#asked?.atMs !== prompt.askedAtMs)
      this.#asked = { atMs: prompt.askedAtMs, leakedKg: this.#session.bench.truth().leakedKg };
  }

  shows(prompt: Prompt | undefined): PromptShows | undefined {
    const { scenario, tankCurve, bench } = this.#session;
    switch (prompt?.id) {
      case 'identify-refrigerant': {
        const shown = identify(sampledIn(scenario), scenario.identifier, tankCurve);
        return 'reading' in shown ? { reading: shown.reading } : { noSample: shown.reason };
      }
      case 'read-catch-bottle':
        return { volumeM3: Math.round(bench.catchBottleM3() * 1e6) / 1e6 };
      case 'search-leak':
        return { detector: this.#detects() };
      default:
        return undefined;
    }
  }

  #detects(): boolean {
    const asked = this.#asked;
    const { bench } = this.#session;
    if (asked === undefined || bench.nowMs() <= asked.atMs) return false;
    const kgPerS = (bench.truth().leakedKg - asked.leakedKg) / ((bench.nowMs() - asked.atMs) / 1000);
    return kgPerS >= DETECTED_KG_PER_S;
  }
}
