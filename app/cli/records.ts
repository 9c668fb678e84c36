// `coldbench records`: what has been kept of jobs, tanks, cylinders and upkeep.
import { splitArguments } from './arguments.ts';
import { unitSystemFrom } from './bench-arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { suggestion } from './nearest.ts';
import { VIEWS } from './records-shown.ts';

const HELP = `Usage: coldbench records list [WORD ...] [--from DATE] [--to DATE] [--most N]
       coldbench records show N
       coldbench records report N [--csv | --json]
       coldbench records ledger [--vessel NAME] [--most N]
       coldbench records ledger --book MOVEMENT --vessel NAME --mass-kg M [--to-vessel NAME] [--party WHO] [--note TEXT]
       coldbench records ledger --add-cylinder NAME --refrigerant R [--capacity-l L] [--retest DATE]
       coldbench records ledger --vessel NAME --retest DATE
       coldbench records upkeep [--machine NAME] [--done ITEM [--failed] [--note TEXT]]
       coldbench records upkeep --machine NAME --done scale-weights --weight-kg W --read-kg R --step-g S
       coldbench records export --from DATE --to DATE [--csv | --json]
       coldbench records verify

Shows and completes the records: jobs, the ledger of tanks and cylinders, upkeep. A report is one HTML page on standard
output, which prints on A4 and Letter.

  --records FILE  the file of records (default: in your data folder)
  --json          print JSON, always SI, instead of text
  --csv           of a report its trace, of an export its amounts, as CSV; always SI
  --units us|si   units of what is shown (default si)
  MOVEMENT        stock, bought, transferred (to --to-vessel), sent-away (to --party, for reclaim), vented. Stock is
                  what there is by weight: where something was booked before, the difference is booked as unexplained

Times and days are UTC everywhere in the records, --from and --to too: an evening may belong to the next day.
Whatever is booked stands: a slip is corrected by a further entry, with a note. Local rules come first.

Exit status: 0 shown or written, 1 verify has found something, 2 bad input.
`;

const OPTIONS = {
  records: { type: 'string' },
  json: { type: 'boolean' },
  csv: { type: 'boolean' },
  units: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  most: { type: 'string' },
  vessel: { type: 'string' },
  book: { type: 'string' },
  'mass-kg': { type: 'string' },
  'to-vessel': { type: 'string' },
  party: { type: 'string' },
  note: { type: 'string' },
  'add-cylinder': { type: 'string' },
  refrigerant: { type: 'string' },
  'capacity-l': { type: 'string' },
  retest: { type: 'string' },
  machine: { type: 'string' },
  done: { type: 'string' },
  failed: { type: 'boolean' },
  'weight-kg': { type: 'string' },
  'read-kg': { type: 'string' },
  'step-g': { type: 'string' },
} as const;

export const records: CliCommand = {
  name: 'records',
  summary: 'what has been kept of jobs, tanks, cylinders and upkeep',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values, positionals } = splitArguments(args, OPTIONS, 12);
    const [name = '', ...words] = positionals;
    const view = VIEWS.find((known) => known === name);
    if (view === undefined)
      throw new InputError(
        name === '' ? `say what to show: ${VIEWS.join(', ')}` : `records ${name}: ${suggestion(name, VIEWS)}`,
      );
    const { showRecords } = await import('./records-views.ts');
    return showRecords({ view, words, values, units: unitSystemFrom(values.get('units')) }, terminal);
  },
};
