// Weighings of the tank, and what a step of the controller answers, for tests that look at single scans.
import type { Weighing } from '../../../controller/estimates/masses.ts';
import { type Commands, OUTPUTS, type Output } from '../../../controller/signals.ts';
import { EQUIPMENT } from './machine.ts';

/** What lies in the tank of the test machine, net. */
export const TANK_KG = 8;

/** By the machine's own scale. */
export const countsOf = (kg: number, { scale } = EQUIPMENT): number =>
  scale.zeroCounts + kg * scale.countsPerKg;

/** Of the tank with so much net, calm and without doubt, on a platform that nobody touches. */
export const weighingOf = (netKg = TANK_KG, over: Partial<Weighing> = {}): Weighing => ({
  counts: countsOf(netKg),
  meanSdKg: 0.0002,
  cellWarmerK: 0,
  driftKgPerS: 0,
  offsetKg: 0,
  bumps: 0,
  undecidedVarianceKg2: 0,
  hoseGaugePa: 0,
  hoseDoubtPa: 0,
  ambientK: 293.15,
  atMs: 0,
  ...over,
});

/** The outputs that are on, in the order of the machine. */
export const onOf = (commands: Commands): readonly Output[] =>
  OUTPUTS.filter((output) => commands[output].on);

/** Codes of what a step tells, in order. */
export const codesOf = ({
  notices = [],
}: {
  readonly notices?: readonly { readonly code: string }[];
}): readonly string[] => notices.map(({ code }) => code);
