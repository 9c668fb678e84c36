// Shards of one campaign made into the file that a run without shards writes, byte for byte.
import { closeSync, existsSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { InputError } from '../cli/command.ts';
import { differenceOf, type Header, headerOf, lineOf, readCampaign } from './campaign-file.ts';

type Part = { readonly path: string; readonly header: Header };

function partOf(path: string): Part {
  return { path, header: readCampaign(path, {}) };
}

/** In the order of their shards: all of one campaign, none missing, none twice. */
function inOrder(parts: readonly Part[]): readonly Part[] {
  const [first] = parts;
  if (first === undefined) throw new InputError('give the files to merge: coldbench merge A B … --out FILE');
  const byIndex = new Map<number, Part>();
  for (const part of parts) {
    const { path, header } = part;
    const difference = differenceOf(header, first.header, ['format', 'plan', 'seed', 'jobs', 'logic']);
    if (difference !== undefined)
      throw new InputError(
        `${path} does not belong to ${first.path}: it has ${difference}; merge shards of one campaign`,
      );
    const { shard } = header;
    if (shard === undefined) throw new InputError(`${path}: is no shard but a whole campaign; leave it out`);
    if (shard.of !== first.header.shard?.of)
      throw new InputError(
        `${path}: is shard ${shard.index}/${shard.of}, and ${first.path} is one of ${first.header.shard?.of}; merge shards of one division`,
      );
    const known = byIndex.get(shard.index);
    if (known !== undefined)
      throw new InputError(
        `${path}: is shard ${shard.index}/${shard.of}, as ${known.path} is; give each once`,
      );
    byIndex.set(shard.index, part);
  }
  const of = first.header.shard?.of ?? 0;
  const missing = Array.from({ length: of }, (_, index) => index + 1).filter((index) => !byIndex.has(index));
  if (missing.length > 0) {
    const names = missing.map((index) => `${index}/${of}`).join(', ');
    throw new InputError(
      `shard ${names} ${missing.length === 1 ? 'is' : 'are'} missing; give the files of all ${of}`,
    );
  }
  return [...byIndex].sort(([a], [b]) => a - b).map(([, part]) => part);
}

/**
 * Writes `out`, which must not be there yet; it appears when it is complete.
 * @throws InputError that names the file which does not fit, is not complete, is there twice, or is missing.
 */
export function mergeShards(paths: readonly string[], out: string): Header {
  if (existsSync(out)) throw new InputError(`${out}: is there already; give --out another file`);
  const parts = inOrder(paths.map(partOf));
  const header = headerOf(parts[0]!.header);
  const unfinished = `${out}.unfinished`;
  let file: number | undefined;
  try {
    file = openSync(unfinished, 'w');
    writeSync(file, lineOf(header));
    const to = file;
    for (const { path } of parts) readCampaign(path, { row: (_, line) => void writeSync(to, line) });
    closeSync(file);
    file = undefined;
    renameSync(unfinished, out);
  } catch (error) {
    if (file !== undefined) closeSync(file);
    rmSync(unfinished, { force: true });
    if (error instanceof InputError) throw error;
    throw new InputError(
      `${out}: cannot be written (${(error as NodeJS.ErrnoException).code}); write elsewhere or free some room`,
    );
  }
  return header;
}
