// Curves over the share of the jobs, as a small drawing for the page of results.

const WIDTH = 640;
const HEIGHT = 320;
const MARGIN = 48;
const COLOURS = ['#1f5f99', '#b3541e', '#4d7c2a', '#7a4b9a'] as const;

export type Curves = {
  readonly title: string;
  /** Of the upright axis. */
  readonly label: string;
  /** Marks of the upright axis, lowest and highest at its ends; what lies outside is drawn at the end. */
  readonly marks: readonly number[];
  /** Values at each per cent of the jobs. */
  readonly curves: readonly (readonly [name: string, curve: readonly number[]])[];
  /** Where the names of the curves stand. */
  readonly legendAtPercent: number;
};

export function curvesPlot({ title, label, marks, curves, legendAtPercent }: Curves): string {
  const least = Math.min(...marks);
  const most = Math.max(...marks);
  const x = (percent: number): number => MARGIN + (percent / 100) * (WIDTH - 2 * MARGIN);
  const y = (value: number): number => {
    const within = Math.min(Math.max(value, least), most);
    return HEIGHT - MARGIN - ((within - least) / (most - least)) * (HEIGHT - 2 * MARGIN);
  };
  const grid = marks.map(
    (value) =>
      `<line x1="${x(0)}" x2="${x(100)}" y1="${y(value)}" y2="${y(value)}" stroke="#ccc"/>` +
      `<text x="${x(0) - 8}" y="${y(value) + 4}" text-anchor="end">${value}</text>`,
  );
  const shares = [0, 25, 50, 75, 100].map(
    (value) => `<text x="${x(value)}" y="${y(least) + 18}" text-anchor="middle">${value}</text>`,
  );
  const legendFrom = legendAtPercent < 50 ? y(most) : y(least) - 16 * (curves.length + 1);
  const lines = curves.map(([name, curve], index) => {
    const colour = COLOURS[index % COLOURS.length];
    const points = curve.map((value, percent) => `${x(percent).toFixed(1)},${y(value).toFixed(1)}`).join(' ');
    return (
      `<polyline points="${points}" fill="none" stroke="${colour}" stroke-width="2"/>` +
      `<text x="${x(legendAtPercent)}" y="${legendFrom + 16 * (index + 1)}" fill="${colour}">${name}</text>`
    );
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="12" role="img">`,
    `<title>${title}</title>`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>`,
    ...grid,
    ...shares,
    `<text x="${x(50)}" y="${HEIGHT - 8}" text-anchor="middle">per cent of the jobs</text>`,
    `<text x="${x(0) - 36}" y="${y(most) - 12}">${label}</text>`,
    ...lines,
    '</svg>',
    '',
  ].join('\n');
}
