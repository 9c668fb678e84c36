// What the generated pages of hazards and interlocks share.

export const code = (text: string): string => `\`${text}\``;

export const section = (title: string, ...parts: readonly string[]): string =>
  [`## ${title}`, ...parts].join('\n\n');

/** Cells as they come: these tables are too wide to be read in columns of plain text. */
export function table(rows: readonly (readonly string[])[]): string {
  const [head = []] = rows;
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.slice(1).map(line)].join('\n');
}
