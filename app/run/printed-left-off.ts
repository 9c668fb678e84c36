// What a job left off on its way, and what its line lost.
import { type AfterCut, NEXT_TEXTS } from '../../controller/after-cut.ts';
import type { Units } from '../units.ts';
import type { JobFacts } from './document.ts';
import { entry } from './printed-entry.ts';

export function leftOffLines(title: string, left: AfterCut | undefined, units: Units): string[] {
  if (left === undefined) return [];
  const { next, tankGainKg, uncertaintyKg = 0, vehicle, engineMayRun } = left;
  const tank =
    tankGainKg === undefined
      ? 'the tank could not be weighed against an earlier time'
      : `the tank has ${tankGainKg < 0 ? 'given' : 'gained'} ${units.charge(Math.abs(tankGainKg))} ± ${units.charge(uncertaintyKg)}`;
  const held =
    vehicle === undefined
      ? ''
      : `; in the vehicle are between ${units.charge(vehicle.leastKg)} and ${units.charge(vehicle.mostKg)}`;
  return [
    ...entry(title, tank + held),
    ...entry('', `→ ${NEXT_TEXTS[next]}`),
    ...(engineMayRun
      ? entry('', '→ The engine may be running: stop it, and see that it stands, first.')
      : []),
  ];
}

/** Nothing where the line was opened once and lost nothing. */
export function lineLines({ line }: JobFacts): string[] {
  if (line === undefined) return [];
  const { board, ...host } = line.losses;
  const lost = (side: object): string[] =>
    Object.entries(side).flatMap(([kind, count]) => (count === 0 ? [] : [`${kind} ${count}`]));
  const parts = [
    ...(line.opened > 1 ? [`opened ${line.opened} times`] : []),
    ...(lost(host).length > 0 ? [`lost on the way here: ${lost(host).join(', ')}`] : []),
    ...(lost(board).length > 0 ? [`lost at the board: ${lost(board).join(', ')}`] : []),
  ];
  return parts.length === 0 ? [] : entry('Line', parts.join('; '));
}
