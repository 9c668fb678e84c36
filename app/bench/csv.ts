// A recording as CSV (RFC 4180): the columns of a trace, a row for every scan.

import { TextFile } from '../cli/text-file.ts';
import { TRACE_HEADER, traceRow } from '../run/trace.ts';
import type { ExportTo } from './export.ts';

export const csv: ExportTo = (path) => {
  const file = new TextFile(path);
  file.write(`${TRACE_HEADER}\n`);
  return {
    take: (scan) => file.write(`${traceRow(scan)}\n`),
    end: () => file.close(),
    drop: () => file.drop(),
  };
};
