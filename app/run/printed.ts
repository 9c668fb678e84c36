// The job record as one page of text for people.
import type { Equipment } from '../../controller/equipment.ts';
import type { LedgerEntry, Movement } from '../../controller/ledger.ts';
import type { JobResult } from '../../controller/result.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import type { WeatherSpec } from '../../sim/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toldIn } from '../told.ts';
import { clock, type Units } from '../units.ts';
import { type JobFacts, needsCleaning, type RunFacts } from './document.ts';
import { powerWasLost } from './faults.ts';
import { LOSS_REFUSALS, type LossEstimate, lossOfJob } from './loss.ts';
import { CAUTIONS, CAUTIONS_SIMULATED, flammabilityLines } from './printed-cautions.ts';
import { entry, LABEL, WIDTH } from './printed-entry.ts';
import { leakCheckLines } from './printed-leak-check.ts';
import { leftOffLines, lineLines } from './printed-left-off.ts';
import { chargeLines, fillLines, recoveryLines } from './printed-masses.ts';
import { repairLines, ruleLines } from './printed-repair.ts';
import { faultLines, truthLines } from './printed-truth.ts';
import { toldOnce, worthSaying } from './told-once.ts';

/** What a job record is headed with. On a rig nobody has told the machine the weather. */
export type Heading = Pick<Scenario, 'name' | 'ticket' | 'cylinder'> & {
  readonly weather?: WeatherSpec;
  /** What the job was done on. */
  readonly machine: string;
};

type Bounded = Exclude<LossEstimate, { readonly refused: unknown }>;

const RULE = '─'.repeat(WIDTH);

function jobLines({ ticket, weather }: Heading, units: Units): string[] {
  const safetyClass = findFluid(ticket.refrigerant)?.safetyClass;
  const vehicle = [
    ticket.opened ? 'system opened' : 'system not opened',
    ...(ticket.repair ? ['to be repaired'] : []),
    ...(ticket.repaired ? ["repaired before, by the ticket's word"] : []),
    ticket.ports === 2 ? 'two ports' : 'one port',
    `${ticket.electricCompressor ? 'electric' : 'belt-driven'} compressor`,
    `${ticket.oil.kind} oil`,
    ...(ticket.dye.approved ? ["dye approved by the vehicle's maker, by the ticket's word"] : []),
    ticket.engine === 'can-run' ? 'engine can run' : 'engine not used',
    ...(ticket.vehicleAgeYears === undefined ? [] : [`${ticket.vehicleAgeYears} years old`]),
  ];
  return [
    ...entry(
      'Job',
      `service '${ticket.service}', ${ticket.refrigerant} (${safetyClass}), ${askedFor(ticket, units)}`,
    ),
    ...(ticket.service === 'fill-tank' ? [] : entry('Vehicle', vehicle.join(', '))),
    ...(weather === undefined ? [] : weatherLines(weather, units)),
  ];
}

const weatherLines = ({ ambientK, barometerPa, relativeHumidity }: WeatherSpec, units: Units): string[] =>
  entry(
    'Weather',
    `${units.temperature(ambientK)}, barometer ${(barometerPa / 100).toFixed(0)} hPa, ` +
      `relative humidity ${(relativeHumidity * 100).toFixed(0)} %`,
  );

function askedFor(ticket: Ticket, units: Units): string {
  const { service, nominalChargeKg, fillKg, cylinderKg, cylinderName } = ticket;
  if (service !== 'fill-tank') return `nominal charge ${units.charge(nominalChargeKg)}`;
  const filled = fillKg === undefined ? 'the tank to be filled up' : `${units.content(fillKg)} to be filled`;
  const from = cylinderName === undefined ? 'a cylinder' : `cylinder '${cylinderName}'`;
  const held = cylinderKg === undefined ? '' : ` that holds ${units.content(cylinderKg)}`;
  return `${filled} from ${from}${held}`;
}

const purgeLines = ({ masses }: JobResult, units: Units): string[] =>
  masses.purgedKg === undefined
    ? []
    : entry(
        'Air purge',
        `${units.charge(masses.purgedKg)} let off, refrigerant and air together; whether that was de minimis, local rules decide`,
      );

function identifierLines(result: JobResult): string[] {
  const { identification } = result;
  if (identification === undefined) return [];
  if (identification.verdict === 'overridden')
    return entry('Identifier', `no reading: ${identification.reason}`);
  const { refrigerant, purityPercent, airPercent, hydrocarbonPercent } = identification;
  const shown = [
    `${refrigerant} ${purityPercent} %`,
    ...(airPercent === undefined ? [] : [`air ${airPercent} %`]),
    ...(hydrocarbonPercent === undefined ? [] : [`hydrocarbons ${hydrocarbonPercent} %`]),
  ];
  const cleaning = needsCleaning(result) ? '; the machine must be cleaned before its next job' : '';
  return entry('Identifier', shown.join(', ') + cleaning);
}

function vacuumLines({ evacuation, hold }: JobResult, units: Units): string[] {
  const lines: string[] = [];
  if (evacuation !== undefined)
    lines.push(
      ...entry(
        'Vacuum',
        `${evacuation.minutes.toFixed(0)} min, lowest ${units.vacuum(evacuation.lowestPa)} absolute`,
      ),
    );
  if (hold === undefined) return lines;
  const { verdict, cause, slopePaPerS, plateauPa, detectionLimitKgPerYear } = hold;
  const figures = [
    ...(slopePaPerS === undefined ? [] : [`slope ${slopePaPerS.toFixed(3)} Pa/s`]),
    ...(plateauPa === undefined ? [] : [`plateau ${units.vacuum(plateauPa)}`]),
  ];
  const told = cause === undefined ? verdict : `${verdict} (${cause})`;
  lines.push(...entry('Hold', [told, ...figures].join(', ')));
  const limit =
    detectionLimitKgPerYear === undefined
      ? ''
      : ` This one could have seen a leak of ${detectionLimitKgPerYear.toPrecision(2)} kg a year or more.`;
  lines.push(...entry('', `A vacuum hold finds gross leaks only.${limit}`));
  return lines;
}

const inMillilitres = (volumeM3: number): string => `${(volumeM3 * 1e6).toFixed(0)} mL`;

const addedText = ({ injectedM3 = 0, injectedUncertaintyM3 = 0 }: NonNullable<JobResult['dye']>): string =>
  `${inMillilitres(injectedM3)} added, ± ${inMillilitres(injectedUncertaintyM3)}`;

function bottleLines({ oil, dye }: JobResult): string[] {
  const parts = [
    ...(oil?.drainedM3 === undefined ? [] : [`${inMillilitres(oil.drainedM3)} drained`]),
    ...(oil?.injectedM3 === undefined ? [] : [addedText(oil)]),
  ];
  return [
    ...(parts.length === 0 ? [] : entry('Oil', parts.join(', '))),
    ...(dye === undefined ? [] : entry('Dye', addedText(dye))),
  ];
}

/** The verdict in words: 'weak-compressor' → 'weak compressor'. */
function performanceLines({ performance }: JobResult, units: Units): string[] {
  if (performance === undefined) return [];
  const { verdict, highPa, lowPa, ventK, ambientK } = performance;
  const vent = ventK === undefined ? 'no thermometer in the vents' : `vents ${units.temperature(ventK)}`;
  return entry(
    'Performance',
    `${verdict.replaceAll('-', ' ')}: high side ${units.pressure(highPa)}, low side ${units.pressure(lowPa)}, ${vent}, ` +
      `at ${units.temperature(ambientK)}; the humidity is not known to the machine`,
  );
}

const bounds = (
  of: 'linearPercentPerYear' | 'compoundPercentPerYear',
  { likely, least, most }: Bounded,
): string =>
  `${likely[of].toFixed(1)} % a year (${Math.max(least[of], 0).toFixed(1)} to ${most[of].toFixed(1)})`;

function lossLines({ ticket }: Pick<Heading, 'ticket'>, result: JobResult, units: Units): string[] {
  const estimate = lossOfJob(ticket, result);
  if (estimate === undefined) return [];
  if ('refused' in estimate) return entry('Loss', LOSS_REFUSALS[estimate.refused]);
  return entry(
    'Loss',
    `linear ${bounds('linearPercentPerYear', estimate)}, compound ${bounds('compoundPercentPerYear', estimate)}, k = 2, ` +
      `from ${units.charge(ticket.nominalChargeKg)} over ${ticket.vehicleAgeYears} years, if it was never topped up`,
  );
}

const MOVEMENT_TEXTS: { readonly [M in Movement]: string } = {
  'vehicle-to-tank': 'vehicle to tank',
  'tank-to-separator': 'tank to separator',
  'tank-to-vehicle': 'tank to vehicle',
  'tank-to-air': 'tank to the air',
  'hoses-to-tank': 'hoses to tank',
  'cylinder-to-tank': 'cylinder to tank',
};

function ledgerLines(ledger: readonly LedgerEntry[], { scale }: Equipment, units: Units): string[] {
  const weighed = (counts: number) => units.content((counts - scale.zeroCounts) / scale.countsPerKg);
  return ledger.map(({ movement, massKg, sdKg, countsBefore, countsAfter, atMs }, index) =>
    [
      (index === 0 ? 'Ledger' : '').padEnd(LABEL),
      clock(atMs).padStart(8),
      `  ${MOVEMENT_TEXTS[movement].padEnd(18)}`,
      units.charge(massKg).padStart(9),
      ` ± ${units.charge(2 * sdKg)}`.padEnd(12),
      ` tank ${weighed(countsBefore)} → ${weighed(countsAfter)}`,
    ].join(''),
  );
}

/** Each code once, with how often it came. */
const noticeLines = ({ notices }: JobResult, units: Units): string[] =>
  toldOnce(notices).flatMap(({ first, times, last }) => {
    const { severity, text, atMs } = first;
    const again = times === 1 ? '' : ` (${times} times, last at ${clock(last.atMs)})`;
    const remedy = worthSaying(first);
    return [
      ...entry(`${clock(atMs)} ${severity === 'information' ? '' : severity}`, toldIn(units, text) + again),
      ...(remedy === undefined ? [] : entry('', `→ ${toldIn(units, remedy)}`)),
    ];
  });

function resultLines({ ticket }: Heading, result: JobResult, equipment: Equipment, units: Units): string[] {
  const notices = noticeLines(result, units);
  return [
    ...identifierLines(result),
    ...fillLines(result, units),
    ...purgeLines(result, units),
    ...recoveryLines(result, units),
    ...repairLines(result, units),
    ...vacuumLines(result, units),
    ...bottleLines(result),
    ...leakCheckLines(result, units),
    ...chargeLines(result, ticket.nominalChargeKg, units),
    ...performanceLines(result, units),
    ...lossLines({ ticket }, result, units),
    ...ledgerLines(result.ledger, equipment, units),
    ...(notices.length === 0 ? [] : ['', 'Notices', ...notices]),
  ];
}

/** The lasting part of a record: what any rig can tell. */
function jobRecordLines(
  heading: Heading,
  facts: JobFacts,
  lasted: string,
  equipment: Equipment,
  units: Units,
): string[] {
  const { result, blockers, outcome } = facts;
  return [
    RULE,
    `JOB RECORD  ${heading.name}`,
    RULE,
    ...entry('Outcome', `${outcome} after ${lasted}`),
    ...entry('Machine', heading.machine),
    ...jobLines(heading, units),
    ...blockers.flatMap(({ text, remedy }) => [
      ...entry('Refused', toldIn(units, text)),
      ...entry('', `→ ${toldIn(units, remedy)}`),
    ]),
    ...(result === undefined ? [] : resultLines(heading, result, equipment, units)),
    ...leftOffLines('Power back', facts.afterCut, units),
    ...leftOffLines('Left off', facts.afterStop, units),
    ...lineLines(facts),
    '',
  ];
}

/** The whole page of a job on a rig, with its last line end. */
export function printedJob(
  heading: Heading,
  facts: JobFacts,
  lastedMs: number,
  equipment: Equipment,
  units: Units,
): string {
  return [
    ...jobRecordLines(heading, facts, clock(lastedMs), equipment, units),
    ...ruleLines(heading),
    RULE,
    ...CAUTIONS,
    ...flammabilityLines(heading, units),
    '',
  ].join('\n');
}

/** The whole page of a job on the simulated bench, with its last line end. */
export function printedRecord(
  scenario: Scenario,
  facts: RunFacts,
  equipment: Equipment,
  units: Units,
): string {
  const ending = powerWasLost(facts.faults) ? ': the power failed, and the controller with it' : '';
  const machine = `simulated bench, equipment '${equipment.name}', seed ${scenario.seed}`;
  const lasted = `${clock(facts.simulatedMs)} of simulated time${ending}`;
  return [
    ...jobRecordLines({ ...scenario, machine }, facts, lasted, equipment, units),
    ...faultLines(facts.faults),
    ...truthLines(facts.truth, units),
    ...ruleLines(scenario),
    RULE,
    ...CAUTIONS_SIMULATED,
    ...flammabilityLines(scenario, units),
    '',
  ].join('\n');
}
