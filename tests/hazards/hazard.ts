// The shape of one row of the table of hazards.

/** A test by its file under tests/ and its title, or the part of the title that stands in the file or its cases. */
export type Proof = readonly [file: string, title: string];

export type Hazard = {
  readonly hazard: string;
  readonly cause: string;
  /** How the machine sees it, or why it cannot. */
  readonly detection: string;
  /** What is done about it. */
  readonly answer: string;
  /** Rows of the interlock table; a row that stands once for each output by its number. */
  readonly interlocks: readonly string[];
  /** `rig` is what must be wired or built so, and no program can stand in for; `firmware` is the board's own. */
  readonly layers: readonly ('rig' | 'firmware' | 'controller')[];
  /** `in part`: what is left open is said in `answer`. */
  readonly status: 'covered' | 'in part' | 'outside';
  readonly proof: readonly Proof[];
  /** The same without the hazard: nothing is forbidden or said. */
  readonly twin: readonly Proof[];
};

export const ROWS = 'controller/interlocks/rows.test.ts';
export const MEMORY = 'controller/interlocks/memory.test.ts';
export const ARRIVAL = 'controller/interlocks/arrival-watch.test.ts';
