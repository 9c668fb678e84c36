// The socket: opened, and opened again when it is lost. Nothing is kept for later: what is said to nobody is not said.
import type { ServerMessage } from '../shown.ts';
import { changed, forget, hear, known, sendBy } from './store.ts';

const SOONEST_MS = 500;
const LATEST_MS = 5_000;
/** The server shows something ten times a second; after this silence nobody is there. */
const SILENT_MS = 5_000;

export const isTeacher = location.pathname === '/teacher';

/** Whoever comes first to a machine that nobody holds will want it; whoever had it wants it back. */
let wantsControl = !isTeacher;

export function connect(waitMs = SOONEST_MS): void {
  const socket = new WebSocket(`ws://${location.host}/ws${isTeacher ? '?as=teacher' : ''}`);
  let asked = false;
  let silence: ReturnType<typeof setTimeout> | undefined;
  const listen = () => {
    clearTimeout(silence);
    silence = setTimeout(() => socket.close(), SILENT_MS);
  };
  socket.onopen = () => {
    known.link = 'up';
    waitMs = SOONEST_MS;
    forget();
    listen();
    changed();
  };
  socket.onmessage = ({ data }) => {
    listen();
    const message: ServerMessage = JSON.parse(String(data));
    hear(message);
    if (!asked && (message.type === 'snapshot' || message.type === 'commissioning')) {
      asked = true;
      if (wantsControl && !message.control.held) socket.send('{"type":"take-control"}');
    }
  };
  socket.onclose = () => {
    clearTimeout(silence);
    wantsControl = known.hasControl || wantsControl;
    known.link = 'down';
    known.hasControl = false;
    changed();
    setTimeout(() => connect(Math.min(2 * waitMs, LATEST_MS)), waitMs);
  };
  sendBy((message) => {
    if (message.type === 'release-control') wantsControl = false;
    if (message.type === 'take-control') wantsControl = true;
    if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
  });
}
