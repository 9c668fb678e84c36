// The page of hazards: what can hurt someone or spoil something, what answers it, and the tests that prove it.

import { COMPUTER } from './computer.ts';
import type { Hazard, Proof } from './hazard.ts';
import { code, section, table } from './markdown.ts';
import { SENSORS_AND_OUTPUTS } from './sensors.ts';
import { SERVICE } from './service.ts';
import { TANK_AND_DRIVES } from './tank-and-drives.ts';

export const PAGE = new URL('../../docs/hazards.md', import.meta.url);

export const HAZARDS: readonly Hazard[] = [
  ...TANK_AND_DRIVES,
  ...SENSORS_AND_OUTPUTS,
  ...SERVICE,
  ...COMPUTER,
];

const INTRO = `# Hazards

What can go wrong around this machine, what the controller can see of it, what it does, and what it cannot do. Refrigerant
under pressure can freeze eyes and skin, suffocate, and in part burn; a tank that is overfilled can burst. This page is
no approval: the rules of the place come first, and work on such systems belongs to people trained and licensed for it.

- **Layer**: \`rig\` is what must be wired or built so: emergency stop, high-pressure switch, thermal fuse, normally closed
  valves, check valves, reliefs. \`firmware\` is the board's own: outputs that expire, trips, readings with a reason;
  it is proven on an emulated board ([rig-proof.md](rig-proof.md)), and what emulation cannot prove stands on the
  checklist of [rig.md](rig.md). \`controller\` is this project's program.
- **Status**: _covered_ is proven by the tests named; _in part_ says under "what is done" what is left open.
- **Interlocks** stand in [interlocks.md](interlocks.md), with the proof that forbidden combinations are never commanded.
  A hazard without one is answered by the sequence, which stops, asks or says so.
- Every answer has the test that proves it and its twin: the same without the hazard, where nothing is forbidden or said.
- The list of hazards is common practice of the trade, written down for this machine; where a rule of law or a standard
  stands behind a limit, its source stands at the limit in the code and in [physics.md](physics.md) or the job record.`;

const rowsOf = (list: readonly Hazard[], from: number): readonly (readonly string[])[] =>
  list.map(({ hazard, cause, detection, answer, interlocks, layers, status }, at) => [
    String(from + at),
    hazard,
    cause,
    detection,
    answer,
    interlocks.join(', ') || '–',
    layers.join(', '),
    status,
  ]);

const proofs = (list: readonly Proof[]): string =>
  list
    .map(([file, title]) => `${title} (${code(file.split('/').at(-1)!.replace('.test.ts', ''))})`)
    .join('; ');

const HEAD = ['#', 'hazard', 'cause', 'seen by', 'what is done', 'interlocks', 'layer', 'status'];

export function pageText(): string {
  const groups = [
    ['Tank, drives, and what burns', TANK_AND_DRIVES],
    ['Sensors and outputs', SENSORS_AND_OUTPUTS],
    ['The service', SERVICE],
    ['The computer', COMPUTER],
  ] as const;
  let from = 1;
  const parts: string[] = [INTRO];
  for (const [title, list] of groups) {
    parts.push(section(title, table([HEAD, ...rowsOf(list, from)])));
    from += list.length;
  }
  const proofRows = HAZARDS.map(({ hazard, proof, twin }, at) => [
    String(at + 1),
    hazard,
    proofs(proof),
    proofs(twin),
  ]);
  parts.push(
    section('Proofs', table([['#', 'hazard', 'proven by', 'and NOT where it is not there'], ...proofRows])),
  );
  return `${parts.join('\n\n')}\n`;
}
