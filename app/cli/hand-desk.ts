// The desk of work by hand: obeys one line after the other and keeps what came of each.
import type { Reason } from '../../controller/interlocks/reason.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { progress } from '../../controller/progress.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import type { HandAction } from '../../sim/spec.ts';
import type { HandWork } from '../run/by-hand.ts';
import {
  type HandResult,
  type LineDocument,
  type LookDocument,
  lookDocument,
  reasonDocument,
} from '../run/hand-document.ts';
import type { Observer, ScanSeen } from '../run/loop.ts';
import { toldIn } from '../told.ts';
import { clock, type Units } from '../units.ts';
import { type HandLine, LINES_HELP } from './hand-lines.ts';
import { entryText, inLines, statusParts, whyText } from './hand-words.ts';

const ACTION_TEXTS: { readonly [A in HandAction]: string } = {
  'connect-hoses': 'both hoses are on the vehicle, both couplers open',
  'close-couplers': 'both couplers are closed',
  'close-high-coupler': 'the high-side coupler is closed',
  'disconnect-hoses': 'both hoses are off the vehicle',
  'start-engine': 'the engine runs, the air conditioning at its coldest',
  'stop-engine': 'the engine stands still',
};

/** Of the time before each text. */
const INDENT = ' '.repeat(10);
const WIDTH = 100;

type Answer = Omit<LineDocument, 'atS' | 'line'>;

const DONE: Answer = { answer: 'done' };
const withReasons = (answer: Answer['answer'], reasons: readonly Reason[]): Answer =>
  reasons.length === 0 ? { answer } : { answer, reasons: reasons.map(reasonDocument) };

export class HandDesk {
  readonly #work: HandWork;
  readonly #units: Units;
  readonly #print: (text: string) => void;
  readonly #lines: LineDocument[] = [];
  readonly #looks: LookDocument[] = [];
  #entries: HandEntry[] = [];
  #startKg: number | undefined;

  /**
   * @param open gives the machine to be worked, with somebody who looks on at every scan.
   * @param print takes lasting text with its line end.
   */
  constructor(open: (look: Observer) => HandWork, units: Units, print: (text: string) => void) {
    this.#units = units;
    this.#print = print;
    this.#work = open((seen) => this.#look(seen));
    this.#work.takeOver();
    this.#work.say({ type: 'by-hand-begun' });
    this.#startKg = progress(this.#work.state, this.#work.nowMs).figures.tankNetKg;
  }

  get powerLost(): boolean {
    return this.#work.powerLost;
  }

  /** For the line that is redrawn. */
  get status(): readonly string[] {
    return [clock(this.#work.nowMs), ...this.#figures()];
  }

  #figures(): readonly string[] {
    const { state, nowMs, powerLost } = this.#work;
    return statusParts(state, nowMs, this.#startKg, this.#units, !powerLost);
  }

  pass(ms: number): void {
    this.#work.passTo(this.#work.nowMs + ms);
  }

  /** @param text as it was written, for the document. */
  obey(line: HandLine, text: string): void {
    const atS = this.#work.nowMs / 1000;
    this.#entries = [];
    this.#lines.push({ atS, line: text, ...this.#answer(line) });
  }

  /** A line that could not be read moves nothing and is kept with its remedy. */
  notUnderstood(text: string, remedy: string): void {
    this.#lines.push({ atS: this.#work.nowMs / 1000, line: text, answer: 'not-understood', remedy });
  }

  /** Everything off and handed back; what became of it all. */
  end(interrupted: boolean): HandResult {
    const { state, powerLost } = this.#work;
    const stopped = interrupted || powerLost || state.memory.trip !== undefined;
    this.#work.putAway();
    return {
      outcome: stopped ? 'stopped' : 'completed',
      lines: this.#lines,
      looks: this.#looks,
      state: this.#work.state,
      lastedMs: this.#work.nowMs,
    };
  }

  #answer(line: HandLine): Answer {
    switch (line.kind) {
      case 'switch':
        return this.#switch(line);
      case 'operate':
        this.#work.operate(line.action);
        this.#tell(ACTION_TEXTS[line.action]);
        return DONE;
      case 'wait':
        this.pass(line.ms);
        return this.#showStatus();
      case 'status':
        return this.#showStatus();
      case 'why':
        return this.#why(line.output);
      case 'stop':
        return this.#say({ type: 'all-wished-off' });
      case 'begin':
        return this.#begin();
      case 'reset':
        this.#work.takeOver();
        this.#say({ type: 'reset' });
        return this.#begin();
      case 'help':
        this.#print(LINES_HELP);
        return DONE;
      case 'quit':
        return DONE;
    }
  }

  #begin(): Answer {
    if (this.#work.state.byHand === undefined) {
      this.#work.takeOver();
      return this.#say({ type: 'by-hand-begun' });
    }
    this.#tell('the machine is worked by hand already');
    return DONE;
  }

  #say(event: OperatorEvent): Answer {
    this.#work.say(event);
    const refused = this.#entries.find(({ result }) => result === 'refused');
    return refused === undefined ? DONE : withReasons('refused', refused.reason ? [refused.reason] : []);
  }

  #switch({ output, on, offAfterMs }: Extract<HandLine, { kind: 'switch' }>): Answer {
    const time = offAfterMs === undefined ? {} : { offAfterMs };
    this.#work.say({ type: 'wished', output, on, ...time });
    const entry = this.#entries.find((one) => one.output === output && one.deed === (on ? 'on' : 'off'));
    if (entry?.result === 'permitted') return { answer: 'permitted' };
    if (entry?.result === 'done') return DONE;
    return withReasons('refused', entry?.reason === undefined ? [] : [entry.reason]);
  }

  #why(output: Extract<HandLine, { kind: 'why' }>['output']): Answer {
    const { byHand, judged } = this.#work.state;
    const reasons = this.#work.whyNot(output);
    this.#tell(whyText(output, judged?.permitted[output].on === true, reasons));
    const fallen = byHand?.fallen.find((one) => one.output === output);
    if (fallen !== undefined)
      this.#tell(`${output} was taken away at ${clock(fallen.atMs)} by ${fallen.reason.row}`);
    return withReasons(reasons.length === 0 ? 'permitted' : 'refused', reasons);
  }

  #showStatus(): Answer {
    const { state, nowMs, powerLost } = this.#work;
    this.#looks.push(lookDocument(state, nowMs, !powerLost));
    this.#tell(inLines(this.#figures(), WIDTH).join(`\n${INDENT}`));
    return DONE;
  }

  #look({ nowMs, notices, handEntries }: ScanSeen): void {
    this.#entries.push(...handEntries);
    for (const { severity, text, remedy } of notices)
      this.#tell(
        toldIn(this.#units, `${severity === 'information' ? '' : `${severity}: `}${text} → ${remedy}`),
        nowMs,
      );
    for (const entry of handEntries) {
      const text = entryText(entry, this.#work.state);
      if (text !== undefined) this.#tell(text, nowMs);
    }
  }

  #tell(text: string, atMs = this.#work.nowMs): void {
    this.#print(`${clock(atMs).padStart(8)}  ${text}\n`);
  }
}
