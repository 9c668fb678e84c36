// The running job on the screen: one line that is redrawn on a terminal, lasting lines for what changes.
import type { Progress } from '../../controller/progress.ts';
import type { Stage } from '../../controller/stages.ts';
import type { ScanSeen } from '../run/loop.ts';
import { toldIn } from '../told.ts';
import { clock, type Units } from '../units.ts';
import type { Terminal } from './command.ts';

const REDRAW_EVERY_MS = 100;
const DEFAULT_COLUMNS = 80;
const CLEAR_LINE = '\r\u001b[2K';

type Figures = Progress['figures'];
type Figure = (figures: Figures, units: Units) => string | undefined;

const labelled =
  (label: string, key: keyof Figures, show: (units: Units) => (value: number) => string): Figure =>
  (figures, units) => {
    const value = figures[key];
    return value === undefined ? undefined : `${label} ${show(units)(value)}`;
  };

const high = labelled('high', 'highSidePa', (units) => units.pressure);
const low = labelled('low', 'lowSidePa', (units) => units.pressure);
/** Where the machine draws: the finer low side, or the one hose there is. */
const suction: Figure = (figures, units) => low(figures, units) ?? high(figures, units);
const manifold = labelled('separator', 'manifoldPa', (units) => units.pressure);
const vent = labelled('vents', 'ventK', (units) => units.temperature);
const tank = labelled('tank', 'tankPa', (units) => units.pressure);
const tankTemperature = labelled('tank', 'tankTemperatureK', (units) => units.temperature);
/** The direction is the stage's own. */
const flow = labelled('flow', 'flowKgPerS', (units) => (flowKgPerS) => units.flow(Math.abs(flowKgPerS)));
const moved = labelled('moved', 'phaseKg', (units) => units.charge);
const vacuum: Figure = ({ vehicleVacuumPa, manifoldPa }, units) => {
  const pressurePa = vehicleVacuumPa ?? manifoldPa;
  return pressurePa === undefined ? undefined : `vacuum ${units.pressure(pressurePa)}`;
};
const charged: Figure = ({ phaseKg, targetKg }, units) => {
  if (phaseKg === undefined) return undefined;
  const target = targetKg === undefined ? '' : ` of ${units.charge(targetKg)}`;
  return `charged ${units.charge(phaseKg)}${target}`;
};

const STAGE_FIGURES: { readonly [S in Stage]: readonly Figure[] } = {
  identify: [tankTemperature],
  fill: [high, moved, manifold, tank],
  'purge-air': [tank, tankTemperature],
  settle: [high, low, tank],
  recover: [suction, moved, flow, tank],
  rest: [low, high],
  'drain-oil': [manifold],
  repair: [high, low],
  evacuate: [vacuum],
  hold: [vacuum],
  'add-oil': [vacuum],
  'leak-check': [charged, low, high],
  charge: [charged, flow, high, tank],
  verify: [high, low, vent],
  'clear-hoses': [high, low],
  'recover-hoses': [high, low, moved],
};

/** The figures that matter in the stage, as one text. */
function stageFigures({ stage, figures }: Progress, units: Units): string {
  if (stage === 'finished' || stage === 'idle' || stage === 'by-hand') return '';
  return STAGE_FIGURES[stage]
    .map((figure) => figure(figures, units))
    .filter((text) => text !== undefined)
    .join(', ');
}

/** What the repair takes, nobody can tell. */
function timeLeft({ remainingMs, stage }: Progress): string | undefined {
  if (remainingMs === undefined) return undefined;
  const minutes = (timeMs: number) => Math.ceil(timeMs / 60_000);
  const [least, most] = [minutes(remainingMs.low), minutes(remainingMs.high)];
  const left = `${least === most ? most : `${least}–${most}`} min left`;
  return stage === 'repair' ? `${left} after the repair` : left;
}

export function statusLine({ nowMs, progress }: Pick<ScanSeen, 'nowMs' | 'progress'>, units: Units): string {
  // The time left first: a narrow terminal cuts the end off.
  const parts = [
    timeLeft(progress),
    stageFigures(progress, units),
    `waiting for ${toldIn(units, progress.waitingFor)}`,
  ];
  const known = parts.filter((part) => part !== undefined && part !== '');
  const stage = `${progress.stage}${progress.paused ? ' (paused)' : ''}`;
  return `${clock(nowMs).padStart(8)}  ${stage}: ${known.join(' | ')}`;
}

/** Shows a run on a terminal. `look` sees every scan; `redraw` may be called as often as one likes. */
export class LiveView {
  readonly #terminal: Terminal;
  readonly #units: Units;
  readonly #wallClockMs: () => number;
  #seen: ScanSeen | undefined;
  #promptAtMs: number | undefined;
  #drawnAtMs = Number.NEGATIVE_INFINITY;
  #lineIsDrawn = false;

  constructor(terminal: Terminal, units: Units, wallClockMs: () => number) {
    this.#terminal = terminal;
    this.#units = units;
    this.#wallClockMs = wallClockMs;
  }

  look(seen: ScanSeen): void {
    const before = this.#seen?.progress;
    this.#seen = seen;
    const { progress, notices, nowMs } = seen;
    if (before === undefined || before.stage !== progress.stage) {
      if (before !== undefined) this.#last(nowMs, `${before.stage} done`, stageFigures(before, this.#units));
      const next = progress.prompt === undefined ? `waiting for ${progress.waitingFor}` : '';
      if (!progress.ended) this.#last(nowMs, `${progress.stage} begins`, next);
    }
    const { prompt } = progress;
    if (prompt !== undefined && prompt.askedAtMs !== this.#promptAtMs)
      this.#last(nowMs, 'asked of the operator', prompt.text);
    this.#promptAtMs = prompt?.askedAtMs;
    for (const { severity, text, remedy } of notices) this.#last(nowMs, severity, `${text} → ${remedy}`);
  }

  /** A line of its own, at the time of the last scan. */
  tell(text: string): void {
    this.#last(this.#seen?.nowMs ?? 0, text, undefined);
  }

  redraw(): void {
    if (!this.#terminal.interactive || this.#seen === undefined) return;
    const nowMs = this.#wallClockMs();
    if (nowMs - this.#drawnAtMs < REDRAW_EVERY_MS) return;
    this.#drawnAtMs = nowMs;
    const width = (this.#terminal.columns || DEFAULT_COLUMNS) - 1;
    this.#terminal.out(CLEAR_LINE + statusLine(this.#seen, this.#units).slice(0, width));
    this.#lineIsDrawn = true;
  }

  /** Takes the redrawn line off the screen. */
  end(): void {
    if (this.#lineIsDrawn) this.#terminal.out(CLEAR_LINE);
    this.#lineIsDrawn = false;
  }

  #last(nowMs: number, what: string, detail: string | undefined): void {
    this.end();
    const rest = detail === undefined || detail === '' ? '' : `: ${toldIn(this.#units, detail)}`;
    this.#terminal.out(`${clock(nowMs).padStart(8)}  ${what}${rest}\n`);
  }
}
