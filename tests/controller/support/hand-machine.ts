import type { OperatorEvent } from '../../../controller/operator.ts';
import { planByHand } from '../../../controller/plan.ts';
import { type ControllerState, openJob, type ScanResult, scan } from '../../../controller/scan.ts';
import { OUTPUTS, type Output } from '../../../controller/signals.ts';
import { OIL_EQUIPMENT, R134A, TICKET } from './machine.ts';
import { readingsAt, type Values } from './readings.ts';

export const BEGIN: OperatorEvent = { type: 'by-hand-begun' };
export const wish = (output: Output, on = true, offAfterMs?: number): OperatorEvent => ({
  type: 'wished',
  output,
  on,
  ...(offAfterMs === undefined ? {} : { offAfterMs }),
});

/** A machine on the table of a test: readings are given, nothing flows. */
export class Machine {
  state: ControllerState;
  nowMs = 0;
  last: ScanResult | undefined;
  values: Values = {};

  constructor(state: ControllerState) {
    this.state = state;
    this.nowMs = state.memory.lastScanMs;
  }

  scan(...events: readonly OperatorEvent[]): ScanResult {
    this.nowMs += 100;
    // A live scale never repeats itself.
    const scaleCounts = 2_100_000 + Math.round(30 * Math.sin(this.nowMs));
    const readings = readingsAt(this.nowMs, { scaleCounts, ...this.values });
    this.last = scan(this.state, readings, this.nowMs, events);
    this.state = this.last.state;
    return this.last;
  }

  wait(seconds: number): this {
    for (let scans = 0; scans < seconds * 10; scans += 1) this.scan();
    return this;
  }

  get on(): readonly Output[] {
    return OUTPUTS.filter((output) => this.last?.commands[output].on);
  }

  get codes(): readonly string[] {
    return this.last?.notices.map(({ code }) => code) ?? [];
  }

  get entry() {
    return this.state.handJournal.at(-1)!;
  }
}

export const idle = (): ControllerState => openJob(planByHand(TICKET, R134A), OIL_EQUIPMENT, 0);

/** Taken over and rested: the compressor may start, the fan is proven. */
export function byHand(values: Values = {}): Machine {
  const machine = new Machine(idle());
  machine.values = values;
  machine.wait(125);
  machine.scan(BEGIN);
  return machine;
}
