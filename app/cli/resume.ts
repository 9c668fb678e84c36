// `coldbench resume`: what is known of a job that was left open, and what becomes of it by the operator's choice.

import { existsSync, statSync } from 'node:fs';
import { splitArguments } from './arguments.ts';
import { unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { WATCH_HELP, WATCH_OPTIONS } from './watch.ts';

const HELP = `Usage: coldbench resume [--choose go-on|close] [--port PORT --file FILE] [--records FILE] [--job N] [--json]
                        [--trace FILE.csv] [--record FILE] [--mqtt URL] [--mqtt-topic T] [--units us|si]

Shows a job that was left open, by a power cut or a killed process: what was under way, what the scale has found since,
and the choices that its stage allows. Nothing is ever gone on with by itself: without --choose it only looks.

  --choose CHOICE  go-on: go on with the job as shown; close: close it as it stands. The choice is written down
  --port PORT      where the rig of the job is now: its tank is weighed, and the job can be gone on with
  --file FILE      the equipment file of that rig, as it was when the job began
  --records FILE   the file of records (default: in your data folder)
  --job N          which one, when jobs of several machines are open
  --json           print one JSON document instead
  --units us|si    units of what is shown (default si); the JSON document and the trace are always SI

While the job goes on:
${WATCH_HELP}
A simulated bench is put back to where it was last written down, at most five simulated seconds before the end of its
process, and has then lain in the dark for a minute. A job on a rig is gone on with at its terminal, with --port: the
board is only read until you write 'go on'. Without --port it can be looked at and closed: the first weighing of the next
job books what has moved. Before you go on see that the hoses are as they were, and that the engine stands.

Exit status: 0 looked at, completed or closed as chosen, 1 gone on with and stopped, or a choice that is not offered,
2 bad input.
`;

const OPTIONS = {
  choose: { type: 'string' },
  port: { type: 'string' },
  file: { type: 'string' },
  records: { type: 'string' },
  job: { type: 'string' },
  ...WATCH_OPTIONS,
  json: { type: 'boolean' },
  units: { type: 'string' },
} as const;

/**
 * A name that was given to the job's first process again would cost its files.
 * @throws InputError for what could not be written or sent, or would be written over.
 */
function watchable(values: ReadonlyMap<string, string>): void {
  const given = Object.keys(WATCH_OPTIONS).find((option) => values.has(option));
  if (given !== undefined && values.get('choose') !== 'go-on')
    throw new InputError(`--${given} is for a job that goes on; give --choose go-on with it`);
  for (const option of ['trace', 'record']) {
    const file = values.get(option);
    if (file !== undefined && existsSync(file) && statSync(file).size > 0)
      throw new InputError(`--${option} ${file}: there is something in it already; give another file`);
  }
}

export const resume: CliCommand = {
  name: 'resume',
  summary: 'take up a job that was left open, by choice',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values } = splitArguments(args, OPTIONS, 0);
    const job = values.get('job');
    if (job !== undefined && !/^[1-9]\d*$/.test(job))
      throw new InputError(`--job must be the number of a job, not '${job}'`);
    const [port, equipmentFile] = [values.get('port'), values.get('file')];
    if (port === undefined && equipmentFile !== undefined)
      throw new InputError('--file is of no use without --port; give both');
    watchable(values);
    const { resumeJob } = await import('./resume-job.ts');
    return resumeJob(
      {
        choose: values.get('choose'),
        file: values.get('records'),
        job: job === undefined ? undefined : Number(job),
        at: port === undefined ? undefined : { port, equipmentFile },
        watch: values,
        json: values.has('json'),
        units: unitSystemFrom(values.get('units')),
      },
      terminal,
    );
  },
};
