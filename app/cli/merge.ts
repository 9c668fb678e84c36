// `coldbench merge`: the files of a campaign's shards made into one.
import { mergeShards } from '../bench/merge.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';

const HELP = `Usage: coldbench merge FILE FILE … --out FILE

Makes one file of the shards of a campaign, in whatever order they are given. It is the file that the campaign writes
without --shard, byte for byte. A shard that is missing, not complete, there twice, or of another campaign is refused by
name, and nothing is written.

  --out FILE   where to; there must be no such file yet

Exit status: 0 merged, 2 bad input.
`;

const OPTIONS = { out: { type: 'string' } } as const;

export const merge: CliCommand = {
  name: 'merge',
  summary: 'one file of the shards of a campaign',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values, positionals } = splitArguments(args, OPTIONS, Number.POSITIVE_INFINITY);
    const out = values.get('out');
    if (out === undefined) throw new InputError('say where to: coldbench merge A B … --out FILE');
    const { jobs } = mergeShards(positionals, out);
    terminal.out(`${out}: ${jobs} jobs of ${positionals.length} shards\n`);
    return EXIT.completed;
  },
};
