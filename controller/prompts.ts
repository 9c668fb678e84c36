// The blocking questions: what is asked and what the machine will look at to believe the answer.
import type { Prompt, PromptId } from './operator.ts';

const WORDINGS: { readonly [P in PromptId]: Pick<Prompt, 'text' | 'evidence'> } = {
  'identify-refrigerant': {
    text: "Take a sample at the vehicle's service port with a refrigerant identifier and enter refrigerant and purity.",
    evidence: 'The refrigerant must be the one on the ticket, at 98 % or purer.',
  },
  'connect-hoses': {
    text: 'Engine off. Put both couplers on the service ports and open them.',
    evidence: 'Both hose pressures must come to rest and agree with each other.',
  },
  'close-couplers': {
    text: 'Close both couplers at the vehicle and leave the hoses on.',
    evidence: 'The hose pressure must fall when the hoses are recovered, and must not come back.',
  },
  'disconnect-hoses': {
    text: 'The hoses are safe to disconnect. Take both couplers off and put the caps on.',
    evidence: 'The hose pressure is below 0.3 bar above the atmosphere.',
  },
};

export const promptOf = (id: PromptId, askedAtMs: number): Prompt => ({ id, ...WORDINGS[id], askedAtMs });
