// The simulated operator: sees a prompt, takes some time, does what it asks by hand, then says so.
import type { Notice } from '../../controller/notice.ts';
import type { Identification, OperatorEvent, Prompt, PromptId } from '../../controller/operator.ts';
import type { HandAction } from '../../sim/spec.ts';

/** What the operator has in hand: the plant, and an identifier's reading of the vehicle. */
export type Surroundings = {
  readonly operate: (action: HandAction) => void;
  /** What stands in the graduated catch bottle, m³. */
  readonly catchBottleM3: () => number;
  /** Refrigerant that has left the vehicle through leaks so far. */
  readonly leakedKg: () => number;
  /** What the identifier shows of a sample from the vehicle, or why there is none. */
  readonly identify: () => Identified;
  /** How the vehicle is mended; left out: a repair is only said to be done. */
  readonly repair?: { readonly openVehicle: (open: boolean) => void; readonly forMs: number };
};

/** A reading, or going on without one. */
export type Identified =
  | { readonly reading: Identification }
  | { readonly why: 'no-pressure' | 'identified-elsewhere'; readonly reason: string };

/** The catch bottle has a mark every millilitre. */
const MARK_M3 = 1e-6;

/** The finest setting of an electronic detector, 4 g a year (SAE J2791), at the pressure that the vehicle has. */
export const DETECTED_KG_PER_S = 4e-3 / (365.25 * 86_400);
/** A search along every joint takes some minutes (estimate). */
const SEARCH_MS = 2 * 60_000;

const NO_ANSWERS: readonly OperatorEvent[] = [];

type Search = { readonly fromMs: number; readonly leakedKg: number };

/** Notices by which the machine has had enough of the warming engine. */
const STOP_ON: readonly string[] = ['warm-up-enough', 'warm-up-cut-short', 'warm-up-in-vain'];
/** Nobody lets it run longer for warming, told or not (SAE J2788, preconditioning of the vehicle). */
const WARM_MS = 15 * 60_000;

/** Whoever answers the controller's prompts: asked once a scan, answers with what happened since. */
export interface Operator {
  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[];
  /** What the machine tells meanwhile. */
  hear?(notices: readonly Notice[], nowMs: number): void;
  /** Has something in hand: the job does not wait for it, the bench does. */
  readonly busy?: boolean;
}

export class SimulatedOperator implements Operator {
  readonly #surroundings: Surroundings;
  readonly #delayMs: number;
  #answeredAskedAtMs: number | undefined;
  #openedAtMs: number | undefined;
  #mended = false;
  #search: Search | undefined;
  #warmedSinceMs: number | undefined;
  #stopAtMs = Number.POSITIVE_INFINITY;
  #takeOffAtMs: number | undefined;

  constructor(surroundings: Surroundings, delayMs: number) {
    this.#surroundings = surroundings;
    this.#delayMs = delayMs;
  }

  hear(notices: readonly Notice[], nowMs: number): void {
    for (const { code } of notices) {
      if (code === 'hoses-safe') this.#takeOffAtMs = nowMs + this.#delayMs;
      if (code === 'hoses-not-safe') this.#takeOffAtMs = undefined;
      if (STOP_ON.includes(code)) this.#stopAtMs = Math.min(this.#stopAtMs, nowMs + this.#delayMs);
    }
  }

  get busy(): boolean {
    return this.#takeOffAtMs !== undefined;
  }

  /** Each asking is answered once; the same prompt asked again later is done again. */
  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[] {
    if (this.#takeOffAtMs !== undefined && nowMs >= this.#takeOffAtMs) {
      this.#surroundings.operate('disconnect-hoses');
      this.#takeOffAtMs = undefined;
    }
    if (prompt === undefined || prompt.askedAtMs === this.#answeredAskedAtMs) return NO_ANSWERS;
    if (nowMs - prompt.askedAtMs < this.#delayMs) return NO_ANSWERS;
    if (prompt.id === 'repair-vehicle' && !this.#isMended(nowMs)) return NO_ANSWERS;
    if (prompt.id === 'warm-vehicle' && !this.#isWarmed(nowMs)) return NO_ANSWERS;
    const answer = prompt.id === 'search-leak' ? this.#searchLeak(nowMs) : this.#answer(prompt.id);
    if (answer === undefined) return NO_ANSWERS;
    this.#answeredAskedAtMs = prompt.askedAtMs;
    this.#search = undefined;
    return [answer];
  }

  /** What it has in hand, as plain data. */
  save() {
    return {
      answeredAskedAtMs: this.#answeredAskedAtMs,
      openedAtMs: this.#openedAtMs,
      mended: this.#mended,
      search: this.#search,
      warmedSinceMs: this.#warmedSinceMs,
      stopAtMs: this.#stopAtMs,
      takeOffAtMs: this.#takeOffAtMs,
    };
  }

  restore(saved: ReturnType<SimulatedOperator['save']>): void {
    this.#answeredAskedAtMs = saved.answeredAskedAtMs;
    this.#openedAtMs = saved.openedAtMs;
    this.#mended = saved.mended;
    this.#search = saved.search;
    this.#warmedSinceMs = saved.warmedSinceMs;
    this.#stopAtMs = saved.stopAtMs;
    this.#takeOffAtMs = saved.takeOffAtMs;
  }

  /** The vehicle is opened and closed once; whoever is asked again only says so again. */
  #isMended(nowMs: number): boolean {
    const { repair } = this.#surroundings;
    if (repair === undefined || this.#mended) return true;
    if (this.#openedAtMs === undefined) {
      this.#openedAtMs = nowMs;
      repair.openVehicle(true);
    }
    if (nowMs - this.#openedAtMs < repair.forMs) return false;
    repair.openVehicle(false);
    this.#mended = true;
    return true;
  }

  /** Stays at the running engine until the machine has had enough, or the longest that is allowed is over. */
  #isWarmed(nowMs: number): boolean {
    if (this.#warmedSinceMs === undefined) {
      this.#warmedSinceMs = nowMs;
      this.#stopAtMs = nowMs + WARM_MS;
      this.#surroundings.operate('start-engine');
    }
    return nowMs >= this.#stopAtMs;
  }

  /** The detector smells what comes out while it is moved about. */
  #searchLeak(nowMs: number): OperatorEvent | undefined {
    const leakedKg = this.#surroundings.leakedKg();
    this.#search ??= { fromMs: nowMs, leakedKg };
    const { fromMs, leakedKg: beforeKg } = this.#search;
    if (nowMs - fromMs < SEARCH_MS) return undefined;
    const found = (leakedKg - beforeKg) / ((nowMs - fromMs) / 1000) >= DETECTED_KG_PER_S;
    return { type: 'searched', prompt: 'search-leak', found };
  }

  #answer(prompt: Exclude<PromptId, 'search-leak'>): OperatorEvent {
    const { identify, operate, catchBottleM3 } = this.#surroundings;
    switch (prompt) {
      case 'identify-refrigerant':
        return identified(identify());
      case 'read-catch-bottle':
        return { type: 'entered', prompt, volumeM3: MARK_M3 * Math.round(catchBottleM3() / MARK_M3) };
      // What the hoses carry is no part of the plant.
      case 'flush-hoses':
      // The outlet leads outdoors.
      case 'purge-air':
      // There is no more oil or dye on this bench than its bottles held at the start.
      case 'fill-oil-bottle':
      case 'fill-dye-bottle':
      case 'repair-vehicle':
      case 'recover-again':
        return { type: 'confirmed', prompt };
      case 'warm-vehicle':
        operate('stop-engine');
        this.#warmedSinceMs = undefined;
        return { type: 'confirmed', prompt };
      case 'close-couplers-then-stop':
        operate('close-couplers');
        operate('stop-engine');
        return { type: 'confirmed', prompt };
      default:
        operate(prompt);
        return { type: 'confirmed', prompt };
    }
  }
}

const identified = (sample: Identified): OperatorEvent =>
  'reading' in sample
    ? { type: 'identified', result: sample.reading }
    : { type: 'identification-overridden', ...sample };
