// Two dials, a logarithmic vacuum scale: drawn from the figures of the last look.

import { toMicrons, toPsi } from '../../../units.ts';
import type { Dome } from '../../shown.ts';
import { inOne, readWith, type Shown, saturationOf } from '../format.ts';
import { isFahrenheit, isMetricPressure, unitsNow } from '../settings.ts';
import { T } from '../text.ts';

const BAR_PA = 1e5;
/** From a quarter to eight, clockwise over the top, to a quarter past four. */
const FROM_DEG = -225;
const SWEEP_DEG = 270;

type Range = { readonly from: number; readonly to: number; readonly step: number; readonly minor: number };
const RANGES = {
  low: { bar: { from: -1, to: 10, step: 1, minor: 0.5 }, psi: { from: -15, to: 150, step: 15, minor: 5 } },
  high: { bar: { from: -1, to: 30, step: 5, minor: 1 }, psi: { from: -15, to: 450, step: 50, minor: 10 } },
} as const satisfies { readonly [side: string]: { readonly bar: Range; readonly psi: Range } };

const polar = (radius: number, degrees: number) => {
  const radians = (degrees * Math.PI) / 180;
  return [100 + radius * Math.cos(radians), 100 + radius * Math.sin(radians)] as const;
};
const fixed = (value: number) => value.toFixed(1);
const tick = (degrees: number, inner: number, outer: number) => {
  const [x1, y1] = polar(inner, degrees);
  const [x2, y2] = polar(outer, degrees);
  return `M${fixed(x1)} ${fixed(y1)}L${fixed(x2)} ${fixed(y2)}`;
};

function marks({ from, to, step, minor }: Range): { readonly major: number[]; readonly small: number[] } {
  const first = Math.ceil(from / step) * step;
  const major = [
    ...(first - from >= 0.6 * step || first === from ? [from] : []),
    ...Array.from({ length: Math.floor((to - first) / step) + 1 }, (_, i) => first + i * step),
  ];
  const small = Array.from(
    { length: Math.floor((to - from) / minor + 1e-6) + 1 },
    (_, i) => from + i * minor,
  );
  return { major: [...new Set(major)], small };
}

export function Dial({
  side,
  pressurePa,
  saturationK,
  ambientPa,
  dome,
}: {
  readonly side: 'low' | 'high';
  readonly pressurePa: number | undefined;
  readonly saturationK: number | undefined;
  readonly ambientPa: number;
  readonly dome: Dome;
}) {
  const metric = isMetricPressure();
  const range: Range = RANGES[side][metric ? 'bar' : 'psi'];
  const toScale = (gaugePa: number) => (metric ? gaugePa / BAR_PA : toPsi(gaugePa));
  const angle = (value: number) =>
    FROM_DEG + SWEEP_DEG * Math.min(Math.max((value - range.from) / (range.to - range.from), -0.01), 1.01);
  const { major, small } = marks(range);
  const units = unitsNow(ambientPa);
  const shown: Shown = readWith(pressurePa, units.pressure);
  const value = pressurePa === undefined ? undefined : toScale(pressurePa - ambientPa);
  const every = isFahrenheit() ? 20 : 10;
  const kelvin = (shownDegree: number) => (isFahrenheit() ? (shownDegree - 32) / 1.8 : shownDegree) + 273.15;
  const rings = Array.from({ length: 16 }, (_, i) => (i - 4) * every)
    .filter((one) => kelvin(one) > dome.temperatureK[0]! && kelvin(one) < dome.temperatureK.at(-1)!)
    .map((one) => ({ one, at: toScale(saturationOf(dome, kelvin(one)) - ambientPa) }))
    .filter(({ at }) => at >= range.from && at <= range.to);
  const spaced = rings.filter(
    ({ at }, index) => index === 0 || angle(at) - angle(rings[index - 1]!.at) > 11 || index % 2 === 0,
  );
  const wide = spaced.filter(({ at }, index) => index === 0 || angle(at) - angle(spaced[index - 1]!.at) > 11);
  const needle = value === undefined ? undefined : angle(value);
  const name = side === 'low' ? T.figures.low : T.figures.high;
  const degreeUnit = isFahrenheit() ? '°F' : '°C';
  return (
    <figure class={`dial ${side}`}>
      <figcaption>{name}</figcaption>
      <svg viewBox="0 0 200 200" role="img" aria-label={`${name}: ${shown.value} ${shown.unit}`}>
        <circle class="face" cx="100" cy="100" r="94" />
        <path class="tick small" d={small.map((one) => tick(angle(one), 82, 88)).join('')} />
        <path class="tick" d={major.map((one) => tick(angle(one), 79, 88)).join('')} />
        {major.map((one) => {
          const [x, y] = polar(69, angle(one));
          return (
            <text key={one} class="number" x={fixed(x)} y={fixed(y + 3)}>
              {String(one).replace('-', '−')}
            </text>
          );
        })}
        <path class="ring" d={arc(54, FROM_DEG, FROM_DEG + SWEEP_DEG)} />
        <path class="tick inner" d={wide.map(({ at }) => tick(angle(at), 51, 56)).join('')} />
        {wide.map(({ one, at }) => {
          const [x, y] = polar(44, angle(at));
          return (
            <text key={one} class="number inner" x={fixed(x)} y={fixed(y + 2.5)}>
              {String(one).replace('-', '−')}
            </text>
          );
        })}
        <text class="dial-unit" x="100" y="152">
          {metric ? 'bar' : 'psi'} {T.figures.gauge}
        </text>
        <text class="dial-unit soft" x="100" y="164">
          {dome.refrigerant} {degreeUnit}
        </text>
        {needle === undefined ? null : (
          <g class="needle" style={{ transform: `rotate(${needle.toFixed(2)}deg)` }}>
            <path d="M-16 -2.4L76 -0.7L76 0.7L-16 2.4z" />
          </g>
        )}
        <circle class="hub" cx="100" cy="100" r="6" />
      </svg>
      <p class="dial-value">
        <b>{shown.value}</b> {shown.unit}
      </p>
      <p class="dial-saturation">
        {T.figures.saturation}{' '}
        <b>{saturationK === undefined ? '–' : inOne(units.temperature(saturationK))}</b>
      </p>
    </figure>
  );
}

function arc(radius: number, from: number, to: number): string {
  const [x1, y1] = polar(radius, from);
  const [x2, y2] = polar(radius, to);
  return `M${fixed(x1)} ${fixed(y1)}A${radius} ${radius} 0 1 1 ${fixed(x2)} ${fixed(y2)}`;
}

const VACUUM_FROM_PA = 10;
const VACUUM_TO_PA = 100_000;

export function VacuumScale({
  manifoldPa,
  vehiclePa,
  overSpan,
  ambientPa,
}: {
  readonly manifoldPa: number | undefined;
  readonly vehiclePa: number | undefined;
  readonly overSpan: boolean;
  readonly ambientPa: number;
}) {
  const metric = isMetricPressure();
  const units = unitsNow(ambientPa);
  const place = (pressurePa: number) =>
    20 +
    560 *
      Math.min(
        Math.max(Math.log(pressurePa / VACUUM_FROM_PA) / Math.log(VACUUM_TO_PA / VACUUM_FROM_PA), 0),
        1,
      );
  const decades = [10, 100, 1000, 10_000, 100_000];
  const values = metric ? decades : [100, 1000, 10_000, 100_000, 700_000];
  const toPa = (value: number) => (metric ? value : (value / toMicrons(1)) * 1);
  const name = (value: number) => (value >= 1000 ? `${value / 1000} k` : String(value));
  const smaller = decades.slice(0, -1).flatMap((decade) => [2, 3, 4, 5, 6, 7, 8, 9].map((n) => n * decade));
  const pointers = [
    { key: T.trends.manifold, pressurePa: manifoldPa, above: true },
    { key: T.trends.vehicle, pressurePa: vehiclePa, above: false },
  ];
  const shown = (pressurePa: number | undefined) =>
    pressurePa === undefined ? T.figures.notRead : inOne(units.vacuum(pressurePa));
  const manifold = overSpan && manifoldPa === undefined ? T.figures.overSpan : shown(manifoldPa);
  return (
    <figure class="vacuum">
      <svg viewBox="0 0 600 78" role="img" aria-label={`${T.machine.vacuumScale}: ${manifold}`}>
        <path class="bar" d="M20 37H580" />
        <path class="tick small" d={smaller.map((one) => `M${fixed(place(one))} 33V41`).join('')} />
        <path class="tick" d={values.map((one) => `M${fixed(place(toPa(one)))} 30V44`).join('')} />
        {values.map((one, index) => (
          <text
            key={one}
            class="number"
            x={fixed(place(toPa(one)))}
            y="66"
            text-anchor={index === 0 ? 'start' : index === values.length - 1 ? 'end' : 'middle'}
          >
            {name(one)}
          </text>
        ))}
        {pointers.map(({ key, pressurePa, above }) =>
          pressurePa === undefined ? null : (
            <path
              key={key}
              class={`pointer ${above ? '' : 'second'}`}
              d={above ? 'M0 36L-7 20H7z' : 'M0 38L-6 52H6z'}
              transform={`translate(${fixed(place(Math.max(pressurePa, VACUUM_FROM_PA)))} 0)`}
            />
          ),
        )}
      </svg>
      <figcaption>
        <span>
          ▼ {T.trends.manifold} <b>{manifold}</b>
        </span>
        <span>
          ▲ {T.trends.vehicle} <b>{shown(vehiclePa)}</b>
        </span>
        <span class="quiet">
          {metric ? 'Pa' : 'micron'} {T.figures.absolute}
        </span>
      </figcaption>
    </figure>
  );
}
