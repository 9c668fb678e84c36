// The simulated bench behind the real firmware keeps the contract of a rig, as well as edges of outputs can be seen.

import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { emulatedParts } from '../../app/rig/emulated.ts';
import { JoinedBench } from '../../app/rig/joined.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { rigContract } from './rig.ts';

const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the contract',
);

/** The vacuum valve's bit in the protocol's word. */
const VACUUM_VALVE = 1 << 3;

/** When the valve went on and off, from the start of the script. */
type Edges = readonly number[];
const EDGES = new WeakMap<JoinedBench, () => Edges>();

/** A line takes 1.5 ms and waits for the next tick of a millisecond. */
const EDGE_MS = 4;

rigContract<JoinedBench, Edges>('the bench behind the real firmware', {
  create: () => {
    const session = prepare(scenario, 'the contract', fluidOnce, () => 0);
    const parts = emulatedParts(session);
    const edges: { atMs: number; on: boolean }[] = [];
    parts.board.onOutputs((word, timeUs) => {
      const on = (word & VACUUM_VALVE) !== 0;
      if (on !== (edges.at(-1)?.on ?? false)) edges.push({ atMs: timeUs / 1000, on });
    });
    const bench = new JoinedBench(parts);
    bench.apply(SAFE_COMMANDS);
    bench.advanceTo(bench.nowMs() + 200);
    const startMs = bench.nowMs();
    EDGES.set(bench, () => edges.map(({ atMs }) => atMs - startMs));
    return bench;
  },
  nowMs: (bench) => bench.nowMs(),
  reach: (bench, timeMs) => bench.advanceTo(timeMs),
  seen: (bench) => EDGES.get(bench)!(),
  alike: (one, other) =>
    one.length === other.length && one.every((atMs, edge) => Math.abs(atMs - other[edge]!) <= EDGE_MS),
  stepMs: 3 * EDGE_MS,
  output: 'vacuumValve',
  besides: ['vacuumPump', 'highSideValve'],
});
