// What the operator is asked and what the operator says.
import type { Output } from './signals.ts';

export const PROMPTS = [
  'identify-refrigerant',
  'purge-air',
  'flush-hoses',
  'connect-hoses',
  'warm-vehicle',
  'repair-vehicle',
  'recover-again',
  'read-catch-bottle',
  'fill-oil-bottle',
  'fill-dye-bottle',
  'search-leak',
  'start-engine',
  'close-high-coupler',
  'close-couplers',
  'close-couplers-then-stop',
  'stop-engine',
] as const;
export type PromptId = (typeof PROMPTS)[number];
/** Prompts that are answered by saying that it is done. */
export type ConfirmedPrompt = Exclude<PromptId, 'identify-refrigerant' | 'read-catch-bottle' | 'search-leak'>;

/** A blocking question; the machine is in the safe state while it waits. */
export type Prompt = {
  readonly id: PromptId;
  readonly text: string;
  /** What the machine will look at to believe the answer. */
  readonly evidence: string;
  /** The answer is a volume within these bounds. */
  readonly volumeM3?: { readonly least: number; readonly most: number };
  readonly askedAtMs: number;
};

/** The result of a refrigerant identifier, as the operator reads it off; per cent by mass. */
export type Identification = {
  readonly refrigerant: string;
  /** Of the refrigerant without the air. */
  readonly purityPercent: number;
  /** Absent where the identifier does not report it. */
  readonly airPercent?: number;
  readonly hydrocarbonPercent?: number;
};

/** Going on without a reading: there is no sample to take, or the refrigerant was identified by other means. */
export type IdentificationOverridden = {
  readonly type: 'identification-overridden';
  readonly why: 'no-pressure' | 'identified-elsewhere';
  readonly reason: string;
};

export type OperatorEvent =
  | { readonly type: 'confirmed'; readonly prompt: ConfirmedPrompt }
  | { readonly type: 'identified'; readonly result: Identification }
  | IdentificationOverridden
  | { readonly type: 'declined'; readonly prompt: 'purge-air' }
  /** A figure read off and typed in. */
  | { readonly type: 'entered'; readonly prompt: 'read-catch-bottle'; readonly volumeM3: number }
  /** A search with a detector: whether it has found a leak. */
  | { readonly type: 'searched'; readonly prompt: 'search-leak'; readonly found: boolean }
  | { readonly type: 'paused' }
  | { readonly type: 'resumed' }
  | { readonly type: 'aborted' }
  | { readonly type: 'reset' }
  | { readonly type: 'by-hand-begun' }
  /** One output is wished on or off. Without a time of its own an on must be renewed. */
  | {
      readonly type: 'wished';
      readonly output: Output;
      readonly on: boolean;
      readonly offAfterMs?: number;
    }
  | { readonly type: 'all-wished-off' }
  | { readonly type: 'by-hand-ended' };
