// What the record says of masses: recovered, filled, charged, each with the sum that leads there from the ledger.
import type { LedgerEntry, Movement } from '../../controller/ledger.ts';
import type { JobResult } from '../../controller/result.ts';
import type { Units } from '../units.ts';
import { percentOf } from './loss.ts';
import { entry, LABEL, within } from './printed-entry.ts';

type Term = readonly [massKg: number, text: string];

/** A sum that the reader can do: what was weighed, what is reckoned beside it, and what both make. */
function balance(terms: readonly Term[], totalKg: number, units: Units): string[] {
  const [first, ...others] = terms.map(([massKg, text], index) => {
    const sign = massKg < 0 ? '− ' : index === 0 ? '' : '+ ';
    return `${sign}${units.charge(Math.abs(massKg))} ${text}`;
  });
  return entry('', [`= ${first}`, ...others].join(' ').replace(/^= /, `${units.charge(totalKg)} = `));
}

const booked = (ledger: readonly LedgerEntry[], movement: Movement): number =>
  ledger.reduce((sum, line) => sum + (line.movement === movement ? line.massKg : 0), 0);

/** What neither scale nor cycle shows is in the machine, by estimate; without it nothing adds up. */
function recoveredBalance(recoveredKg: number, ledger: readonly LedgerEntry[], units: Units): string[] {
  const weighedKg = booked(ledger, 'vehicle-to-tank');
  const terms: Term[] = [
    [weighedKg, 'vehicle to tank'],
    [recoveredKg - weighedKg, 'kept by the machine (estimate)'],
  ];
  return balance(terms, recoveredKg, units);
}

function netBalance(netKg: number, ledger: readonly LedgerEntry[], units: Units): string[] {
  const givenKg = booked(ledger, 'tank-to-vehicle');
  const backKg = booked(ledger, 'hoses-to-tank');
  const terms: Term[] = [
    [givenKg, 'tank to vehicle'],
    [-backKg, 'hoses to tank'],
    [netKg - givenKg + backKg, 'condenser (estimate)'],
  ];
  return balance(terms, netKg, units);
}

export function recoveryLines({ masses, recovery, ledger }: JobResult, units: Units): string[] {
  if (recovery === undefined || masses.recoveredKg === undefined) return [];
  const { cycles } = recovery;
  const sure = within(masses.recoveredUncertaintyKg, units);
  const cycleTexts = cycles.map(({ recoveredKg, restRisePa }, index) => {
    const rise =
      restRisePa === undefined ? '' : `, then rose by ${units.pressureDifference(restRisePa)} at rest`;
    return `  cycle ${index + 1}: ${units.charge(recoveredKg)}${rise}`;
  });
  return [
    ...entry(
      'Recovered',
      `${units.charge(masses.recoveredKg)}${sure} in ${cycles.length} ${cycles.length === 1 ? 'cycle' : 'cycles'}`,
    ),
    ...cycleTexts.map((text) => `${''.padEnd(LABEL)}${text}`),
    ...recoveredBalance(masses.recoveredKg, ledger, units),
  ];
}

export function fillLines({ fill }: JobResult, units: Units): string[] {
  if (fill === undefined) return [];
  const { kg, uncertaintyKg, leftInCylinderKg, leftUncertaintyKg } = fill;
  const left =
    leftInCylinderKg === undefined
      ? []
      : entry(
          'In cylinder',
          `about ${units.content(leftInCylinderKg)}${within(leftUncertaintyKg, units)} left, by what it held before`,
        );
  return [
    ...entry('Filled', `${units.content(kg)}${within(uncertaintyKg, units)}, by the weight of the tank`),
    ...left,
  ];
}

export function chargeLines({ masses, ledger }: JobResult, nominalKg: number, units: Units): string[] {
  const { chargedKg, netChargeKg, uncertaintyKg, lostTrack } = masses;
  const lines: string[] = [];
  if (chargedKg !== undefined) {
    lines.push(...entry('Charged', `${units.charge(chargedKg)} left the tank`));
  }
  if (netChargeKg !== undefined) {
    const sure = within(uncertaintyKg, units);
    const percent = (massKg: number): string => percentOf(massKg, nominalKg).toFixed(1);
    const share =
      uncertaintyKg === undefined
        ? `${percent(netChargeKg)} %`
        : `${percent(netChargeKg)} ± ${percent(uncertaintyKg)} %`;
    lines.push(
      ...entry(
        'In vehicle',
        `${units.charge(netChargeKg)}${sure}, ${share} of nominal ${units.charge(nominalKg)}`,
      ),
      ...netBalance(netChargeKg, ledger, units),
    );
  }
  if (lostTrack && netChargeKg === undefined && chargedKg !== undefined) {
    lines.push(...entry('In vehicle', 'not known: refrigerant went where no weighing counts it'));
  }
  return lines;
}
