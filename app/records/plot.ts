// Small plots as inline SVG, readable in print: one curve over time, its axes and its unit.

export type Point = readonly [x: number, y: number];
export type Plot = {
  readonly title: string;
  readonly xUnit: string;
  readonly yUnit: string;
  readonly curves: readonly { readonly name: string; readonly points: readonly Point[] }[];
};

export type Size = { readonly width: number; readonly height: number };
/** Over the whole width of a page, and one of three beside each other. */
const WIDE: Size = { width: 640, height: 200 };
export const THIRD: Size = { width: 300, height: 190 };

const LEFT = 44;
const RIGHT = 12;
const TOP = 22;
const LEGEND = 14;
const BOTTOM = 34;
/** More points than a printer has dots say nothing. */
const MOST_POINTS = 600;
/** Told apart without colour too. */
const DASHES = ['', '6 3', '2 3'];
const COLOURS = ['#1a4f8a', '#a03c14', '#2f6b2f'];

/** Round steps of 1, 2 or 5. */
function ticks(from: number, to: number): readonly number[] {
  const rough = (to - from) / 5 || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10) * power;
  const first = Math.ceil(from / step) * step;
  return Array.from(
    { length: Math.floor((to - first) / step + 1e-9) + 1 },
    (_, index) => first + index * step,
  );
}

const thinned = (points: readonly Point[]): readonly Point[] => {
  const every = Math.max(1, Math.ceil(points.length / MOST_POINTS));
  return points.filter((_, index) => index % every === 0 || index === points.length - 1);
};

const label = (value: number): string => String(Number(value.toPrecision(4)));

export function svgOf({ title, xUnit, yUnit, curves }: Plot, { width, height }: Size = WIDE): string {
  const all = curves.flatMap(({ points }) => points);
  if (all.length < 2) return '';
  const [xs, ys] = [all.map(([x]) => x), all.map(([, y]) => y)];
  const [x0, x1] = [xs.reduce((a, b) => Math.min(a, b)), xs.reduce((a, b) => Math.max(a, b))];
  const [low, high] = [ys.reduce((a, b) => Math.min(a, b)), ys.reduce((a, b) => Math.max(a, b))];
  const top = TOP + (curves.length > 1 ? LEGEND : 0);
  const pad = (high - low || 1) * 0.05;
  const [y0, y1] = [low - pad, high + pad];
  const px = (x: number): number => LEFT + ((x - x0) / (x1 - x0 || 1)) * (width - LEFT - RIGHT);
  const py = (y: number): number => height - BOTTOM - ((y - y0) / (y1 - y0)) * (height - top - BOTTOM);
  const grid = [
    ...ticks(y0, y1).map(
      (y) =>
        `<line x1="${LEFT}" x2="${width - RIGHT}" y1="${py(y).toFixed(1)}" y2="${py(y).toFixed(1)}" class="rule"/>` +
        `<text x="${LEFT - 4}" y="${(py(y) + 4).toFixed(1)}" text-anchor="end">${label(y)}</text>`,
    ),
    ...ticks(x0, x1).map(
      (x) =>
        `<text x="${px(x).toFixed(1)}" y="${height - BOTTOM + 14}" text-anchor="middle">${label(x)}</text>`,
    ),
  ];
  const lines = curves.map(({ points }, index) => {
    const path = thinned(points).map(([x, y]) => `${px(x).toFixed(1)},${py(y).toFixed(1)}`);
    return `<polyline points="${path.join(' ')}" fill="none" stroke="${COLOURS[index % 3]}" stroke-width="1.4" stroke-dasharray="${DASHES[index % 3]}"/>`;
  });
  const legend = curves.map(
    ({ name }, index) =>
      `<tspan fill="${COLOURS[index % 3]}" dx="${index === 0 ? 0 : 12}">${['—', '– –', '···'][index % 3]} ${name}</tspan>`,
  );
  const named = curves.length > 1 ? `<text x="${LEFT}" y="${14 + LEGEND}">${legend.join('')}</text>` : '';
  return `<svg viewBox="0 0 ${width} ${height}" role="img" aria-label="${title}">
<text x="${LEFT}" y="14" class="title">${title}, ${yUnit}</text>${named}
${grid.join('\n')}
<rect x="${LEFT}" y="${top}" width="${width - LEFT - RIGHT}" height="${height - top - BOTTOM}" fill="none" stroke="#444"/>
${lines.join('\n')}
<text x="${width - RIGHT}" y="${height - 4}" text-anchor="end">${xUnit}</text>
</svg>`;
}
