// What the server needs of whatever it shows: the simulated bench, or a rig behind a line.
import type { Notice } from '../../../controller/notice.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { Message } from '../messages.ts';
import type { Audience, ServerMessage, TrendRow, Welcome } from '../shown.ts';

/** Whoever says something: an object of the server's, known by itself alone. */
export type Page = { readonly audience: Audience };

export type Grown<T> = { readonly epoch: number; readonly list: readonly T[] };

export interface ServedPanel {
  /** Does what is due. @returns wall-clock milliseconds until it wants to be called again. */
  beat(): number;
  come(page: Page): void;
  leave(page: Page): void;
  isHolder(page: Page): boolean;
  /** Why this page may not say this now, or nothing. */
  forbids(page: Page, message: Message): string | undefined;
  /** @returns why not, or nothing. */
  heed(page: Page, message: Message): string | undefined;
  welcome(audience: Audience): Welcome;
  /** The look at everything, ten times a second. */
  looks(audience: Audience): readonly ServerMessage[];
  /** Lists that each page is sent piece by piece. */
  growing(): { readonly trend: Grown<TrendRow>; readonly notices: Grown<Notice> };
  /** Upkeep was written down: what stood against a job may stand no longer. */
  recordsChanged(): void;
}

/** Why nothing else begins yet: a trip is lifted by whoever has removed its cause, and is not forgotten by another job. */
export function stillTripped({ state }: { readonly state: ControllerState }): string | undefined {
  const { trip } = state.memory;
  return trip === undefined ? undefined : `the machine has tripped (${trip.reason}); reset the trip first`;
}
