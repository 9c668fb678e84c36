// A chart: uPlot with the page's colours, stage bands behind the lines, as wide as its place.
import { useEffect, useRef } from 'preact/hooks';
import type uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { theme } from './settings.ts';
import { T } from './text.ts';

export type Line = {
  readonly label: string;
  /** A colour of the style sheet. */
  readonly colour: string;
  readonly dash?: readonly number[];
  readonly points?: boolean;
  readonly width?: number;
};

export type Band = { readonly from: number; readonly to: number; readonly name: string };

type ChartProps = {
  readonly label: string;
  readonly data: readonly (readonly (number | null)[])[];
  readonly lines: readonly Line[];
  readonly bands?: readonly Band[];
  readonly log?: boolean;
  readonly unit: string;
  readonly xUnit: string;
  readonly height?: number;
  readonly show: (value: number) => string;
};

let plots: Promise<typeof uPlot> | undefined;

/** Its first lines have the browser set up its number formats, which takes a tenth of a second: not while the page opens. */
export function fetchPlots(): Promise<typeof uPlot> {
  plots ??= import('uplot').then(
    (module) => module.default,
    (error: unknown) => {
      plots = undefined;
      throw error;
    },
  );
  return plots;
}

const colourOf = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();
const NARROWEST_NAMED = 64;

/** Whole decades, so that every one has its line inside the plot. */
function decades(least: number | null, most: number | null): readonly [from: number, to: number] {
  const from = Math.floor(Math.log10(Math.max(least ?? 1, 1)));
  const to = Math.ceil(Math.log10(Math.max(most ?? 1, 1)));
  return [10 ** from, 10 ** Math.max(to, from + 1)];
}

const linesOf = (from: number, to: number): number[] =>
  Array.from({ length: Math.round(Math.log10(to / from)) + 1 }, (_, index) => from * 10 ** index);

function drawBands(chart: uPlot, bands: readonly Band[]): void {
  const { ctx, bbox } = chart;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.font = `${11 * devicePixelRatio}px system-ui, sans-serif`;
  // The axes leave theirs behind.
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  for (const [index, { from, to, name }] of bands.entries()) {
    const left = chart.valToPos(from, 'x', true);
    const width = chart.valToPos(to, 'x', true) - left;
    if (index % 2 === 0) {
      ctx.fillStyle = colourOf('--band');
      ctx.fillRect(left, bbox.top, width, bbox.height);
    }
    if (left >= bbox.left - 1 && width > NARROWEST_NAMED * devicePixelRatio) {
      ctx.fillStyle = colourOf('--soft');
      ctx.fillText(
        name,
        left + 4 * devicePixelRatio,
        bbox.top + 13 * devicePixelRatio,
        width - 6 * devicePixelRatio,
      );
    }
  }
  ctx.restore();
}

function optionsOf(
  { lines, log, unit, xUnit, show }: ChartProps,
  bandsNow: () => readonly Band[],
  width: number,
  height: number,
): uPlot.Options {
  const axis = {
    stroke: colourOf('--soft'),
    grid: { stroke: colourOf('--grid'), width: 1 },
    ticks: { stroke: colourOf('--grid'), width: 1 },
    font: '12px system-ui, sans-serif',
    labelFont: '12px system-ui, sans-serif',
    labelSize: 20,
  };
  return {
    width,
    height,
    legend: { show: false },
    cursor: { y: false },
    scales: {
      x: { time: false },
      y: log ? { distr: 3, range: (_, least, most) => [...decades(least, most)] } : {},
    },
    axes: [
      { ...axis, label: xUnit, size: 30, labelSize: 18 },
      {
        ...axis,
        label: unit,
        size: 60,
        ...(log ? { splits: (_, __, from, to) => linesOf(from, to) } : {}),
        values: (_, splits) => splits.map((value) => (value === null ? '' : show(value))),
      },
    ],
    series: [
      {},
      ...lines.map(({ label, colour, dash, points = false, width: thick = 2 }) => ({
        label,
        stroke: colourOf(colour),
        width: points ? 0 : thick,
        ...(dash === undefined ? {} : { dash: [...dash] }),
        points: points ? { show: true, size: 4, fill: colourOf(colour), width: 0 } : { show: false },
        spanGaps: false,
      })),
    ],
    hooks: { drawAxes: [(chart) => drawBands(chart, bandsNow())] },
  };
}

export function Chart(props: ChartProps) {
  const { label, data, lines, bands = [], unit, height = 250 } = props;
  const place = useRef<HTMLDivElement>(null);
  const chart = useRef<uPlot>(undefined);
  const shown = useRef({ data, bands });
  shown.current = { data, bands };
  const kind = `${theme()} ${unit} ${lines.map((line) => line.label).join()}`;
  useEffect(() => {
    const holder = place.current!;
    let isGone = false;
    const make = (Plot: typeof uPlot) => {
      if (isGone) return;
      const options = optionsOf(props, () => shown.current.bands, holder.clientWidth, height);
      chart.current = new Plot(options, shown.current.data as uPlot.AlignedData, holder);
    };
    void fetchPlots().then(make, () => holder.replaceChildren(T.trends.notFetched));
    const watch = new ResizeObserver(() => chart.current?.setSize({ width: holder.clientWidth, height }));
    watch.observe(holder);
    return () => {
      isGone = true;
      watch.disconnect();
      chart.current?.destroy();
      chart.current = undefined;
    };
  }, [kind, height]);
  const newest = data[0]?.length ?? 0;
  useEffect(() => {
    chart.current?.setData(shown.current.data as uPlot.AlignedData);
  }, [newest, data[0]?.[0], data[0]?.at(-1)]);
  return (
    <div class="chart" role="img" aria-label={label}>
      <div ref={place} />
      <p class="chart-key" aria-hidden="true">
        {lines.map((line) => (
          <span key={line.label}>
            <svg viewBox="0 0 26 8" aria-hidden="true">
              <path
                d={line.points ? 'M4 4h0M13 4h0M22 4h0' : 'M0 4H26'}
                class={line.points ? 'dots' : ''}
                style={{ stroke: `var(${line.colour})`, strokeDasharray: line.dash?.join(' ') }}
              />
            </svg>
            {line.label}
          </span>
        ))}
      </p>
    </div>
  );
}
