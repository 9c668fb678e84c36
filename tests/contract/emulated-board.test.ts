// The simulated bench behind the real firmware keeps the contract of a rig, as well as edges of outputs can be seen.

import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { emulatedParts } from '../../app/rig/emulated.ts';
import { JoinedBench } from '../../app/rig/joined.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { alikeWithin, type Edge } from './edges.ts';
import { rigContract } from './rig.ts';

const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the contract',
);

/** What the outputs did, from the start of the script. */
const EDGES = new WeakMap<JoinedBench, () => readonly Edge[]>();

/** A line takes 1.5 ms and waits for the next tick of a millisecond. */
const EDGE_MS = 4;

rigContract<JoinedBench, readonly Edge[]>('the bench behind the real firmware', {
  create: () => {
    const session = prepare(scenario, 'the contract', fluidOnce, () => 0);
    const parts = emulatedParts(session);
    const edges: Edge[] = [];
    parts.board.onOutputs((word, timeUs) => edges.push({ atMs: timeUs / 1000, word }));
    const bench = new JoinedBench(parts);
    bench.apply(SAFE_COMMANDS);
    bench.advanceTo(bench.nowMs() + 200);
    const startMs = bench.nowMs();
    EDGES.set(bench, () => edges.map(({ atMs, word }) => ({ atMs: atMs - startMs, word })));
    return bench;
  },
  nowMs: (bench) => bench.nowMs(),
  reach: (bench, timeMs) => bench.advanceTo(timeMs),
  seen: (bench) => EDGES.get(bench)!(),
  alike: alikeWithin(EDGE_MS),
  stepMs: 3 * EDGE_MS,
  output: 'vacuumValve',
  besides: ['vacuumPump', 'highSideValve'],
});
