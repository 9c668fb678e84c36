// Identify: nothing moves until the refrigerant is known to be the tank's own.
import type { Identification } from '../operator.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { IdentifyData } from './data.ts';
import type { StageInput, StageStep } from './stage.ts';

export const enterIdentify = (nowMs: number): IdentifyData => ({
  stage: 'identify',
  step: 'ask',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
});

export function stepIdentify(data: IdentifyData, input: StageInput): StageStep<IdentifyData> {
  const answer = input.answers.find((event) => event.type === 'identified');
  const asking = { data, wanted: SAFE_COMMANDS, prompt: 'identify-refrigerant' } as const;
  if (answer === undefined) return asking;
  if (accepted(answer.result, input)) return { ...asking, event: 'refrigerant-accepted' };
  return {
    ...asking,
    event: 'refrigerant-refused',
    notices: [
      {
        code: 'refrigerant-refused',
        with: {
          refrigerant: String(answer.result?.refrigerant),
          purity: String(answer.result?.purityPercent),
          wanted: input.plan.ticket.refrigerant,
          minimum: String(input.plan.identify.minimumPurityPercent),
        },
      },
    ],
  };
}

const accepted = (result: Identification, { plan }: StageInput): boolean =>
  result?.refrigerant === plan.ticket.refrigerant &&
  result.purityPercent >= plan.identify.minimumPurityPercent &&
  result.purityPercent <= 100;
