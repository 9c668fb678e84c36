// The recoveries as a section of the page of results: shares, the bound that heat sets, and where the rest lies.
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import { type Curves, curvesPlot } from './plot.ts';
import { DRAWN, STARTS } from './recovery-scenario.ts';
import type { Recovered, RecoverySummary } from './recovery-summary.ts';
import { range, table } from './table.ts';

/** Per cent: what the project asks of itself. The published limit is 95 (SAE J2788, 40 CFR 82 Subpart B, App. C). */
const GOALS = {
  warmed: { of: 'what was held', least: '≥ 97', p50: '≥ 99' },
  cold: { of: 'what heat allows', least: '≥ 95', p50: '' },
} as const;

const percent = (value: number): string => value.toFixed(2);

function sharesTable({ profiles }: RecoverySummary): string {
  const rows = PROFILE_NAMES.flatMap((name) =>
    STARTS.flatMap((start) => {
      const { ofHeld, ofBound, atEnd } = profiles[name][start].all;
      const { of, least, p50 } = GOALS[start];
      const cells = (shares: Recovered['ofHeld'], wanted: boolean): string[] => [
        ...[shares.least, shares.p10, shares.p50].map(percent),
        ...(wanted ? [least, p50] : ['', '']),
      ];
      return [
        [`${name}, ${start}: of what was held`, ...cells(ofHeld, of === 'what was held')],
        [`${name}, ${start}: of what heat allows`, ...cells(ofBound, of === 'what heat allows')],
        [`${name}, ${start}: of what was held, at the recovery's end`, ...cells(atEnd, false)],
      ];
    }),
  );
  return table(['% recovered', 'least', 'p10', 'p50', 'least wanted', 'p50 wanted'], rows);
}

function restTable({ profiles }: RecoverySummary): string {
  const rows = STARTS.flatMap((start) => {
    const { all, groups } = profiles.good[start];
    return Object.entries({ ...groups, all }).map(([group, of]) => [
      `${start}: ${group}`,
      String(of.jobs),
      percent(of.ofHeld.least),
      percent(of.ofHeld.p50),
      ...[of.left.oil, of.left.vapour, of.left.liquid].map((grams) => grams.toFixed(1)),
      of.minutesP50.toFixed(0),
      of.minutesP95.toFixed(0),
      String(of.cyclesMost),
    ]);
  });
  const head = [
    'good machine',
    'jobs',
    '%, least',
    '%, p50',
    'g in oil',
    'g of vapour',
    'g of liquid',
    'min, p50',
    'min, p95',
    'runs, most',
  ];
  return table(head, rows);
}

const BOUND = `What heat allows: the cold pool in accumulator or receiver boils only with heat, its own, that of its metal and oil, and what
flows in from the room. With m of the pool left, at the temperature T, and the compressor carrying ṁ,

    dm/dt = −ṁ        (m c + C) dT/dt = UA (Tₐ − T) − ṁ h        ṁ = ρ(p, Tₐ) V̇ (1 + k − k (p_tank / p)^(1/n))

with c = 1.3 kJ/(kg·K) of liquid, C = metal and 1.9 kJ/(kg·K) of the vessel's oil, h the heat of evaporation at T, ρ the
density of the vapour warmed to the room Tₐ, p the saturation pressure at T less 5 % for hoses and valves, V̇ the swept
volume, k = 0.05 and n = 1.1 of its dead space. Summed over the time t that is the heat balance

    m₀ − m = [ UA ∫ (Tₐ − T) dt + (m̄ c + C) (Tₐ − T) ] / h

The bound is what that leaves when the compressor never waits or rests for half an hour, all that lies outside the vessel
has come first at the pressure of the room, and gas of the pool's pressure stays outside the vessel and in the oil there. The
vessel's own oil gives nothing up to liquid that lies beside it: what it held at the beginning comes last, at the pressure of
equilibrium over it (Flory and Huggins, \`sim/fluids/oil.ts\`) and so no faster. It is reckoned apart from the simulator's
network, in \`tests/accuracy/recovery-bound.ts\`.`;

const advice = ({ withLiquid, withLiquidAdvised }: Recovered): string =>
  `${withLiquidAdvised} of ${withLiquid}`;

export function recoverySection(summary: RecoverySummary): string {
  const { profiles, fromSeed, jobs, command } = summary;
  const { good, hobby } = profiles;
  const worst = good.cold.all.worst
    .map(({ seed, ofBound }) => `${percent(ofBound)} % (seed ${seed})`)
    .join(', ');
  return `## Recovery

\`${command}\`: the service \`recover\`, seeds ${fromSeed} to ${fromSeed + jobs - 1}, each vehicle warmed and cold, on a machine of either
profile. Drawn for each seed: R-134a or R-1234yf, orifice tube or expansion valve, ${range(DRAWN.nominalChargeG, 'g')}, all of it in the
vehicle, ${range(DRAWN.oilG, 'g')} of PAG or POE, a volume that fits the charge, ${range(DRAWN.accumulatorHeatCapacityJPerK, 'J/K')} of metal around the pool and
${range(DRAWN.accumulatorUaWPerK, 'W/K')} from the room to it, ${range(DRAWN.tankContentKg, 'kg')} in the tank, ${range(DRAWN.altitudeM, 'm')} above the sea. Warmed ones have idled for
at most 15 min at the ticket's wish, at ${range(DRAWN.ambientC.warmed, '°C')}; cold ones have stood at ${range(DRAWN.ambientC.cold, '°C')}.

What the vehicle has lost in the truth within 30 min from the first moment of the recovery, all waits and rests included,
or until the recovery's end if that came first; the published limit is 95 % (SAE J2788, in 40 CFR 82 Subpart B, App. C).

${sharesTable(summary)}

![Share recovered within half an hour over the share of the jobs](accuracy/recovery-share.svg)

${BOUND}

Where the rest lies after half an hour, in the mean:

${restTable(summary)}

- Warmed, no liquid is left. What stays is vapour at the pressure at which the compressor's dead space lets it draw no
  more, and what oil of that pressure holds: the more of both, the larger the system and its oil beside the charge.
- Cold, liquid lies in the accumulator at some −40 °C. Of the jobs that had any after half an hour, ${advice(good.cold.all)} (good) and
  ${advice(hobby.cold.all)} (hobby) had by their end been told that it is trapped, and to warm it with warm air and the cabin's blower. The
  recovery goes on for up to 45 min; what is then left stops the job before its evacuation.
- Least of what heat allows (good): ${worst}.
- A rest in the half hour costs about a hundredth of what heat allows; it is what tells liquid from oil, so one is left out
  only where by the first run more than 350 g are left, or what is left takes longer than the half hour.
- A compressor that has just been switched on has to rest two minutes first. It does so while the vehicle is looked at, before
  the recovery begins. The worst of 1,080 vehicles on a grid, cold and full (600 to 800 g of R-134a in 1.6 to 2.4 L with 120 g of
  oil, 300 and 400 J/K, 0.8 to 1.2 W/K, 5 and 10 °C, either profile), came to 96.1 % of what heat allows.
`;
}

export const recoveryPlot = ({ profiles }: RecoverySummary): string => {
  const curves: Curves['curves'] = PROFILE_NAMES.flatMap((name) =>
    STARTS.map((start) => [`${name}, ${start}`, profiles[name][start].curve] as const),
  );
  return curvesPlot({
    title: 'Share recovered within half an hour over the share of the jobs, per profile and start',
    label: '% of what was held',
    marks: [80, 85, 90, 95, 100],
    curves,
    legendAtPercent: 60,
  });
};
