// Who has control: one page, or none; the others watch.
import type { Message } from '../messages.ts';
import type { ControlView } from '../shown-control.ts';
import type { Page } from './served-panel.ts';

/** What whoever watches may ask for as well. */
const FOR_EVERYBODY: readonly Message['type'][] = ['take-control', 'release-control', 'look-up'];

export class Control {
  readonly #pages = new Set<Page>();
  readonly #lost: () => void;
  #holder: Page | undefined;

  /** @param lost called when nobody's hand is on the machine any more. */
  constructor(lost: () => void) {
    this.#lost = lost;
  }

  get view(): ControlView {
    return { held: this.#holder !== undefined, watching: this.#pages.size, ledByTeacher: this.hasTeacher };
  }

  get hasTeacher(): boolean {
    return [...this.#pages].some(({ audience }) => audience === 'teacher');
  }

  isHolder(page: Page): boolean {
    return this.#holder === page;
  }

  /** @returns why this page may not say such a thing, or nothing. */
  forbids(page: Page, type: Message['type']): string | undefined {
    if (FOR_EVERYBODY.includes(type) || this.isHolder(page)) return undefined;
    return 'another page has control, or none; take control first';
  }

  come(page: Page): void {
    this.#pages.add(page);
  }

  leave(page: Page): void {
    this.#pages.delete(page);
    this.release(page);
  }

  release(page: Page): void {
    if (this.#holder !== page) return;
    this.#holder = undefined;
    this.#lost();
  }

  /** @returns why not, or nothing. */
  take(page: Page): string | undefined {
    const holder = this.#holder;
    if (holder === page) return undefined;
    if (holder !== undefined && page.audience !== 'teacher') return 'another page has control';
    if (holder !== undefined) this.release(holder);
    this.#holder = page;
    return undefined;
  }
}
