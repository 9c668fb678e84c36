// How the optimising compiler is set where many jobs follow one another in a process.
import { setFlagsFromString } from 'node:v8';

/** Whose flags these are; another version may have none of these names. */
const NODE_MAJOR = 24;

/**
 * A scan and a step of the plant are hundreds of small functions, each called from few places: set into one another four times
 * as far as usual, a warm job takes 8 % less. The first job of a process takes 15 % more, for there is more to compile: a
 * process that runs one job leaves this alone. Measured with `npm run bench -- --only job`.
 */
const FLAGS = ['--max-inlined-bytecode-size-cumulative=3500', '--max-inlined-bytecode-size-small=60'];

/** Holds for every thread of the process, for what is compiled from then on. */
export function tuneForManyJobs(): void {
  if (Number.parseInt(process.versions.node, 10) !== NODE_MAJOR) return;
  for (const flag of FLAGS) setFlagsFromString(flag);
}
