// The symbols of the schematic, in the manner of ISO 14617 (valve, pump, compressor, vessel): this project's own drawing.
import type { Output } from '../../../../controller/signals.ts';
import type { OutputView } from '../../shown.ts';
import { OUTPUT_NAMES, T } from '../text.ts';

export type State = 'shut' | 'open' | 'moving' | 'held' | 'missing';

const stateOf = ({ fitted, on, wanted, settled }: OutputView): State => {
  if (!fitted) return 'missing';
  if (wanted && !on) return 'held';
  if (!settled) return 'moving';
  return on ? 'open' : 'shut';
};

const SHORT: { readonly [S in State]: string } = {
  shut: T.machine.legendShut,
  open: T.machine.legendOpen,
  moving: '…',
  held: '⊘',
  missing: '',
};

/** Two triangles tip to tip, a stem and the box of the solenoid: filled when it is open. */
export function ValveSymbol({
  x,
  y,
  state,
  upright = false,
  target,
}: {
  readonly x: number;
  readonly y: number;
  readonly state: State;
  readonly upright?: boolean;
  readonly target?: boolean | undefined;
}) {
  return (
    <g class={`valve ${state} ${target ? 'target' : ''}`} transform={`translate(${x} ${y})`}>
      <g transform={upright ? 'rotate(90)' : undefined}>
        <path d="M-17 -11L17 11V-11L-17 11z" />
        <path class="stem" d="M0 0V-19M-8 -19H8V-31H-8z" />
      </g>
    </g>
  );
}

export function Valve({
  views,
  output,
  x,
  y,
  upright = false,
  label = 'below',
}: {
  readonly views: ReadonlyMap<Output, OutputView>;
  readonly output: Output;
  readonly x: number;
  readonly y: number;
  readonly upright?: boolean;
  readonly label?: 'below' | 'before' | 'right' | 'left';
}) {
  const view = views.get(output)!;
  const state = stateOf(view);
  if (state === 'missing') return null;
  const { tag } = OUTPUT_NAMES[output];
  const [dx, dy, anchor] =
    label === 'below'
      ? [0, 29, 'middle']
      : label === 'before'
        ? [22, 29, 'end']
        : label === 'right'
          ? [40, 5, 'start']
          : [-22, 5, 'end'];
  return (
    <g>
      <ValveSymbol x={x} y={y} state={state} upright={upright} />
      <text class="tag" x={x + dx} y={y + dy} text-anchor={anchor}>
        {tag} <tspan class={`st ${state}`}>{SHORT[state]}</tspan>
      </text>
    </g>
  );
}

export const Pipe = ({
  d,
  flows,
  kind = '',
}: {
  readonly d: string;
  readonly flows?: boolean;
  readonly kind?: string;
}) => <path class={`pipe ${kind} ${flows ? 'flows' : ''}`} d={d} />;

export function Drive({
  x,
  y,
  runs,
  letter,
  kind,
}: {
  readonly x: number;
  readonly y: number;
  readonly runs: boolean;
  readonly letter: string;
  readonly kind: 'compressor' | 'pump';
}) {
  return (
    <g class={`drive ${runs ? 'runs' : ''}`}>
      <circle cx={x} cy={y} r="25" />
      <path
        d={
          kind === 'compressor'
            ? `M${x - 17} ${y - 18}L${x + 23} ${y - 9}M${x - 17} ${y + 18}L${x + 23} ${y + 9}`
            : `M${x} ${y - 25}L${x + 25} ${y}L${x} ${y + 25}`
        }
      />
      <text class="tag" x={x} y={y + 44} text-anchor="middle">
        {letter}{' '}
        <tspan class={`st ${runs ? 'open' : 'shut'}`}>
          {runs ? OUTPUT_NAMES.compressor.on : OUTPUT_NAMES.compressor.off}
        </tspan>
      </text>
    </g>
  );
}

export function Bubble({
  x,
  y,
  tag,
  text,
  tone = '',
}: {
  readonly x: number;
  readonly y: number;
  readonly tag: string;
  readonly text: string;
  readonly tone?: string;
}) {
  const width = Math.max(108, 10 + 10.5 * text.length);
  return (
    <g class={`bubble ${tone}`}>
      <rect x={x - width / 2} y={y - 21} width={width} height="42" rx="4" />
      <text class="bubble-tag" x={x} y={y - 6} text-anchor="middle">
        {tag}
      </text>
      <text class="bubble-value" x={x} y={y + 14} text-anchor="middle">
        {text}
      </text>
    </g>
  );
}

export function Bottle({ x, y, name }: { readonly x: number; readonly y: number; readonly name: string }) {
  return (
    <g class="vessel">
      <path
        d={`M${x} ${y - 9}H${x + 16}L${x + 26} ${y - 16}H${x + 62}V${y + 16}H${x + 26}L${x + 16} ${y + 9}H${x}z`}
      />
      <text class="name" x={x + 72} y={y + 5}>
        {name}
      </text>
    </g>
  );
}
