// Charge and loss as shares of the nominal charge.
import type { JobResult } from '../../controller/result.ts';
import type { Ticket } from '../../controller/ticket.ts';

export type Loss = { readonly linearPercentPerYear: number; readonly compoundPercentPerYear: number };

/**
 * Yearly loss as a share of the nominal charge (linear), and as the constant yearly rate that leads from nominal to
 * what is left (compound). Assumes that the vehicle held its nominal charge when new and was never topped up. Negative
 * when more than nominal is left.
 */
export function loss(nominalKg: number, leftKg: number, ageYears: number): Loss {
  const left = leftKg / nominalKg;
  return {
    linearPercentPerYear: ((1 - left) / ageYears) * 100,
    compoundPercentPerYear: (1 - left ** (1 / ageYears)) * 100,
  };
}

/** Why no yearly loss is named: it would be a guess. */
export const LOSS_REFUSALS = {
  'within-doubt':
    'none that could be told: what is missing lies within the doubt of the masses and of the last fill',
  'all-but-empty':
    'not estimated: the vehicle was all but empty, and nobody knows since when; a leak is looked for, not a yearly rate',
  mixed: 'not estimated: what was recovered is not what the vehicle was filled with',
} as const;
export type LossRefusal = keyof typeof LOSS_REFUSALS;

export type LossEstimate =
  | { readonly refused: LossRefusal }
  | { readonly likely: Loss; readonly least: Loss; readonly most: Loss };

/** A vehicle with less than this share of its charge has lost it through a leak, not over the years (estimate). */
const EMPTY_SHARE = 0.1;

export type Missing = {
  readonly nominalKg: number;
  /** What is missing of the nominal charge, and its uncertainty, k = 2. */
  readonly missingKg: number;
  readonly uncertaintyKg: number;
  readonly ageYears: number;
  /** It was identified as something else, or as a mixture. */
  readonly mixed: boolean;
};

/** The yearly loss with the bounds that the doubt (k = 2) leads to, or why there is none. */
export function estimateLoss({
  nominalKg,
  missingKg,
  uncertaintyKg,
  ageYears,
  mixed,
}: Missing): LossEstimate {
  if (mixed) return { refused: 'mixed' };
  const leftKg = nominalKg - missingKg;
  if (leftKg - uncertaintyKg < EMPTY_SHARE * nominalKg) return { refused: 'all-but-empty' };
  if (missingKg <= uncertaintyKg) return { refused: 'within-doubt' };
  return {
    likely: loss(nominalKg, leftKg, ageYears),
    least: loss(nominalKg, leftKg + uncertaintyKg, ageYears),
    most: loss(nominalKg, leftKg - uncertaintyKg, ageYears),
  };
}

/** Of a job's vehicle; nothing where nothing was recovered, or the ticket does not say how old it is. */
export function lossOfJob(ticket: Ticket, result: JobResult | undefined): LossEstimate | undefined {
  const { nominalChargeKg: nominalKg, vehicleAgeYears: ageYears } = ticket;
  if (result?.missing === undefined || ageYears === undefined) return undefined;
  const { kg: missingKg, uncertaintyKg } = result.missing;
  const mixed = result.identification !== undefined && result.identification.verdict !== 'accepted';
  return estimateLoss({ nominalKg, missingKg, uncertaintyKg, ageYears, mixed });
}

/** A mass, or its uncertainty, as a share of the nominal charge. */
export const percentOf = (massKg: number, nominalKg: number): number => (massKg / nominalKg) * 100;
