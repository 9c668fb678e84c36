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

/** What is in the vehicle and not dissolved in its oil. Shown to the teacher, and to the class once revealed. */
export type VehicleView = {
  readonly liquidKg: number;
  readonly vapourKg: number;
  readonly volumeM3: number;
};

export type Score = {
  /** Who has worked: a person with single outputs, or the controller with a job. */
  readonly by?: 'hand' | 'controller';
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
