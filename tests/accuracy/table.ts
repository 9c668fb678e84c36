// A table of the page of results.

const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;

/** The first column to the left, figures to the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const rule = head.map((_, index) => (index === 0 ? '---' : '---:'));
  return [row(head), row(rule), ...rows.map(row)].join('\n');
}
