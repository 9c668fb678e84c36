// A recorded rig driven by today's controller: the same scan loop, the same readings, and every answer compared.
import { openJob } from '../../controller/scan.ts';
import type { ControllerState } from '../../controller/state.ts';
import { Handed, RecordedRig } from '../../hardware/recorded.ts';
import { InputError, textOf } from '../cli/command.ts';
import { recalled } from '../records/recall.ts';
import { ScanLoop } from '../run/loop.ts';
import { ESTIMATES } from '../run/trace.ts';
import type { Damage, Recording } from './read-recording.ts';
import { recordedOf, sameCommands } from './recorder.ts';
import type { Opening, RecordedScan } from './recording.ts';

/** What can differ in one scan; `commands` first, as it is what a machine would have done. */
export const COMPARED = ['commands', 'stage', 'trip', 'notices', 'ledger', 'by hand'] as const;
export type Compared = (typeof COMPARED)[number];

/** One scan as it was recorded and as it comes out now. */
export type Pair = { readonly scan: number; readonly recorded: RecordedScan; readonly now: RecordedScan };

export type Difference = Pair & {
  readonly in: readonly Compared[];
  readonly before: readonly Pair[];
  /** What each would go on with; the recorded readings answer the recorded commands only. */
  readonly after: readonly Pair[];
};

export type Replayed = {
  readonly scans: number;
  readonly lastedMs: number;
  /** Command words that were not those of the scan before. */
  readonly words: number;
  readonly difference: Difference | undefined;
  /** The first scan whose estimates are not the recorded ones, with the first of them. */
  readonly estimates: (Pair & { readonly name: (typeof ESTIMATES)[number] }) | undefined;
  readonly damage: (Damage & { readonly at: Pair | undefined }) | undefined;
  readonly cut: string | undefined;
};

const CONTEXT_SCANS = 3;

const alike = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
/** Wording may be mended without a change of what is told. */
const codes = ({ notices }: RecordedScan): readonly string[] =>
  notices.map(({ code, severity }) => `${severity} ${code}`);

const SAME: { readonly [C in Compared]: (one: RecordedScan, other: RecordedScan) => boolean } = {
  commands: (one, other) => sameCommands(one.permitted, other.permitted),
  stage: (one, other) => one.stage === other.stage,
  trip: (one, other) => one.trip === other.trip,
  notices: (one, other) => alike(codes(one), codes(other)),
  ledger: (one, other) => alike(one.ledgerEntries, other.ledgerEntries),
  'by hand': (one, other) => alike(one.handEntries, other.handEntries),
};

/** What a job begins with, or with what it was taken up again. */
function openedWith({ plan, equipment, atMs, left }: Opening): ControllerState {
  if (left === undefined) return openJob(plan, equipment, atMs);
  return recalled({ ...left.state, plan, equipment }, atMs, left.opened);
}

/** Today's controller on a rig that says what it once said. */
class Player {
  readonly #loop: ScanLoop;
  readonly #handed = new Handed();
  readonly #rig: RecordedRig;
  #scan: RecordedScan;

  /** @throws InputError for an opening that the controller cannot take. */
  constructor(opening: Opening, first: RecordedScan) {
    this.#scan = first;
    this.#handed.put(first);
    this.#rig = new RecordedRig(this.#handed.take);
    try {
      const state = openedWith(opening);
      const operator = { respond: () => this.#scan.events };
      this.#loop = new ScanLoop({ rig: this.#rig, state, operator, observers: [] });
    } catch (error) {
      const reason = textOf(error);
      throw new InputError(`the job cannot be opened as it was recorded: ${reason}`);
    }
  }

  play(scan: RecordedScan): RecordedScan {
    this.#scan = scan;
    this.#handed.put(scan);
    this.#rig.advanceTo(scan.nowMs);
    return recordedOf(this.#loop.turn(scan.nowMs), this.#loop.state);
  }
}

/** The context of what was found: a few scans before are kept, a few after are waited for. */
class Comparison {
  #recent: Pair[] = [];
  #after: Pair[] = [];
  #found: Omit<Difference, 'after'> | undefined;
  #estimates: Replayed['estimates'];

  /** Whether there is no more to be learnt. */
  get done(): boolean {
    return this.#after.length >= CONTEXT_SCANS;
  }

  get difference(): Difference | undefined {
    return this.#found === undefined ? undefined : { ...this.#found, after: this.#after };
  }

  get estimates(): Replayed['estimates'] {
    return this.#estimates;
  }

  take(pair: Pair): void {
    if (this.#found !== undefined) {
      this.#after.push(pair);
      return;
    }
    const { recorded, now } = pair;
    const found = COMPARED.filter((what) => !SAME[what](recorded, now));
    if (found.length > 0) this.#found = { ...pair, in: found, before: this.#recent };
    const name = ESTIMATES.find((estimate) => recorded.figures[estimate] !== now.figures[estimate]);
    if (name !== undefined) this.#estimates ??= { ...pair, name };
    this.#recent = [...this.#recent, pair].slice(-CONTEXT_SCANS);
  }
}

/**
 * Plays a recording until its end, or a little beyond the first difference.
 * @param opening what the job is opened with; left out: as it was.
 * @throws InputError for a recording that cannot be understood, or without a scan.
 */
export async function replay(recording: Recording, opening = recording.opening): Promise<Replayed> {
  const comparison = new Comparison();
  let player: Player | undefined;
  let last: RecordedScan | undefined;
  let damagedAt: Pair | undefined;
  let scans = 0;
  let words = 0;
  for await (const recorded of recording.scans()) {
    player ??= new Player(opening, recorded);
    scans += 1;
    if (last === undefined || !sameCommands(last.permitted, recorded.permitted)) words += 1;
    last = recorded;
    const pair = { scan: scans, recorded, now: player.play(recorded) };
    if (recording.damage !== undefined) damagedAt ??= pair;
    comparison.take(pair);
    if (comparison.done) break;
  }
  if (last === undefined) throw new InputError('the recording has no scan: there is nothing to replay');
  const { damage } = recording;
  return {
    scans,
    lastedMs: last.nowMs - opening.atMs,
    words,
    difference: comparison.difference,
    estimates: comparison.estimates,
    damage: damage === undefined ? undefined : { ...damage, at: damagedAt },
    cut: recording.cut,
  };
}
