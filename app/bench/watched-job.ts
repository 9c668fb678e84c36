// One whole job on the simulated bench, with the truth at the moments that its figures are judged by.
import type { Stage } from '../../controller/stages.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { Truth } from '../../sim/spec.ts';
import type { RunFacts } from '../run/document.ts';
import type { ScanLoop } from '../run/loop.ts';
import type { Session } from '../run/prepare.ts';
import { runSession } from '../run/session.ts';
import { PACING } from './whole-jobs.ts';

/** The truth at the moment a stage was first entered, in the order in which they were. */
type Marks = { readonly [S in Stage]?: Truth };

export type WatchedJob = {
  readonly facts: RunFacts;
  readonly initial: Truth;
  readonly marks: Marks;
  /** Questions that were put to the operator. */
  readonly prompts: number;
  /** The controller at the end; absent where the job was refused. */
  readonly state?: ControllerState;
};

/**
 * Runs the session to its end.
 * @param look is called after every scan with what the controller has come to.
 */
export async function watchedJob(
  session: Session,
  look: (state: ControllerState) => void = () => {},
): Promise<WatchedJob> {
  const { bench } = session;
  const initial = bench.truth();
  const marks: { [S in Stage]?: Truth } = {};
  let loop: ScanLoop | undefined;
  let prompts = 0;
  let askedAtMs: number | undefined;
  const facts = await runSession(session, {
    pacing: PACING,
    started: (begun) => {
      loop = begun;
    },
    observers: [
      () => {
        const { state } = loop!;
        const stage = state.visits.at(-1)?.stage;
        if (stage !== undefined && marks[stage] === undefined) marks[stage] = bench.truth();
        if (state.prompt !== undefined && state.prompt.askedAtMs !== askedAtMs) prompts++;
        askedAtMs = state.prompt?.askedAtMs;
        look(state);
      },
    ],
  });
  return { facts, initial, marks, prompts, ...(loop === undefined ? {} : { state: loop.state }) };
}

const RECOVERING: readonly Stage[] = ['identify', 'settle', 'recover', 'rest'];

/** The truth when the recovery was over, whatever came next; absent where the job ended before. */
export function afterRecovery({ marks }: WatchedJob): Truth | undefined {
  const stages = Object.keys(marks) as Stage[];
  const next = stages.find((stage) => !RECOVERING.includes(stage));
  return next === undefined ? undefined : marks[next];
}
