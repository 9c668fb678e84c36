// What a snapshot is made of, on the simulated bench and on a rig behind a line alike.
import type { Blocker } from '../../../controller/notice.ts';
import type { Output } from '../../../controller/signals.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import type { ScanSeen } from '../../run/loop.ts';
import type { Phase, PromptShows } from '../shown.ts';
import type { FaultView } from '../shown-class.ts';
import type { History } from './history.ts';
import type { HoldCurve } from './hold-curve.ts';
import type { PageOperator } from './page-operator.ts';

export interface PanelMachine {
  readonly name: string;
  readonly ticket: Ticket;
  /** Somebody has written the ticket for the vehicle that stands here; until then its figures are nobody's. */
  readonly ticketWritten: boolean;
  readonly barometerPa: number;
  readonly state: ControllerState;
  readonly seen: ScanSeen;
  readonly phase: Phase;
  readonly blockers: readonly Blocker[];
  /** Sentences for the operator that no notice has. */
  readonly told: readonly string[];
  readonly operator: PageOperator;
  readonly history: History;
  readonly hold: HoldCurve;
  /** Known to whoever simulates; a rig has none that anybody could switch. */
  readonly faults: readonly FaultView[];
  readonly powerLost: boolean;
  /** Why nobody can go on. */
  readonly broken: string | undefined;
  /** Why commands do not reach the machine, where they do not. */
  readonly undriven: string | undefined;
  readonly recordedJob: number | undefined;
  commandedSinceMs(output: Output): number;
  /** What instruments in the operator's hand show, where they are simulated. */
  shows(): PromptShows | undefined;
}
