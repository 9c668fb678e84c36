// What the page is shown of a real rig's board: how commissioning stands, what it asks, and what the board tells.
import type { Output } from '../../controller/signals.ts';
import type { Said } from '../../hardware/commissioning/engine.ts';
import type { Standing } from '../../hardware/commissioning/judge.ts';
import type { Question } from '../../hardware/commissioning/line.ts';
import type { LineId } from '../../hardware/commissioning/record.ts';
import type { BoardState, BoardTrip } from '../../hardware/protocol.ts';
import type { ControlView } from './shown-control.ts';
import type { RecordsView } from './shown-records.ts';

/** What does not change of a line; sent once. */
export type LineText = {
  readonly id: LineId;
  readonly title: string;
  readonly why: string;
  readonly optional: boolean;
};

export type Asked = Pick<Question, 'id' | 'text' | 'kind'> & {
  /** Counts the questions: an answer belongs to one asking. */
  readonly asked: number;
  readonly choices: readonly string[];
  /** Units and bounds of what may be typed. */
  readonly hint?: string;
};

/** A pressure in Pa, absolute, or why there is none. */
export type Told = number | string;

export type BoardView = {
  readonly linked: boolean;
  readonly state: BoardState;
  readonly trip: BoardTrip;
  readonly on: readonly Output[];
  readonly highPa: Told;
  readonly lowPa: Told;
  readonly tankPa: Told;
  readonly manifoldPa: Told;
  readonly scaleCounts: Told;
};

/** Of a line that is missing because another has failed: which one. */
export type StandingShown = Standing & { readonly waits?: string };

export type CommissioningView = {
  readonly type: 'commissioning';
  readonly control: ControlView;
  readonly records?: RecordsView;
  /** Every line that the rig must have stands. */
  readonly ready: boolean;
  /** It stands ready and nothing of it is under way: snapshots come too. */
  readonly drivable: boolean;
  readonly standings: readonly StandingShown[];
  readonly board: BoardView;
  /** What is wrong with the port or the file. */
  readonly problem?: string;
  /** What is under way, with what was said of late. */
  readonly under?: {
    readonly line: LineId;
    readonly ask?: Asked;
    /** Whole seconds until something is asked or the line ends, where that is known. */
    readonly leftS?: number;
  };
  readonly said: readonly Said[];
};
