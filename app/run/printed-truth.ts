// What only the simulator knows, for the page of the record: where every gram is, and which faults were switched.
import { FAULTS } from '../../sim/faults.ts';
import type { Truth } from '../../sim/spec.ts';
import { clock, type Units } from '../units.ts';
import type { FaultHistory } from './faults.ts';
import { entry } from './printed-entry.ts';

export function truthLines(truth: Truth, units: Units): string[] {
  const places: readonly (readonly [string, number])[] = [
    ...(truth.cylinderRefrigerantKg === 0
      ? [['vehicle', truth.vehicleRefrigerantKg] as const]
      : [['cylinder', truth.cylinderRefrigerantKg] as const]),
    ['hoses', truth.hoseRefrigerantKg],
    ['machine', truth.machineRefrigerantKg],
    ['pump exhaust', truth.pumpExhaustKg],
    ['vented', truth.ventedKg],
    ['spilled', truth.spilledKg],
    ...(truth.leakedKg === 0 ? [] : [['leaked', truth.leakedKg] as const]),
    ...(truth.purgedKg === 0 ? [] : [['purged', truth.purgedKg] as const]),
  ];
  const list = places.map(([place, massKg]) => `${place} ${units.charge(massKg)}`).join(', ');
  const tank = `tank ${units.content(truth.tankRefrigerantKg)}`;
  const air = truth.tankAirKg === 0 ? '' : ` and ${units.charge(truth.tankAirKg)} of air`;
  const total = units.content(truth.initialKg);
  return entry(
    'Truth',
    `${list}, ${tank}${air}; together ${total}, as at the start (the simulator's own, not measured)`,
  );
}

function faultText({ planned, onAtMs, offAtMs }: FaultHistory): string {
  const { fault, output, size } = planned.fault;
  const { size: kind } = FAULTS[fault];
  const details = [
    ...(output === undefined ? [] : [output]),
    ...(kind === undefined ? [] : [`${size ?? kind.default} ${kind.unit}`]),
  ];
  const name = details.length === 0 ? fault : `${fault} (${details.join(', ')})`;
  if (onAtMs !== undefined)
    return `${name} on at ${clock(onAtMs)}${offAtMs === undefined ? '' : `, off at ${clock(offAtMs)}`}`;
  const { stage, afterMs } = planned.from;
  const into = afterMs === 0 ? '' : `${clock(afterMs)} into `;
  const moment = stage === undefined ? clock(afterMs) : `${into}stage ${stage}`;
  return `${name} was never switched on: the job ended before ${moment}`;
}

export const faultLines = (histories: readonly FaultHistory[]): string[] =>
  histories.flatMap((history, index) => entry(index === 0 ? 'Faults' : '', faultText(history)));
