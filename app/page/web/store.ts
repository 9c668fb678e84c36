// What this page knows: the last look, the trends so far, and whether it has control. One place, filled by the socket.
import { useEffect, useState } from 'preact/hooks';
import type { Notice } from '../../../controller/notice.ts';
import type { Message } from '../messages.ts';
import type { ServerMessage, Snapshot, TrendRow, Welcome } from '../shown.ts';
import type { CommissioningView } from '../shown-board.ts';
import type { ControlView } from '../shown-control.ts';
import type { RecordsShown } from '../shown-records.ts';
import { keepLook } from './replay.ts';

export type Link = 'up' | 'down' | 'trying';

export type Known = {
  link: Link;
  welcome: Welcome | undefined;
  snapshot: Snapshot | undefined;
  rows: TrendRow[];
  notices: Notice[];
  hasControl: boolean;
  /** Only of a real rig. */
  commissioning: CommissioningView | undefined;
  control: ControlView;
  /** What was looked up last. */
  records: RecordsShown | undefined;
  /** The last thing that was not done, and why. */
  refusal: { readonly because: string; readonly count: number } | undefined;
};

export const known: Known = {
  link: 'trying',
  welcome: undefined,
  snapshot: undefined,
  rows: [],
  notices: [],
  hasControl: false,
  commissioning: undefined,
  control: { held: false, watching: 0, ledByTeacher: false },
  records: undefined,
  refusal: undefined,
};

const listeners = new Set<() => void>();
let drawing = false;

/** At most once a frame, however much has come in. */
export function changed(): void {
  if (drawing) return;
  drawing = true;
  requestAnimationFrame(() => {
    drawing = false;
    for (const listener of listeners) listener();
  });
}

export function useKnown(): Known {
  const [, draw] = useState(0);
  useEffect(() => {
    const listener = () => draw((count) => count + 1);
    listeners.add(listener);
    return () => {
      listeners.delete(listener);
    };
  }, []);
  return known;
}

const epochs = { trend: -1, notices: -1 };

/** Lists that grow: another epoch begins them anew. */
function grown<T>(
  list: T[],
  kind: keyof typeof epochs,
  epoch: number,
  from: number,
  items: readonly T[],
): T[] {
  const kept = epochs[kind] === epoch ? list.slice(0, from) : [];
  epochs[kind] = epoch;
  kept.push(...items);
  return kept;
}

export function hear(message: ServerMessage): void {
  switch (message.type) {
    case 'welcome':
      known.welcome = message;
      break;
    case 'snapshot':
      known.snapshot = message;
      keepLook(message);
      known.control = message.control;
      break;
    case 'control':
      known.hasControl = message.yours;
      break;
    case 'commissioning':
      known.commissioning = message;
      known.control = message.control;
      // A rig that may not be driven has nothing else to show.
      if (!message.drivable) known.snapshot = undefined;
      break;
    case 'records':
      known.records = message;
      break;
    case 'refused':
      known.refusal = { because: message.because, count: (known.refusal?.count ?? 0) + 1 };
      break;
    case 'trend':
      known.rows = grown(known.rows, 'trend', message.epoch, message.from, message.rows);
      break;
    case 'notices':
      known.notices = grown(known.notices, 'notices', message.epoch, message.from, message.notices);
      break;
  }
  changed();
}

/** A server that has begun anew counts from the beginning. */
export function forget(): void {
  epochs.trend = -1;
  epochs.notices = -1;
  known.hasControl = false;
}

let send: (message: Message) => void = () => {};
export const say = (message: Message): void => send(message);
export function sendBy(sender: (message: Message) => void): void {
  send = sender;
}
