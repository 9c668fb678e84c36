// The grams as a section of the page of results: tables, plot, and where the remaining error comes from.

import { POPULATION } from '../../app/bench/population.ts';
import { PROFILE_NAMES, PROFILES } from '../../sim/profiles.ts';
import type { GramsSummary, ProfileSummary, Spread } from './grams-summary.ts';
import { type Curves, curvesPlot } from './plot.ts';
import { range, table, whole } from './table.ts';

/** What the project asks of itself. Published limits: ±15 g for a charge, ±30 g for a recovery (SAE J2788). */
const GOALS = {
  good: { chargeP50: 2, chargeP99: 8, recoveredP99: 10 },
  hobby: { chargeP50: 6, chargeP99: 20, recoveredP99: undefined },
  /** Per cent of the errors within what is stated: k = 2 means 95. */
  covered: '95 ± 3 %',
} as const;

const g = (value: number): string => value.toFixed(1);
const spreadCells = ({ p50, p90, p99, most }: Spread): string[] => [p50, p90, p99, most].map(g);

const goal = (limit: number | undefined): string => (limit === undefined ? '' : `≤ ${limit}`);

function errorsTable({ profiles }: GramsSummary): string {
  const rows = PROFILE_NAMES.flatMap((name) => {
    const { chargeError, netError, netUncertainty, recoveredError, recoveredUncertainty } = profiles[name];
    const { chargeP50, chargeP99, recoveredP99 } = GOALS[name];
    return [
      [`${name}: charge, truth less nominal`, ...spreadCells(chargeError), goal(chargeP50), goal(chargeP99)],
      [`${name}: net charge, stated less truth`, ...spreadCells(netError), '', ''],
      [`${name}: net charge, stated uncertainty`, ...spreadCells(netUncertainty), '', ''],
      [`${name}: recovered, indicated less truth`, ...spreadCells(recoveredError), '', goal(recoveredP99)],
      [`${name}: recovered, stated uncertainty`, ...spreadCells(recoveredUncertainty), '', ''],
    ];
  });
  return table(['g', 'p50', 'p90', 'p99', 'most', 'p50 wanted', 'p99 wanted'], rows);
}

function coverageTable({ profiles }: GramsSummary): string {
  const rows = PROFILE_NAMES.map((name) => {
    const { netCovered, chargeCovered, recoveredCovered } = profiles[name];
    const covered = [netCovered, chargeCovered, recoveredCovered].map((value) => `${value.toFixed(1)} %`);
    return [name, ...covered, GOALS.covered];
  });
  const head = [
    'errors within the stated k = 2',
    'net charge',
    'charge against nominal',
    'recovered',
    'wanted',
  ];
  return table(head, rows);
}

const endings = ({ jobs, charged, otherwise }: ProfileSummary): string =>
  `${charged} of ${jobs} jobs charged their vehicle${Object.keys(otherwise).length === 0 ? '' : '; the others ended with '}${Object.entries(
    otherwise,
  )
    .map(([how, often]) => `\`${how}\` (${often})`)
    .join(', ')}`;

function causesTable({ profiles }: GramsSummary): string {
  const rows = PROFILE_NAMES.flatMap((name) =>
    Object.entries(profiles[name].causes).map(([cause, { mean, rms, p99 }]) => [
      `${name}: ${CAUSES[cause] ?? cause}`,
      ...[mean, rms, p99].map((value) => value.toFixed(2)),
    ]),
  );
  return table(['g, part of the error of the stated net charge', 'mean', 'rms', 'p99 of size'], rows);
}

const CAUSES: { readonly [cause: string]: string } = {
  scale: 'two weighings of the tank',
  machine: 'what hoses, manifold, separator and coil hold',
  residue: 'left in the vehicle before the charge',
};

const drawn = (): string =>
  `Drawn for each seed: R-134a or R-1234yf, orifice tube or expansion valve, nominal charge ${range(POPULATION.nominalChargeG, 'g')}, ` +
  `of which ${range(POPULATION.chargePercent, '%')} is in the vehicle, ${range(POPULATION.oilG, 'g')} of PAG or POE, ` +
  `a volume that fits the charge, ${range(POPULATION.ambientC, '°C')} in the room, vehicle and tank within ${POPULATION.vehicleSdK} and ${POPULATION.tankSdK} K (one standard deviation) of it, ` +
  `${range(POPULATION.tankContentKg, 'kg')} in the tank, ${range(POPULATION.altitudeM, 'm')} above the sea, hoses of ${range(POPULATION.hoseLengthM, 'm')} and a manifold of ${range(POPULATION.manifoldMl, 'mL')} ` +
  `known to ${whole(PROFILES.good.hoseVolumeSd)} (good) or ${whole(PROFILES.hobby.hoseVolumeSd)} (hobby), an engine that may run in half of the jobs, a system that has been open in ${whole(POPULATION.openedShare)}.`;

export function gramsSection(summary: GramsSummary): string {
  const { profiles, fromSeed, jobs, command } = summary;
  const last = fromSeed + jobs - 1;
  return `## Grams

\`${command}\`: the service \`whole\`, seeds ${fromSeed} to ${last}, each on a machine of either profile.
${drawn()}

Sizes of errors in grams. Charge and net charge over the jobs that charged, recovery over all that came to its end.

${errorsTable(summary)}

${coverageTable(summary)}

- good: ${endings(profiles.good)}.
- hobby: ${endings(profiles.hobby)}.

![Charge error over the share of the jobs](accuracy/charge-error.svg)

Where the error of the stated net charge comes from:

${causesTable(summary)}

${HOW_SURE}

The five worst charges, ${PROFILE_NAMES.map((name) => `${name}: ${worstOf(profiles[name])}`).join('; ')}.
`;
}

const HOW_SURE = `The stated uncertainty of a net charge is twice the root of the sum of squares of

- each of the two weighings: noise over the root of its samples, not below 0.2 g;
- span error and creep, each its figure in the equipment times the mass moved;
- zero drift: its figure per kelvin times the change of the room and of the cell, which compressor and pump warm by up to 4 K while they run, and 0.1 K that nothing shows;
- force of the hoses: what is left of its figure after it was learnt, times the difference of the hose pressures between the two weighings, which is next to nothing, because both find the hoses drawn down;
- 2 g for every bump that was accepted in between;
- half of what came at once while somebody touched the scale, a cold condenser may have given up by displacement and as well may lie on the platform; 2 g where it was let go of and the condenser is empty now;
- what the scale moves by of itself, beyond the creep of its class: 0.65 times what it fell or rose by in the first minute after the charge, and its noise, for ten minutes on, where that is more than one and a half times its noise. The cabinet's warmth is in it as well;
- what the condenser keeps: 1.5 % of what the compressor drew in a trickle, by its displacement, more the less its dead space lets through (0.3 K of doubt in the coil's temperature) and while the manifold stands above the span of its sensor, 0.3 g for reading the scale meanwhile, and what is left of the hoses' force times the change of their pressure within that run. A coil that was pushed empty is taken to hold nothing within 0.5 g;
- 0.2 g for hoses, manifold and separator, 0.3 g for the residue in the oil.

The recovered mass has the same terms between its first and last weighing, and 0.5 g for the separator's oil; what the scale shows
too much of a run the condenser is held to keep too little of, so that 0.3 times the product of the two deviations is taken off; where a draw was
stopped under pressure, what hoses, manifold and separator hold then, by volume and vapour density, is counted with 15 % of doubt
(between nothing and all of it where a valve or a running engine leaves that open). Side sensors that disagree while their hoses
are joined cost the force of half their difference. A drift that is found later widens what was stated before. None of these figures is fitted to a seed; those of the condenser were set by what 600 jobs of the bench show. The equipment's figures are those of the profile; 3 %, the grams, the 4 K and the 0.1 K are estimates, of the same size for both profiles, which the coverage above holds to account.`;

const worstOf = ({ worst }: ProfileSummary): string =>
  worst.map(({ seed, chargeError }) => `${g(chargeError)} g (seed ${seed})`).join(', ');

/** Sizes of the charge error over the share of the jobs that stay below, for each profile. */
export const gramsPlot = (curves: Curves['curves']): string =>
  curvesPlot({
    title: 'Charge error over the share of the jobs, per profile',
    label: 'charge error, g',
    marks: [0, 5, 10, 15, 20],
    curves,
    legendAtPercent: 4,
  });
