// What the server shows a page: snapshots, what is said once, and lists that grow.
import type { Blocker, Notice } from '../../controller/notice.ts';
import type { Prompt } from '../../controller/operator.ts';
import type { Progress } from '../../controller/progress.ts';
import type { Output } from '../../controller/signals.ts';
import type { Stage } from '../../controller/stages.ts';
import type { HoldAccount } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { Speed } from './messages.ts';
import type { CommissioningView, LineText } from './shown-board.ts';
import type { FaultKindView, FaultView, LessonView, Score, TeacherView, VehicleView } from './shown-class.ts';
import type { ControlView } from './shown-control.ts';
import type { RecordsShown, RecordsView } from './shown-records.ts';

/** Who looks: the teacher sees the truth and what is wrong, the class what the machine shows. */
export type Audience = 'class' | 'teacher';

export type Span = { readonly lowMs: number; readonly highMs: number };

/** A stage of the plan with its time, spent or expected. */
export type RibbonStage = {
  readonly stage: Stage;
  readonly state: 'done' | 'now' | 'next' | 'skipped';
  readonly elapsedMs?: number;
  readonly expected?: Span;
  readonly result?: string;
};

export type OutputView = {
  readonly output: Output;
  readonly fitted: boolean;
  /** What sequence or operator want, and what the interlocks have left of it. */
  readonly wanted: boolean;
  readonly on: boolean;
  /** Commanded for longer than its dead time: it has acted, unless it is broken. */
  readonly settled: boolean;
  /** By hand: until when, and why it would be refused. */
  readonly untilMs?: number;
  readonly refusal?: { readonly row: string; readonly because: string; readonly remedy: string };
};

/** Before anything has begun time stands still; while a person is waited for it goes no faster than real time. */
export type Lingers = 'not-begun' | 'asks' | 'paused' | 'ended';

export type TimeView = {
  readonly running: boolean;
  readonly speed: Speed;
  /** Simulated seconds in the last second. */
  readonly achieved: number;
  readonly lingers?: Lingers;
};

export type Phase = 'ready' | 'job' | 'ended' | 'by-hand' | 'broken';

/** Everything that a view shows, ten times a second at most. */
export type Snapshot = {
  readonly type: 'snapshot';
  readonly nowMs: number;
  readonly phase: Phase;
  readonly name: string;
  readonly chosen: string;
  readonly ticket: Ticket;
  /** Else its figures are nobody's, and are not shown. */
  readonly ticketWritten: boolean;
  readonly blockers: readonly Blocker[];
  /** Sentences for the operator that no notice has: what the records say, what became of the line to the board. */
  readonly told: readonly string[];
  /** Why commands do not reach a rig, where they do not. */
  readonly undriven?: string;
  /** Absent where nothing is kept. */
  readonly records?: RecordsView;
  readonly progress: Progress;
  readonly ribbon: readonly RibbonStage[];
  readonly prompt?: Prompt & { readonly shows?: PromptShows; readonly underWay: boolean };
  readonly trip?: { readonly reason: string; readonly remedy: string; readonly atMs: number };
  readonly outcome?: string;
  readonly hosesSafe: boolean;
  readonly outputs: readonly OutputView[];
  readonly fanTurns?: boolean;
  readonly emergencyStop?: boolean;
  readonly highPressureSwitch?: boolean;
  readonly gasAlarm?: boolean;
  readonly saturation: { readonly highK?: number; readonly lowK?: number; readonly tankK?: number };
  readonly manifoldOverSpan: boolean;
  readonly ambientK?: number;
  readonly barometerPa: number;
  readonly tank: {
    readonly fillLimitKg: number;
    readonly waterCapacityM3: number;
    readonly reserveKg: number;
  };
  readonly masses: {
    readonly recoveredKg?: number;
    readonly chargedKg?: number;
    readonly netChargeKg?: number;
    readonly uncertaintyKg?: number;
    readonly hoseRecoveredKg?: number;
    /** Refrigerant went where no weighing counts it: what the vehicle holds is not known. */
    readonly lostTrack?: true;
  };
  readonly scaleTrust: string;
  readonly cyclesKg: readonly number[];
  readonly hold?: HoldView;
  readonly noticeCount: number;
  readonly simulatedOperator: boolean;
  readonly time?: TimeView;
  readonly faults: readonly FaultView[];
  readonly score?: Score;
  readonly vehicle?: VehicleView;
  readonly control: ControlView;
  readonly teacher?: TeacherView;
};

/** What a simulated instrument in the operator's hand shows. */
export type PromptShows = {
  readonly reading?: {
    readonly refrigerant: string;
    readonly purityPercent: number;
    readonly airPercent?: number;
    readonly hydrocarbonPercent?: number;
  };
  readonly noSample?: string;
  readonly volumeM3?: number;
  readonly detector?: boolean;
};

export type HoldView = {
  readonly intervalS: number;
  readonly samplesPa: readonly number[];
  readonly fitPa: readonly number[];
  readonly account?: HoldAccount;
};

/**
 * A row of the trend; null is no reading: time in ms, high side, low side, manifold, vehicle vacuum and tank in Pa, tank and
 * air in K, net mass in kg, flow in kg/s, and the stage as a place in the list of stages, −1 for none.
 */
export type TrendRow = readonly (number | null)[];

/** Of the refrigerant, for dials and diagrams: plain tables, rising in temperature. */
export type Dome = {
  readonly refrigerant: string;
  readonly temperatureK: readonly number[];
  readonly pressurePa: readonly number[];
  readonly liquidJPerKg: readonly number[];
  readonly vapourJPerKg: readonly number[];
  readonly liquidDensityKgPerM3: readonly number[];
  readonly vapourDensityKgPerM3: readonly number[];
};

export type Welcome = {
  readonly type: 'welcome';
  readonly audience: Audience;
  readonly simulated: boolean;
  /** Only of a real rig: the lines of its commissioning. */
  readonly lines?: readonly LineText[];
  readonly choices: readonly { readonly id: string; readonly name: string }[];
  readonly refrigerants: readonly string[];
  readonly stages: readonly Stage[];
  /** Absent while a rig is not commissioned. */
  readonly dome?: Dome;
  readonly lessons: readonly LessonView[];
  /** Only for the teacher. */
  readonly faultKinds?: readonly FaultKindView[];
};

export type ServerMessage =
  | RecordsShown
  | CommissioningView
  | Welcome
  | Snapshot
  | { readonly type: 'control'; readonly yours: boolean }
  | { readonly type: 'refused'; readonly what: string; readonly because: string }
  /** `epoch` changes when the rows before no longer count. */
  | {
      readonly type: 'trend';
      readonly epoch: number;
      readonly from: number;
      readonly rows: readonly TrendRow[];
    }
  | {
      readonly type: 'notices';
      readonly epoch: number;
      readonly from: number;
      readonly notices: readonly Notice[];
    };
