// What the operator is asked and what the operator says.

export const PROMPTS = [
  'identify-refrigerant',
  'connect-hoses',
  'close-couplers',
  'disconnect-hoses',
] as const;
export type PromptId = (typeof PROMPTS)[number];

/** A blocking question; the machine is in the safe state while it waits. */
export type Prompt = {
  readonly id: PromptId;
  readonly text: string;
  /** What the machine will look at to believe the answer. */
  readonly evidence: string;
  readonly askedAtMs: number;
};

/** The result of a refrigerant identifier, as the operator reads it off. */
export type Identification = { readonly refrigerant: string; readonly purityPercent: number };

export type OperatorEvent =
  | { readonly type: 'confirmed'; readonly prompt: Exclude<PromptId, 'identify-refrigerant'> }
  | { readonly type: 'identified'; readonly result: Identification }
  | { readonly type: 'paused' }
  | { readonly type: 'resumed' }
  | { readonly type: 'aborted' }
  | { readonly type: 'reset' };
