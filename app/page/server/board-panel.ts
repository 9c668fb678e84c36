// A real rig behind the page: commissioned there, and once its file stands worked by hand and with jobs.
import { STAGES } from '../../../controller/stages.ts';
import type { Connection } from '../../../hardware/connection.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../../hardware/rig.ts';
import { FLUID_NAMES } from '../../../sim/fluids/fluid.ts';
import { InputError } from '../../cli/command.ts';
import { boardOn } from '../../rig/commissioned-board.ts';
import { readEquipment } from '../../rig/equipment-file.ts';
import { type NamedTicket, namedTicketFrom } from '../../scenario/ticket.ts';
import type { Message } from '../messages.ts';
import type { Audience, ServerMessage, Snapshot, Welcome } from '../shown.ts';
import { CommissioningDesk, LINE_TEXTS } from './commissioning-desk.ts';
import { Control } from './control.ts';
import { domeOf } from './dome.ts';
import { PanelRig, type RigParts } from './panel-rig.ts';
import { type Page, type ServedPanel, stillTripped } from './served-panel.ts';
import { snapshotOf } from './snapshot.ts';

type Parts = Pick<RigParts, 'nowMs' | 'fluids' | 'recorderOf' | 'recordings'> & {
  readonly connection: Connection;
  readonly file: string;
  readonly calendarMs: () => number;
};

const ANSWERED = undefined;
/** Bytes wait so long at most while commissioning times what it sees. */
const COMMISSIONING_REST_MS = 10;
const TICKET = 'ticket';

const BUSY =
  'a job runs or its tank is still being weighed, or the machine is worked by hand; end that first';

const NOT_BY_HAND = 'the machine is not worked by hand now';
const SIMULATED_ALONE = 'that is for the simulated bench alone';

/** Stands where a charge must stand until somebody has written the ticket; nothing is planned by it. */
const UNWRITTEN_G = 50;

export class BoardPanel implements ServedPanel {
  readonly #parts: Parts;
  readonly #desk: CommissioningDesk;
  readonly #control = new Control(() => this.#letGo());
  #rig: PanelRig | undefined;
  /** Why a rig whose lines stand is not joined. */
  #problem: string | undefined;
  #epoch = 0;
  #recordsNoted = 0;

  /** @throws InputError for a file that is there and is no equipment file. */
  constructor(parts: Parts) {
    this.#parts = parts;
    const { connection, nowMs, file, calendarMs } = parts;
    this.#desk = new CommissioningDesk({
      file,
      calendarMs,
      boardWith: (facts) => boardOn(connection, facts, nowMs),
    });
    this.#join();
  }

  /** Driven or not; absent while it may not be driven. */
  get rig(): PanelRig | undefined {
    return this.#rig;
  }

  get isIdle(): boolean {
    return !this.#desk.isRunning && this.#rig?.isIdle !== false;
  }

  /** With a file that stands the rig is joined; with another one it may not be driven. */
  #join(): void {
    this.#rig = undefined;
    this.#epoch += 1;
    this.#problem = undefined;
    if (!this.#desk.ready) return;
    this.#problem = careful(() => this.#joinRig());
  }

  /** @throws InputError for a file that somebody else has changed into none. */
  #joinRig(): void {
    const { connection, file, calendarMs, nowMs, fluids, recorderOf, recordings } = this.#parts;
    const read = readEquipment(file, calendarMs());
    if (!read.ok) throw new InputError(read.problems.join('; '));
    const { equipment, sensors } = read;
    const { typedBarometerPa } = sensors;
    this.#rig = new PanelRig({
      rig: new BoardRig({ connection, sensors, capabilities: SERIAL_CAPABILITIES, nowMs }),
      equipment,
      typedBarometerPa,
      named: namedTicketFrom(
        {
          name: `job on ${equipment.name}`,
          ticket: { refrigerant: equipment.tank.refrigerant, nominalChargeG: UNWRITTEN_G },
        },
        'the first ticket',
      ),
      nowMs,
      fluids,
      recorderOf,
      recordings,
    });
  }

  beat(): number {
    const { connection, nowMs } = this.#parts;
    if (this.#desk.isRunning) {
      const now = nowMs();
      connection.tick(now);
      if (this.#desk.beat(now)) this.#join();
      return COMMISSIONING_REST_MS;
    }
    if (this.#rig !== undefined) return this.#rig.beat();
    connection.tick(nowMs());
    return 2 * COMMISSIONING_REST_MS;
  }

  come(page: Page): void {
    this.#control.come(page);
  }

  leave(page: Page): void {
    this.#control.leave(page);
  }

  isHolder(page: Page): boolean {
    return this.#control.isHolder(page);
  }

  /** Nobody's hand is on the machine: commissioning ends with everything off, what was wished goes off; a job goes on. */
  #letGo(): void {
    if (this.#desk.isRunning) this.#endCommissioning();
    if (this.#rig?.state.byHand !== undefined) this.#rig.send({ type: 'all-wished-off' });
  }

  #endCommissioning(): void {
    this.#desk.stop();
    this.#join();
  }

  forbids(page: Page, { type }: Message): string | undefined {
    return this.#control.forbids(page, type);
  }

  heed(page: Page, message: Message): string | undefined {
    const against = this.forbids(page, message);
    if (against !== undefined) return against;
    switch (message.type) {
      case 'take-control':
        return this.#control.take(page);
      case 'release-control':
        this.#control.release(page);
        return ANSWERED;
      case 'commission':
        if (!this.isIdle) return BUSY;
        this.#rig = undefined;
        this.#desk.begin(message.line);
        return ANSWERED;
      case 'commission-answer':
        return this.#desk.answer(message.asked, message.text);
      case 'commission-go':
        if (message.where !== 'quit') return this.#desk.go(message.where);
        if (this.#desk.isRunning) this.#endCommissioning();
        return ANSWERED;
      default:
        return this.#rig === undefined
          ? 'the rig is not commissioned, or is being commissioned'
          : this.#work(this.#rig, message);
    }
  }

  #work(rig: PanelRig, message: Message): string | undefined {
    switch (message.type) {
      case 'choose':
        return this.#ask(rig, { name: rig.name, ticket: rig.ticket }, false);
      case 'ticket':
        return careful(() => {
          const value = { name: rig.name, ticket: message.ticket };
          const problem = this.#ask(rig, namedTicketFrom(value, 'the ticket'), true);
          if (problem !== undefined) throw new InputError(problem);
        });
      case 'start':
        if (rig.phase !== 'ready') return 'choose a job first';
        if (stillTripped(rig) !== undefined) return stillTripped(rig);
        return careful(() => {
          if (rig.start().length > 0) throw new InputError('something stands against it; see what');
          this.#epoch += 1;
        });
      case 'say':
        return say(rig, message.what);
      case 'wish': {
        const { output, on, offAfterMs } = message;
        if (rig.state.byHand === undefined) return NOT_BY_HAND;
        rig.send({ type: 'wished', output, on, ...(offAfterMs === undefined ? {} : { offAfterMs }) });
        return ANSWERED;
      }
      case 'answer':
        return rig.operator.answer(message.answer, rig.state.prompt);
      case 'hands': {
        const { action } = message;
        if (action !== 'start-engine' && action !== 'stop-engine') return SIMULATED_ALONE;
        if (rig.state.byHand === undefined) return NOT_BY_HAND;
        // Done by a person; the interlocks go by the word.
        rig.send({ type: 'confirmed', prompt: action });
        return ANSWERED;
      }
      default:
        return SIMULATED_ALONE;
    }
  }

  #ask(rig: PanelRig, named: NamedTicket, written: boolean): string | undefined {
    if (!rig.isIdle) return BUSY;
    // Another job would begin with nothing remembered of it.
    const tripped = stillTripped(rig);
    if (tripped !== undefined) return tripped;
    rig.ask(named, written);
    this.#epoch += 1;
    return ANSWERED;
  }

  recordsChanged(): void {
    this.#recordsNoted += 1;
    this.#rig?.recordsChanged();
  }

  growing() {
    const rig = this.#rig;
    return {
      trend: { epoch: this.#epoch * 1000 + (rig?.history.epoch ?? 0), list: rig?.history.rows ?? [] },
      notices: { epoch: this.#epoch, list: rig?.state.notices ?? [] },
    };
  }

  welcome(audience: Audience): Welcome {
    const { fluids } = this.#parts;
    const rig = this.#rig;
    return {
      type: 'welcome',
      audience,
      simulated: false,
      lines: LINE_TEXTS,
      choices: [{ id: TICKET, name: rig?.name ?? '' }],
      refrigerants: FLUID_NAMES,
      stages: STAGES,
      ...(rig === undefined ? {} : { dome: domeOf(fluids(rig.ticket.refrigerant)) }),
      lessons: [],
    };
  }

  looks(): readonly ServerMessage[] {
    const { connection } = this.#parts;
    const rig = this.#rig;
    const control = this.#control.view;
    const changes = this.#recordsNoted + 3 * this.#epoch + (rig?.phase === 'ended' && rig.isIdle ? 1 : 0);
    const job = rig?.recordedJob;
    const records = { changes, ...(job === undefined ? {} : { job }) };
    const commissioning: ServerMessage = {
      type: 'commissioning',
      control,
      records,
      drivable: rig !== undefined,
      ...this.#desk.view(this.#problem ?? connection.problem, connection.link.state === 'ready'),
    };
    if (rig === undefined) return [commissioning];
    const snapshot: Snapshot = snapshotOf(rig, { chosen: TICKET, control, records });
    return [commissioning, snapshot];
  }

  /** The server ends: everything off; a job is ended in order, as far as its board lets it. */
  end(): void {
    if (this.#desk.isRunning) this.#endCommissioning();
    if (this.#rig?.state.byHand !== undefined) this.#rig.send({ type: 'by-hand-ended' });
    if (this.#rig?.phase === 'job') this.#rig.send({ type: 'aborted' });
    this.#rig?.hurry();
  }
}

function say(rig: PanelRig, what: Extract<Message, { type: 'say' }>['what']): string | undefined {
  if (what === 'resumed') return rig.goOn();
  if (what === 'by-hand-begun') return rig.isIdle ? rig.beginByHand() : BUSY;
  if (what === 'by-hand-ended') rig.endByHand();
  else rig.send({ type: what });
  return ANSWERED;
}

/** What is wrong with what was given is the answer to whoever gave it. */
function careful(work: () => void): string | undefined {
  try {
    work();
    return ANSWERED;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}
