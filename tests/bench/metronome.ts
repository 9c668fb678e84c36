// A process that does nothing but keep time, ten times a second: how far off its timer is, the machine does to everybody.
// Usage: node metronome.ts; prints how far each beat was off, in milliseconds, once its input ends.
import { clockMs } from '../../app/bench/whole-jobs.ts';
import { SCAN_MS } from '../../app/run/loop.ts';

const atMs: number[] = [];
let dueMs = clockMs();

function beat(): void {
  atMs.push(clockMs());
  dueMs += SCAN_MS;
  setTimeout(beat, Math.max(dueMs - clockMs(), 1));
}

beat();
process.stdin.resume().on('end', () => {
  const offMs = atMs.slice(1).map((ms, index) => Math.abs(ms - atMs[index]! - SCAN_MS));
  process.stdout.write(`${JSON.stringify(offMs)}\n`, () => process.exit());
});
