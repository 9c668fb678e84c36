// A recording as Apache Parquet: the columns of a trace with their exact values, a row for every scan.
import { ByteWriter, type ColumnSource, ParquetWriter, schemaFromColumnData } from 'hyparquet-writer';
import manifest from '../../package.json' with { type: 'json' };
import { BinaryFile } from '../cli/text-file.ts';
import { TRACE_COLUMNS, type TraceColumn } from '../run/trace.ts';
import type { Export, ExportTo } from './export.ts';
import type { Opening, RecordedScan } from './recording.ts';

/** So many rows are held in memory. */
const GROUP_ROWS = 10_000;

const TYPES = { number: 'DOUBLE', bit: 'BOOLEAN', text: 'STRING' } as const;

const cellOf = (column: TraceColumn, scan: RecordedScan): number | boolean | string | null =>
  column.of(scan) ?? null;

class ParquetExport implements Export {
  readonly #file: BinaryFile;
  readonly #bytes = new ByteWriter();
  readonly #writer: ParquetWriter;
  readonly #rows: RecordedScan[] = [];

  constructor(path: string, { name, rig }: Opening) {
    this.#file = new BinaryFile(path);
    this.#writer = new ParquetWriter({
      writer: this.#bytes,
      schema: schemaFromColumnData({ columnData: this.#columns() }),
      createdBy: `coldbench version ${manifest.version}`,
      kvMetadata: [
        { key: 'name', value: name },
        { key: 'rig', value: rig },
      ],
    });
  }

  take(scan: RecordedScan): void {
    this.#rows.push(scan);
    if (this.#rows.length === GROUP_ROWS) this.#group();
  }

  end(): void {
    if (this.#rows.length > 0) this.#group();
    this.#writer.finish();
    this.#hand();
    this.#file.close();
  }

  drop(): void {
    this.#file.close();
  }

  #columns(): ColumnSource[] {
    return TRACE_COLUMNS.map((column) => ({
      name: column.header,
      type: TYPES[column.kind],
      data: this.#rows.map((scan) => cellOf(column, scan)),
    }));
  }

  #group(): void {
    this.#writer.write({ columnData: this.#columns(), rowGroupSize: GROUP_ROWS });
    this.#rows.length = 0;
    this.#hand();
  }

  /** Offsets count on in the writer; only its bytes are handed over. */
  #hand(): void {
    this.#file.write(new Uint8Array(this.#bytes.buffer, 0, this.#bytes.index));
    this.#bytes.index = 0;
  }
}

export const parquet: ExportTo = (path, opening) => new ParquetExport(path, opening);
