// What the classroom is shown: lessons, scores, and what only the teacher sees.
import type { Output } from '../../controller/signals.ts';
import type { FaultName } from '../../sim/faults.ts';
import type { Truth } from '../../sim/spec.ts';

export type FaultView = {
  readonly fault: FaultName;
  readonly output?: Output;
  readonly size?: number;
  readonly shown: boolean;
};

export type Score = {
  readonly chargeErrorKg?: number;
  readonly residualKg?: number;
  readonly trips: number;
  readonly refusedWishes: number;
  readonly lostKg: number;
  readonly lastedMs: number;
};

/** What only the teacher's snapshots hold. */
export type TeacherView = {
  readonly truth: Truth;
  /** Outputs that really act. */
  readonly acting: readonly Output[];
  readonly vehicleLiquidKg: number;
  readonly faults: readonly FaultView[];
  readonly score: Score;
  readonly revealed: boolean;
};

export type LessonView = {
  readonly id: string;
  readonly title: string;
  readonly aim: string;
  readonly setUp: string;
  readonly question: string;
  readonly options: readonly string[];
  readonly lookFor: readonly string[];
  readonly scoreRule: string;
  /** Only for the teacher, or once revealed. */
  readonly answer?: number;
  readonly explanation?: string;
  readonly teacherNote?: string;
};

export type FaultKindView = {
  readonly fault: FaultName;
  readonly meaning: string;
  readonly needsOutput: boolean;
  readonly size?: {
    readonly unit: string;
    readonly default: number;
    readonly min: number;
    readonly max: number;
  };
};
