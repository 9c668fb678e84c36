// A forbidden combination against the guard itself, point by point, over the full product of what can matter to it.
import type { Interlock } from '../../../../controller/interlocks/interlock.ts';
import { permit } from '../../../../controller/interlocks/permit.ts';
import { INTERLOCKS } from '../../../../controller/interlocks/table.ts';
import { type Commands, commandsOf, OFF, ON, OUTPUTS } from '../../../../controller/signals.ts';
import type { Forbidden } from './never.ts';
import { calmPoint, type Point, points, type Variable, variablesOf } from './space.ts';

/** Rows that act on an output of the combination and look at something that it depends on. */
export function touching(forbidden: Forbidden): readonly Interlock[] {
  const own = new Set(variablesOf(forbidden));
  return INTERLOCKS.filter(
    ({ acts, reads }) =>
      acts.some((output) => forbidden.outputs.includes(output)) &&
      variablesOf(reads).some((variable) => own.has(variable)),
  );
}

const enumerated = (forbidden: Forbidden): readonly Variable[] => [
  ...new Set([...variablesOf(forbidden), ...touching(forbidden).flatMap(({ reads }) => variablesOf(reads))]),
];

const PULSE = { on: true, offAfterMs: 100 };

const commandsAt = ({ on }: Point): Commands =>
  commandsOf((output) => (!on[output] ? OFF : output === 'chargeValve' && on.chargePulse ? PULSE : ON));

const isPulse = ({ chargeValve: { on, offAfterMs } }: Commands): boolean =>
  on && offAfterMs !== undefined && offAfterMs <= 100;

/** Writes the permitted word into the point. */
function take(point: Point, permitted: Commands): void {
  for (const output of OUTPUTS) point.on[output] = permitted[output].on;
  point.on.chargePulse = isPulse(permitted);
}

export type Enumerated = {
  /** At so many points each combination of the group was wanted. */
  readonly wished: ReadonlyMap<Forbidden, number>;
  /** Points at which one was permitted; the first few. */
  readonly got: readonly { readonly name: string; readonly at: Point }[];
};

/** Combinations that need the same points, or fewer of them, are looked at together. */
export type Group = { readonly variables: readonly Variable[]; readonly members: readonly Forbidden[] };

export function grouped(list: readonly Forbidden[]): readonly Group[] {
  const groups: { variables: readonly Variable[]; members: Forbidden[] }[] = [];
  const sized = list.map((one) => ({ one, variables: enumerated(one) }));
  for (const { one, variables } of sized.toSorted((a, b) => b.variables.length - a.variables.length)) {
    const home = groups.find((group) => variables.every((variable) => group.variables.includes(variable)));
    if (home === undefined) groups.push({ variables, members: [one] });
    else home.members.push(one);
  }
  return groups;
}

/** A charge valve that is shut has no countdown: those points are none. */
const isReal = ({ on }: Point): boolean => on.chargeValve || !on.chargePulse;

const isOutput = ({ part }: Variable): boolean => part === 'on';

/** Every real point, with the commands that wish for it; the same objects as long as the outputs are the same. */
function* wishes(variables: readonly Variable[]): Generator<{ point: Point; wanted: Commands }> {
  const outputs = variables.filter(isOutput);
  const others = variables.filter((variable) => !isOutput(variable));
  for (const point of points(outputs, calmPoint())) {
    if (!isReal(point)) continue;
    const wish = { point, wanted: commandsAt(point) };
    for (const _ of points(others, point)) yield wish;
  }
}

export function countOf({ variables }: Group): number {
  let count = 0;
  for (const _ of wishes(variables)) count += 1;
  return count;
}

/** Whatever is neither read by a combination nor by a row touching it is as it permits most. */
export function enumerate({ variables, members }: Group): Enumerated {
  const got: Enumerated['got'][number][] = [];
  const wished = members.map(() => 0);
  const left = calmPoint().on;
  for (const { point, wanted } of wishes(variables)) {
    const { permitted } = permit(wanted, point.bands, point.memory, point.fitting);
    const after = { ...point, on: left };
    take(after, permitted);
    for (const [at, member] of members.entries()) {
      if (member.is(point)) wished[at] = wished[at]! + 1;
      if (member.is(after) && got.length < 3) got.push({ name: member.name, at: structuredClone(after) });
    }
  }
  return { wished: new Map(members.map((member, at) => [member, wished[at]!])), got };
}
