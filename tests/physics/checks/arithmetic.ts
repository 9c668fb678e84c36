// The arithmetic of the record: charge as a share of nominal, yearly loss.
import { loss, percentOf } from '../../../app/run/loss.ts';
import type { Check, Topic } from '../check.ts';

/** Filled with 650 g, 480 g recovered after four years. */
const example = () => loss(0.65, 0.48, 4);
const SOURCE = 'arithmetic';
const exact = { relative: 1e-9 };

const losses: readonly Check[] = [
  {
    id: 'loss-linear',
    title: '650 g filled, 480 g recovered after 4 years: loss a year, linear',
    source: SOURCE,
    unit: 'g/a',
    expected: 42.5,
    tolerance: exact,
    obtain: () => (example().linearPercentPerYear / 100) * 650,
  },
  {
    id: 'loss-linear-percent',
    title: 'as a share of the nominal charge',
    source: SOURCE,
    unit: '%/a',
    expected: (100 * 42.5) / 650,
    tolerance: exact,
    obtain: () => example().linearPercentPerYear,
  },
  {
    id: 'loss-compound-percent',
    title: 'compound: 1 − (480/650)^(1/4)',
    source: SOURCE,
    unit: '%/a',
    expected: 100 * (1 - Math.exp(Math.log(480 / 650) / 4)),
    tolerance: exact,
    obtain: () => example().compoundPercentPerYear,
  },
  {
    id: 'loss-linear-half-life',
    title: 'half the charge is gone at that linear rate after',
    source: SOURCE,
    unit: 'a',
    expected: 325 / 42.5,
    tolerance: exact,
    obtain: () => 50 / example().linearPercentPerYear,
  },
  {
    id: 'loss-compound-half-life',
    title: 'and at the compound rate after 4·ln 2/ln(650/480)',
    source: SOURCE,
    unit: 'a',
    expected: (4 * Math.LN2) / Math.log(650 / 480),
    tolerance: exact,
    obtain: () => Math.log(0.5) / Math.log(1 - example().compoundPercentPerYear / 100),
  },
];

const shares: readonly Check[] = (
  [
    ['charge-share', '635 g in a vehicle of 650 g', 0.635, 0.65, (100 * 635) / 650],
    ['charge-uncertainty-650-g', '± 15 g of 650 g', 0.015, 0.65, (100 * 15) / 650],
    ['charge-uncertainty-350-g', '± 15 g of 350 g', 0.015, 0.35, (100 * 15) / 350],
  ] as const
).map(
  ([id, title, massKg, nominalKg, expected]): Check => ({
    id,
    title: `${title}, as a share`,
    source: SOURCE,
    unit: '%',
    expected,
    tolerance: exact,
    obtain: () => percentOf(massKg, nominalKg),
  }),
);

export const arithmetic: Topic = { heading: 'Arithmetic of the record', checks: [...shares, ...losses] };
