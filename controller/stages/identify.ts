// Identify: nothing moves until the refrigerant is known to be the tank's own, or the tank is there for any other.
import { isFlammable } from '../interlocks/bands.ts';
import type { NoticeDraft } from '../notices.ts';
import type { Identification, IdentificationOverridden } from '../operator.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { IdentificationAccount } from '../state.ts';
import type { IdentifyData } from './data-tank.ts';
import type { StageInput, StageStep } from './stage.ts';

export const enterIdentify = (nowMs: number): IdentifyData => ({
  stage: 'identify',
  step: 'ask',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
});

type Step = StageStep<IdentifyData>;

export function stepIdentify(data: IdentifyData, input: StageInput): Step {
  const asking = { data, wanted: SAFE_COMMANDS, prompt: 'identify-refrigerant' } as const;
  for (const answer of input.answers) {
    if (answer.type === 'identified') return { ...asking, ...judged(answer.result, input) };
    if (answer.type === 'identification-overridden') return { ...asking, ...overridden(answer, input) };
  }
  return asking;
}

type Outcome = Pick<Step, 'event' | 'result' | 'notices' | 'accounts'>;

function judged(result: Identification | undefined, input: StageInput): Outcome {
  const against = refusal(result, input);
  if (result === undefined || against !== undefined) {
    return { event: 'refrigerant-refused', notices: against === undefined ? [] : [against] };
  }
  const { plan, equipment } = input;
  const { airPercent } = result;
  if (equipment.tank.contaminated === true) {
    return accept(input, { verdict: 'contaminated', ...result }, 'recovered-as-contaminated', [
      { code: 'recovers-contaminated', with: shown(result) },
    ]);
  }
  const airy = airPercent !== undefined && airPercent >= plan.identify.airToldPercent;
  return accept(
    input,
    { verdict: 'accepted', ...result },
    'refrigerant-accepted',
    airy ? [{ code: 'air-in-vehicle', with: shown(result) }] : [],
  );
}

const accept = (
  { accounts }: StageInput,
  identification: IdentificationAccount,
  result: string,
  notices: readonly NoticeDraft[],
): Outcome => ({
  event: 'refrigerant-accepted',
  result,
  notices,
  accounts: { ...accounts, identification },
});

/** Why a reading does not pass, or nothing. Comparisons are written so that what is no number never passes. */
function refusal(result: Identification | undefined, input: StageInput): NoticeDraft | undefined {
  const { identify, ticket, service } = input.plan;
  const refused = service === 'fill-tank' ? 'cylinder-refused' : 'refrigerant-refused';
  const figures = {
    ...shown(result),
    wanted: ticket.refrigerant,
    minimum: String(identify.minimumPurityPercent),
  };
  if (!below(result?.hydrocarbonPercent, identify.hydrocarbonPercent)) {
    return { code: 'hydrocarbons-refused', with: figures };
  }
  if (input.equipment.tank.contaminated === true) {
    return result === undefined ? { code: refused, with: figures } : undefined;
  }
  const isPure =
    result?.refrigerant === ticket.refrigerant &&
    result.purityPercent >= identify.minimumPurityPercent &&
    result.purityPercent <= 100;
  if (!isPure) return { code: refused, with: figures };
  return below(result.airPercent, identify.airPercent) ? undefined : { code: 'air-refused', with: figures };
}

/** What an identifier does not report stands against nothing. */
const below = (percent: number | undefined, limit: number): boolean =>
  percent === undefined || (percent >= 0 && percent < limit);

const shown = (result: Identification | undefined) => ({
  refrigerant: String(result?.refrigerant),
  purity: String(result?.purityPercent),
  air: String(result?.airPercent ?? 0),
  hydrocarbons: String(result?.hydrocarbonPercent ?? 0),
});

/**
 * Stands for a reading that nobody has, never against one: a vehicle without pressure gives no sample, and the machine
 * itself sees whether it has none. An earlier reading by other means counts only where the refrigerant does not burn.
 */
function overridden({ why, reason }: IdentificationOverridden, input: StageInput): Outcome {
  const { refrigerant, service } = input.plan.ticket;
  const isSaid = typeof reason === 'string' && reason.trim() !== '';
  const may =
    service !== 'fill-tank' &&
    (why === 'no-pressure' || (why === 'identified-elsewhere' && !isFlammable(refrigerant)));
  const figures = { reason: isSaid ? reason.trim() : 'none', refrigerant };
  if (!(isSaid && may)) {
    return { event: 'refrigerant-refused', notices: [{ code: 'override-refused', with: figures }] };
  }
  const account = { verdict: 'overridden', why, reason: figures.reason } as const;
  return accept(input, account, 'identification-overridden', [
    { code: 'identification-overridden', with: figures },
  ]);
}
