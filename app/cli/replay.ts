// `coldbench replay`: a recorded job put to today's controller, scan by scan.
import { planToday } from '../bench/plan-today.ts';
import { damageText, readRecording } from '../bench/read-recording.ts';
import { replay as replayed } from '../bench/replay.ts';
import { printedReplay, replayDocument } from '../bench/replay-printed.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench replay RECORDING [--replan] [--json]

Gives the controller of today what a recorded job once read and heard, scan by scan, and compares what it answers with
what was answered then: every word of commands, stage, trip, notices, ledger. The first difference is shown with what was
read, what acted and the scans around it. From there on the recorded readings no longer follow from the commands, so
nothing more is compared.

'--record FILE' of 'coldbench run', with or without a board, of 'coldbench job', 'coldbench resume' and 'coldbench hand'
writes one.

  --replan  with the plan that the ticket gets today; without it the recorded plan is used, targets and all
  --json    print one JSON document, and nothing else

Exit status: 0 every command the same, 1 a difference, 2 what cannot be read, or is not what was written.
`;

const OPTIONS = { replan: { type: 'boolean' }, json: { type: 'boolean' } } as const;

async function runReplay(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = splitArguments(args, OPTIONS, 1);
  const [path] = positionals;
  if (path === undefined)
    throw new InputError("the recording is missing; 'coldbench run --record FILE' writes one");
  const recording = await readRecording(path);
  const { opening } = recording;
  const today = planToday(opening);
  const replanned = values.has('replan');
  if (replanned && opening.left !== undefined)
    throw new InputError(
      `${path} is of a job that was taken up, with the plan of its begin: leave --replan out`,
    );
  if (replanned && today.plan === undefined)
    throw new InputError(
      `${path} has no plan of today (${today.otherwise.join(', ') || 'worked by hand'}): leave --replan out`,
    );
  const result = await replayed(recording, replanned ? { ...opening, plan: today.plan! } : opening);
  const whole = { path, recording, today, replanned, replayed: result };
  if (values.has('json')) terminal.out(`${JSON.stringify(replayDocument(whole), undefined, 2)}\n`);
  else terminal.out(printedReplay(whole));
  if (result.damage !== undefined) throw new InputError(`${path} is damaged: ${damageText(result.damage)}`);
  return result.difference === undefined ? EXIT.completed : EXIT.stopped;
}

export const replay: CliCommand = {
  name: 'replay',
  summary: "put a recorded job to today's controller and find the first difference",
  help: HELP,
  run: runReplay,
};
