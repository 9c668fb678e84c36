// The bar of a running campaign on the terminal: how far, how fast, how long still.
import type { Progress } from '../bench/campaign.ts';
import type { Terminal } from './command.ts';

const REDRAW_EVERY_MS = 200;
const BAR_CELLS = 24;
const CLEAR_LINE = '\r\u001b[2K';

const two = (value: number): string => String(value).padStart(2, '0');

/** Minutes and seconds, hours where there are any. */
function span(timeS: number): string {
  const whole = Math.ceil(timeS);
  const [hours, minutes, seconds] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`;
}

/** @param elapsedS since this run began; jobs of a run before tell nothing of the speed. */
export function progressLine({ done, before, jobs }: Progress, elapsedS: number): string {
  const filled = Math.floor((BAR_CELLS * done) / jobs);
  const bar = `[${'#'.repeat(filled)}${'.'.repeat(BAR_CELLS - filled)}] ${done} of ${jobs} jobs`;
  const ran = done - before;
  if (ran === 0 || elapsedS <= 0) return bar;
  const perS = ran / elapsedS;
  return `${bar}, ${perS.toFixed(1)} a second, ${span((jobs - done) / perS)} left`;
}

/** Draws on standard error, and only where that is a terminal. */
export class CampaignBar {
  readonly #terminal: Terminal;
  readonly #clockMs: () => number;
  readonly #startedMs: number;
  #drawnMs = Number.NEGATIVE_INFINITY;

  constructor(terminal: Terminal, clockMs: () => number) {
    this.#terminal = terminal;
    this.#clockMs = clockMs;
    this.#startedMs = clockMs();
  }

  show(progress: Progress): void {
    const nowMs = this.#clockMs();
    if (this.#terminal.errorsInteractive !== true || nowMs - this.#drawnMs < REDRAW_EVERY_MS) return;
    this.#drawnMs = nowMs;
    this.#terminal.err(`${CLEAR_LINE}${progressLine(progress, (nowMs - this.#startedMs) / 1000)}`);
  }

  end(): void {
    if (this.#drawnMs !== Number.NEGATIVE_INFINITY) this.#terminal.err(CLEAR_LINE);
  }
}
