// Something to tell the operator: what, why, what the machine did, what to do.

export type Severity = 'information' | 'advice' | 'warning' | 'trip';

/** `{name}` is filled in by whoever gives the notice. */
export type Wording = { readonly severity: Severity; readonly text: string; readonly remedy: string };

export type Notice = {
  /** Kebab-case; the text and the remedy of a code live in one table. */
  readonly code: string;
  readonly severity: Severity;
  /** What happened and why, and what the machine did. */
  readonly text: string;
  readonly remedy: string;
  readonly atMs: number;
};

/** A named reason why a stage or a job may not start; permission is an empty set. */
export type Blocker = { readonly code: string; readonly text: string; readonly remedy: string };
