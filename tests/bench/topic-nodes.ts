// How the cost of a step grows with the number of nodes: a chain through which vapour flows steadily.

import { clockMs } from '../../app/bench/whole-jobs.ts';
import { areaOfBore, makeEdge } from '../../sim/network/edge.ts';
import type { Equilibrium } from '../../sim/network/equilibrium.ts';
import { Network } from '../../sim/network/network.ts';
import { makeNode } from '../../sim/network/node.ts';
import { equilibriumOf, fillWithVapour, ROOM_K } from '../sim/network/kit.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const NODES = [4, 8, 16, 32];
const RUNS = 5;
const SCANS = 20_000;
const SCAN_S = 0.1;
const FROM_PA = 400_000;
const TO_PA = 300_000;

/** Nodes in a row between two boundaries, every restriction open. */
function chain(equilibrium: Equilibrium, count: number): Network {
  const row = Array.from({ length: count + 2 }, (_, i) => {
    const end = i === 0 || i === count + 1;
    const node = makeNode(
      {
        name: `node ${i}`,
        volumeM3: end ? 1e6 : 0.5e-3,
        wallJPerK: 500,
        wallUaDryWPerK: 1,
        wallUaWetWPerK: 5,
      },
      ROOM_K,
    );
    fillWithVapour(equilibrium, node, FROM_PA + ((TO_PA - FROM_PA) * i) / (count + 1));
    return node;
  });
  const edges = row.slice(1).map((b, i) =>
    makeEdge({
      kind: 'restriction',
      name: `restriction ${i}`,
      a: row[i]!,
      b,
      portA: 'mixed',
      portB: 'mixed',
      areaM2: areaOfBore(2e-3, 0.7),
      opening: 1,
    }),
  );
  return new Network(equilibrium, row.slice(1, -1), edges);
}

async function stepUs(equilibrium: Equilibrium, count: number): Promise<number> {
  const network = chain(equilibrium, count);
  const startedMs = clockMs();
  for (let i = 0; i < SCANS; i++) network.advance(SCAN_S);
  return (1000 * (clockMs() - startedMs)) / network.steps;
}

async function measure(): Promise<readonly Row[]> {
  const equilibrium = equilibriumOf('R-134a');
  const rows: Row[] = [];
  await stepUs(equilibrium, NODES[0]!);
  for (const count of NODES) {
    const us = median(await repeated(RUNS, () => stepUs(equilibrium, count)));
    rows.push(
      { what: `${count} nodes, ${count + 1} edges, a step`, value: us, unit: 'µs' },
      { what: '  per node', value: us / count, unit: 'µs' },
    );
  }
  return rows;
}

export const nodes: Topic = { name: 'nodes', title: 'Growth with the number of nodes, warm', measure };
