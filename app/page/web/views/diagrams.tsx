// Pressure over temperature and over enthalpy, with the points at which tank and vehicle stand.

import { toCelsius, toFahrenheit, toPsi } from '../../../units.ts';
import type { Dome, Snapshot } from '../../shown.ts';
import { saturationOf } from '../format.ts';
import { isFahrenheit, isMetricPressure } from '../settings.ts';
import { T } from '../text.ts';
import { mixed, vehicleState } from './states.ts';

const BAR_PA = 1e5;
const LEFT = 52;
const RIGHT = 470;
const TOP = 14;
const BOTTOM = 266;
const COLDEST_K = 243.15;
const HOTTEST_K = 343.15;

type Point = {
  readonly name: string;
  readonly mark: string;
  readonly x: number;
  readonly y: number;
  readonly tone: string;
};

const clamp = (value: number, low: number, high: number) => Math.min(Math.max(value, low), high);
const f = (value: number) => value.toFixed(1);

function Frame({
  label,
  xs,
  ys,
  xUnit,
  yUnit,
  children,
  points,
}: {
  readonly label: string;
  readonly xs: readonly (readonly [number, string])[];
  readonly ys: readonly (readonly [number, string])[];
  readonly xUnit: string;
  readonly yUnit: string;
  readonly children: preact.ComponentChildren;
  readonly points: readonly Point[];
}) {
  return (
    <figure class="diagram">
      <figcaption>{label}</figcaption>
      <svg
        viewBox="0 0 480 306"
        role="img"
        aria-label={`${label}: ${points.map(({ name }) => name).join(', ')}`}
      >
        {xs.map(([x, name]) => (
          <g key={name}>
            <path class="grid" d={`M${f(x)} ${TOP}V${BOTTOM}`} />
            <text class="number" x={f(x)} y={BOTTOM + 16} text-anchor="middle">
              {name}
            </text>
          </g>
        ))}
        {ys.map(([y, name]) => (
          <g key={name}>
            <path class="grid" d={`M${LEFT} ${f(y)}H${RIGHT}`} />
            <text class="number" x={LEFT - 6} y={f(y + 4)} text-anchor="end">
              {name}
            </text>
          </g>
        ))}
        <text class="number" x={RIGHT} y={BOTTOM + 34} text-anchor="end">
          {xUnit}
        </text>
        <text class="number" x={LEFT + 4} y={TOP + 10}>
          {yUnit}
        </text>
        {children}
        {points.map(({ name, mark, x, y, tone }) => (
          <g key={name} class={`point ${tone}`}>
            <circle cx={f(x)} cy={f(y)} r="9" />
            <text x={f(x)} y={f(y + 4)} text-anchor="middle">
              {mark}
            </text>
          </g>
        ))}
      </svg>
      <ul class="diagram-key">
        {points.map(({ name, mark, tone }) => (
          <li key={name}>
            <span class={`point-key ${tone}`}>{mark}</span> {name}
          </li>
        ))}
      </ul>
    </figure>
  );
}

export function PressureTemperature({
  snapshot,
  dome,
}: {
  readonly snapshot: Snapshot;
  readonly dome: Dome;
}) {
  const { figures } = snapshot.progress;
  const { ambientK, barometerPa } = snapshot;
  const metric = isMetricPressure();
  const degree = isFahrenheit() ? toFahrenheit : toCelsius;
  const topPa = 20 * BAR_PA;
  const x = (temperatureK: number) =>
    LEFT +
    ((RIGHT - LEFT) * (clamp(temperatureK, COLDEST_K, HOTTEST_K) - COLDEST_K)) / (HOTTEST_K - COLDEST_K);
  const y = (gaugePa: number) =>
    BOTTOM - ((BOTTOM - TOP) * (clamp(gaugePa, -BAR_PA, topPa) + BAR_PA)) / (topPa + BAR_PA);
  const line = dome.temperatureK
    .map((temperatureK, index) => [temperatureK, dome.pressurePa[index]! - barometerPa] as const)
    .filter(([temperatureK, pa]) => temperatureK >= COLDEST_K && temperatureK <= HOTTEST_K && pa <= topPa)
    .map(([temperatureK, pa], index) => `${index === 0 ? 'M' : 'L'}${f(x(temperatureK))} ${f(y(pa))}`)
    .join('');
  const celsius = [-20, 0, 20, 40, 60];
  const fahrenheit = [0, 40, 80, 120];
  const xs = isFahrenheit()
    ? fahrenheit.map((one) => [x((one - 32) / 1.8 + 273.15), String(one)] as const)
    : celsius.map((one) => [x(one + 273.15), String(one).replace('-', '−')] as const);
  const ys = (metric ? [0, 5, 10, 15, 20] : [0, 75, 150, 225]).map(
    (one) => [y(metric ? one * BAR_PA : (one / toPsi(1)) * 1), String(one)] as const,
  );
  const points: Point[] = [];
  const put = (
    name: string,
    mark: string,
    tone: string,
    temperatureK: number | undefined,
    pressurePa: number | undefined,
  ) => {
    if (temperatureK !== undefined && pressurePa !== undefined)
      points.push({
        name: `${name} ${degree(temperatureK).toFixed(1).replace('-', '−')} ${isFahrenheit() ? '°F' : '°C'}`,
        mark,
        tone,
        x: x(temperatureK),
        y: y(pressurePa - barometerPa),
      });
  };
  put(T.lessons.low, 'L', 'low', ambientK, figures.lowSidePa);
  put(T.lessons.high, 'H', 'high', ambientK, figures.highSidePa);
  put(T.lessons.tank, 'T', 'tank', figures.tankTemperatureK, figures.tankPa);
  const vehicle = vehicleState(snapshot, dome);
  put(T.lessons.vehicle, 'V', 'vehicle', vehicle?.temperatureK, vehicle?.pressurePa);
  return (
    <Frame
      label={T.lessons.pT}
      xs={xs}
      ys={ys}
      xUnit={isFahrenheit() ? '°F' : '°C'}
      yUnit={`${metric ? 'bar' : 'psi'} ${T.figures.gauge}`}
      points={points}
    >
      <path class="saturation" d={line} />
    </Frame>
  );
}

export function PressureEnthalpy({ snapshot, dome }: { readonly snapshot: Snapshot; readonly dome: Dome }) {
  const { figures } = snapshot.progress;
  const metric = isMetricPressure();
  const [lowPa, highPa] = [0.5e5, Math.max(...dome.pressurePa)];
  const kJ = dome.liquidJPerKg.map((one) => one / 1000);
  const from = Math.floor(Math.min(...kJ) / 50) * 50 + 50;
  const to = Math.ceil(Math.max(...dome.vapourJPerKg) / 50_000) * 50 + 20;
  const x = (jPerKg: number) =>
    LEFT + ((RIGHT - LEFT) * (clamp(jPerKg / 1000, from, to) - from)) / (to - from);
  const y = (pressurePa: number) =>
    BOTTOM - ((BOTTOM - TOP) * Math.log(clamp(pressurePa, lowPa, highPa) / lowPa)) / Math.log(highPa / lowPa);
  const inside = dome.pressurePa.map((one, index) => [one, index] as const).filter(([one]) => one >= lowPa);
  const path = [
    ...inside.map(([one, index]) => [dome.liquidJPerKg[index]!, one] as const),
    ...inside.toReversed().map(([one, index]) => [dome.vapourJPerKg[index]!, one] as const),
  ]
    .map(([jPerKg, pressurePa], index) => `${index === 0 ? 'M' : 'L'}${f(x(jPerKg))} ${f(y(pressurePa))}`)
    .join('');
  const steps = Array.from({ length: Math.floor((to - from) / 50) + 1 }, (_, i) => from + 50 * i);
  const pressures = metric ? [1, 2, 5, 10, 20, 30] : [10, 20, 50, 100, 200, 400];
  const ys = pressures
    .map(
      (one) =>
        [
          y(metric ? one * BAR_PA : one / toPsi(1)),
          String(one),
          metric ? one * BAR_PA : one / toPsi(1),
        ] as const,
    )
    .filter(([, , pa]) => pa >= lowPa && pa <= highPa)
    .map(([at, name]) => [at, name] as const);
  const points: Point[] = [];
  const { tankTemperatureK, tankPa, tankNetKg, highSidePa } = figures;
  if (tankTemperatureK !== undefined && tankPa !== undefined && tankNetKg !== undefined) {
    const jPerKg = mixed(dome, tankTemperatureK, tankNetKg / snapshot.tank.waterCapacityM3);
    if (jPerKg !== undefined)
      points.push({
        name: T.lessons.tank,
        mark: 'T',
        tone: 'tank',
        x: x(jPerKg),
        y: y(saturationOf(dome, tankTemperatureK)),
      });
  }
  const vehicle = vehicleState(snapshot, dome);
  if (vehicle !== undefined && vehicle.pressurePa >= lowPa)
    points.push({
      name: T.lessons.vehicle,
      mark: 'V',
      tone: 'vehicle',
      x: x(vehicle.jPerKg),
      y: y(vehicle.pressurePa),
    });
  return (
    <Frame
      label={T.lessons.pH}
      xs={steps.map((one) => [x(one * 1000), String(one)] as const)}
      ys={ys}
      xUnit="kJ/kg"
      yUnit={`${metric ? 'bar' : 'psi'} ${T.figures.absolute}`}
      points={points}
    >
      <path class="saturation dome" d={path} />
      {highSidePa === undefined || highSidePa < lowPa ? null : (
        <>
          <path class="isobar" d={`M${LEFT} ${f(y(highSidePa))}H${RIGHT}`} />
          <text class="number" x={RIGHT - 4} y={f(y(highSidePa) - 5)} text-anchor="end">
            {T.lessons.highIsobar}
          </text>
        </>
      )}
    </Frame>
  );
}
