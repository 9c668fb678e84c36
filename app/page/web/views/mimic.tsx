// The machine as a schematic, drawn from what is fitted: valves as commanded and as confirmed, paths that carry something.
// Tags after ISA-5.1.
import type { Output } from '../../../../controller/signals.ts';
import type { Snapshot } from '../../shown.ts';
import { inOne } from '../format.ts';
import { unitsNow } from '../settings.ts';
import { OUTPUT_NAMES, T } from '../text.ts';
import { Bottle, Bubble, Drive, Pipe, type State, Valve, ValveSymbol } from './symbols.tsx';

/** What the drawing says of its valves and drives. */
const inWords = ({ outputs }: Snapshot): string =>
  outputs
    .filter(({ fitted }) => fitted)
    .map(
      (view) =>
        `${OUTPUT_NAMES[view.output].name} ${view.on ? OUTPUT_NAMES[view.output].on : OUTPUT_NAMES[view.output].off}`,
    )
    .join(', ');

export function Mimic({ snapshot }: { readonly snapshot: Snapshot }) {
  const views = new Map(snapshot.outputs.map((view) => [view.output, view]));
  const on = (output: Output) => views.get(output)?.on === true;
  const fitted = (output: Output) => views.get(output)?.fitted === true;
  const { figures } = snapshot.progress;
  const units = unitsNow(snapshot.barometerPa);
  const pressure = (pressurePa: number | undefined) =>
    pressurePa === undefined ? T.figures.notRead : inOne(units.pressure(pressurePa));
  const hose = on('highSideValve') || on('lowSideValve');
  const recovers = on('recoveryValve') && on('compressor');
  const pumps = on('vacuumValve') && on('vacuumPump');
  const charges = on('chargeValve');
  const doses = on('oilValve') || on('dyeValve');
  const joined = hose && (recovers || pumps || charges || doses);
  const shareFull = Math.min(Math.max((figures.tankNetKg ?? 0) / snapshot.tank.fillLimitKg, 0), 1);
  const level = 150 * shareFull;
  const fan = snapshot.fanTurns;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
    <section class="mimic-frame" tabIndex={0} aria-label={T.machine.mimic}>
      <svg
        class="mimic"
        viewBox="0 0 1080 590"
        role="img"
        aria-label={`${T.machine.mimic}: ${inWords(snapshot)}`}
      >
        <Pipe d="M130 190H318" flows={on('lowSideValve') && joined} kind="low" />
        <Pipe d="M130 400H318" flows={on('highSideValve') && joined} kind="high" />
        <path class={`manifold ${joined ? 'flows' : ''}`} d="M318 84V530" />
        <Pipe d="M318 106H770M846 106H888V226" flows={recovers} />
        <Pipe d="M318 440H560" flows={pumps} />
        <Pipe d="M318 530H952V318H920" flows={charges && hose} kind="liquid" />
        {fitted('oilValve') ? <Pipe d="M318 302H470" flows={on('oilValve') && hose} /> : null}
        {fitted('dyeValve') ? <Pipe d="M318 368H470" flows={on('dyeValve') && hose} /> : null}
        {fitted('separatorDrainValve') ? <Pipe d="M500 130V216" flows={on('separatorDrainValve')} /> : null}
        {fitted('airPurgeValve') ? <Pipe d="M912 226V150H1000" flows={on('airPurgeValve')} /> : null}

        <g class="vessel">
          <rect x="24" y="150" width="106" height="290" rx="14" />
          <text class="name" x="77" y="285" text-anchor="middle">
            {snapshot.ticket.service === 'fill-tank' ? T.machine.cylinder : T.machine.vehicle}
          </text>
          <circle class="port low" cx="130" cy="190" r="7" />
          <circle class="port high" cx="130" cy="400" r="7" />
        </g>
        <Bubble x={200} y={145} tag="PT-2" text={pressure(figures.lowSidePa)} tone="low" />
        <Bubble x={200} y={355} tag="PT-1" text={pressure(figures.highSidePa)} tone="high" />
        <Bubble
          x={318}
          y={48}
          tag="PT-4"
          text={
            figures.manifoldPa === undefined
              ? snapshot.manifoldOverSpan
                ? T.figures.overSpan
                : T.figures.notRead
              : inOne(units.vacuum(figures.manifoldPa))
          }
        />
        <text class="name soft" x="306" y="300" text-anchor="middle" transform="rotate(-90 306 300)">
          {T.machine.manifold}
        </text>
        <Valve views={views} output="lowSideValve" x={279} y={190} label="before" />
        <Valve views={views} output="highSideValve" x={279} y={400} label="before" />
        <Valve views={views} output="recoveryValve" x={400} y={106} />
        <g class="vessel">
          <rect x="474" y="78" width="52" height="56" rx="20" />
          <text class="name" x="500" y="68" text-anchor="middle">
            {T.machine.separator}
          </text>
          <rect x="566" y="88" width="60" height="36" rx="18" />
          <path class="thin" d="M586 88V124M606 88V124" />
          <text class="name" x="596" y="78" text-anchor="middle">
            {T.machine.drier}
          </text>
        </g>
        <Drive x={690} y={106} runs={on('compressor')} letter="K-1" kind="compressor" />
        <path class="check" d="M738 94V118L758 106zM758 94V118" />
        <g class="vessel">
          <rect x="770" y="76" width="76" height="60" rx="3" />
          <path class="thin" d="M774 106h10l6 -18l12 36l12 -36l12 36l6 -18h10" />
          <text class="name" x="808" y="66" text-anchor="middle">
            {T.machine.condenser}
          </text>
        </g>
        <g class={`drive ${fan === true ? 'runs' : ''}`}>
          <path d="M784 160c-22 -12 -22 12 0 0c22 -12 22 12 0 0" />
          <text class="tag" x="808" y="165" text-anchor="start">
            M-1{' '}
            <tspan class={`st ${fan === true ? 'open' : 'shut'}`}>
              {fan === undefined ? T.machine.fanUnknown : fan ? T.machine.fanRuns : T.machine.fanStands}
            </tspan>
          </text>
        </g>
        <Valve views={views} output="separatorDrainValve" x={500} y={176} upright label="left" />
        {fitted('separatorDrainValve') ? (
          <g class="vessel">
            <path d="M484 216H516V236L522 246V262H478V246L484 236z" />
            <text class="name" x="532" y="250">
              {T.machine.catchBottle}
            </text>
          </g>
        ) : null}
        <Valve views={views} output="oilValve" x={400} y={302} />
        {fitted('oilValve') ? <Bottle x={470} y={302} name={T.machine.oil} /> : null}
        <Valve views={views} output="dyeValve" x={400} y={368} />
        {fitted('dyeValve') ? <Bottle x={470} y={368} name={T.machine.dye} /> : null}
        <Valve views={views} output="vacuumValve" x={400} y={440} />
        <Drive x={520} y={440} runs={on('vacuumPump')} letter="P-1" kind="pump" />
        <path class="pipe vent" d="M545 440H592M584 433L594 440L584 447" />
        <text class="name soft" x="602" y="445">
          {T.machine.outdoors}
        </text>
        <Valve views={views} output="chargeValve" x={400} y={530} />

        <g class="vessel tank">
          <path
            class="liquid"
            d={`M852 ${420 - level}H920V${404}a16 16 0 0 1 -16 16H868a16 16 0 0 1 -16 -16z`}
          />
          <rect x="852" y="226" width="68" height="194" rx="18" />
          <text class="name" x="840" y="240" text-anchor="end">
            {T.machine.tank}
          </text>
          <path class="scale" d="M836 432H936M846 432L840 452H932L926 432" />
        </g>
        {fitted('tankHeater') ? (
          <g class={`drive ${on('tankHeater') ? 'runs' : ''}`}>
            <path class="thin" d="M858 398h8l4 -8l7 16l7 -16l7 16l7 -16l4 8h8" />
            <text class="tag" x="840" y="404" text-anchor="end">
              E-1{' '}
              <tspan class={`st ${on('tankHeater') ? 'open' : 'shut'}`}>
                {on('tankHeater') ? OUTPUT_NAMES.tankHeater.on : OUTPUT_NAMES.tankHeater.off}
              </tspan>
            </text>
          </g>
        ) : null}
        <Valve views={views} output="airPurgeValve" x={912} y={186} upright label="right" />
        <Bubble x={780} y={280} tag="PT-3" text={pressure(figures.tankPa)} />
        <Bubble
          x={780}
          y={332}
          tag="TT-1"
          text={
            figures.tankTemperatureK === undefined
              ? T.figures.notRead
              : inOne(units.temperature(figures.tankTemperatureK))
          }
        />
        <Bubble
          x={886}
          y={480}
          tag={`WT-1 ${T.machine.scale}`}
          text={figures.tankNetKg === undefined ? T.figures.notRead : inOne(units.content(figures.tankNetKg))}
        />
      </svg>
    </section>
  );
}

export function Legend() {
  const entries: readonly (readonly [State, string])[] = [
    ['shut', T.machine.legendShut],
    ['open', T.machine.legendOpen],
    ['moving', T.machine.legendMoving],
    ['held', T.machine.legendHeld],
  ];
  return (
    <div class="legend">
      {entries.map(([state, text]) => (
        <span key={state}>
          <svg viewBox="-20 -34 40 48" aria-hidden="true">
            <ValveSymbol x={0} y={0} state={state} />
          </svg>
          {text}
        </span>
      ))}
      <p class="quiet">{T.machine.confirmed}</p>
    </div>
  );
}
