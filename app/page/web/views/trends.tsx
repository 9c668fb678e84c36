// The job over time: pressures, vacuum, mass, temperatures, with the stages behind; the hold, and grams by cycle.
import { useMemo } from 'preact/hooks';
import type { Stage } from '../../../../controller/stages.ts';
import { toCelsius, toFahrenheit, toMicrons, toPounds, toPsi } from '../../../units.ts';
import type { HoldView, Snapshot, TrendRow } from '../../shown.ts';
import { type Band, Chart } from '../chart.tsx';
import { inOne, parted } from '../format.ts';
import { Panel, Readout } from '../parts.tsx';
import { isFahrenheit, isMetricPressure, isOunces, unitsNow } from '../settings.ts';
import { STAGE_NAMES, T, VERDICTS } from '../text.ts';
import type { ViewProps } from '../view.ts';

const MINUTE_MS = 60_000;
const BAR_PA = 1e5;
/** More points than a screen has are drawn for nothing. */
const MOST_POINTS = 900;

const COLUMN = {
  time: 0,
  high: 1,
  low: 2,
  manifold: 3,
  vehicle: 4,
  tank: 5,
  tankK: 6,
  ambientK: 7,
  net: 8,
  stage: 10,
} as const;

function bandsOf(rows: readonly TrendRow[], stages: readonly Stage[]): readonly Band[] {
  const bands: { from: number; to: number; name: string; index: number }[] = [];
  for (const row of rows) {
    const index = row[COLUMN.stage] ?? -1;
    const at = (row[COLUMN.time] ?? 0) / MINUTE_MS;
    const last = bands.at(-1);
    if (last !== undefined) last.to = at;
    if (last?.index === index) continue;
    const stage = stages[index];
    bands.push({ from: at, to: at, name: stage === undefined ? '' : STAGE_NAMES[stage], index });
  }
  return bands;
}

const column = (
  rows: readonly TrendRow[],
  index: number,
  show: (value: number) => number,
): (number | null)[] =>
  rows.map((row) => {
    const value = row[index];
    return value === null || value === undefined ? null : show(value);
  });

function Hold({ hold, barometerPa }: { readonly hold: HoldView; readonly barometerPa: number }) {
  const units = unitsNow(barometerPa);
  const metric = isMetricPressure();
  const toShown = (pressurePa: number) => (metric ? pressurePa : toMicrons(pressurePa));
  const { samplesPa, fitPa, intervalS, account } = hold;
  const data = [
    samplesPa.map((_, index) => (index * intervalS) / 60),
    samplesPa.map(toShown),
    fitPa.length === 0 ? samplesPa.map(() => null) : fitPa.map(toShown),
  ];
  return (
    <>
      <Chart
        label={T.trends.hold}
        data={data}
        lines={[
          { label: T.trends.samples, colour: '--ink', points: true },
          { label: T.trends.fit, colour: '--accent', width: 2.5 },
        ]}
        unit={metric ? 'Pa' : 'micron'}
        xUnit={T.trends.minutes}
        show={(value) => value.toFixed(0)}
        height={240}
      />
      {account === undefined ? null : (
        <div class="figures small">
          <Readout
            label={T.trends.verdict}
            shown={{ value: VERDICTS[account.verdict] ?? account.verdict, unit: account.cause ?? '' }}
          />
          <Readout
            label={T.trends.slope}
            shown={{
              ...parted(units.vacuum(account.slopePaPerS * 60)),
              unit: `${parted(units.vacuum(account.slopePaPerS * 60)).unit} ${T.trends.perMinute}`,
            }}
          />
          <Readout label={T.trends.plateau} shown={parted(units.vacuum(account.plateauPa))} />
          <Readout
            label={T.trends.limit}
            shown={{ value: account.detectionLimitKgPerYear.toPrecision(2), unit: T.trends.perYear }}
          />
        </div>
      )}
    </>
  );
}

function Cycles({ cyclesKg, barometerPa }: Pick<Snapshot, 'cyclesKg' | 'barometerPa'>) {
  const units = unitsNow(barometerPa);
  const most = Math.max(...cyclesKg, 1e-3);
  return (
    <ol class="cycles">
      {cyclesKg.map((kg, index) => (
        <li key={index}>
          <span>{T.trends.cycle(index + 1)}</span>
          <span class="bar">
            <span style={{ width: `${Math.max((100 * kg) / most, 0.5).toFixed(1)}%` }} />
          </span>
          <b>{inOne(units.charge(kg))}</b>
        </li>
      ))}
    </ol>
  );
}

export function TrendsView({ known, welcome, snapshot }: ViewProps) {
  const { barometerPa } = snapshot;
  const metric = isMetricPressure();
  const fahrenheit = isFahrenheit();
  const ounces = isOunces();
  const { rows: all } = known;
  const drawn = useMemo(() => {
    const every = Math.max(1, Math.ceil(all.length / MOST_POINTS));
    const rows = all.filter((_, index) => index % every === 0);
    const gauge = (pressurePa: number) =>
      metric ? (pressurePa - barometerPa) / BAR_PA : toPsi(pressurePa - barometerPa);
    const vacuum = (pressurePa: number) => Math.max(metric ? pressurePa : toMicrons(pressurePa), 1);
    const degree = fahrenheit ? toFahrenheit : toCelsius;
    const minutes = column(rows, COLUMN.time, (ms) => ms / MINUTE_MS);
    return {
      bands: bandsOf(rows, welcome.stages),
      pressures: [
        minutes,
        column(rows, COLUMN.low, gauge),
        column(rows, COLUMN.high, gauge),
        column(rows, COLUMN.tank, gauge),
      ],
      vacuum: [minutes, column(rows, COLUMN.manifold, vacuum), column(rows, COLUMN.vehicle, vacuum)],
      mass: [minutes, column(rows, COLUMN.net, ounces ? toPounds : (kg) => kg)],
      temperatures: [minutes, column(rows, COLUMN.tankK, degree), column(rows, COLUMN.ambientK, degree)],
    };
  }, [all, metric, fahrenheit, ounces, barometerPa, welcome.stages]);
  const shared = { bands: drawn.bands, xUnit: T.trends.minutes };
  return (
    <div class="trends">
      <Panel title={T.trends.pressures}>
        <Chart
          {...shared}
          label={T.trends.pressures}
          data={drawn.pressures}
          lines={[
            { label: T.trends.low, colour: '--low' },
            { label: T.trends.high, colour: '--high', dash: [10, 4] },
            { label: T.trends.tank, colour: '--accent', dash: [2, 4] },
          ]}
          unit={metric ? 'bar' : 'psi'}
          show={(value) => (metric ? value.toFixed(1) : value.toFixed(0))}
        />
      </Panel>
      <Panel title={T.trends.vacuum}>
        <Chart
          {...shared}
          label={T.trends.vacuum}
          data={drawn.vacuum}
          log
          lines={[
            { label: T.trends.manifold, colour: '--ink' },
            { label: T.trends.vehicle, colour: '--accent', dash: [6, 4] },
          ]}
          unit={metric ? 'Pa' : 'micron'}
          show={(value) => (value >= 1000 ? `${value / 1000} k` : String(value))}
        />
      </Panel>
      <Panel title={T.trends.mass}>
        <Chart
          {...shared}
          label={T.trends.mass}
          data={drawn.mass}
          lines={[{ label: T.trends.tank, colour: '--ink' }]}
          unit={ounces ? 'lb' : 'kg'}
          show={(value) => value.toFixed(2)}
        />
      </Panel>
      <Panel title={T.trends.temperatures}>
        <Chart
          {...shared}
          label={T.trends.temperatures}
          data={drawn.temperatures}
          lines={[
            { label: T.trends.tank, colour: '--accent' },
            { label: T.trends.ambient, colour: '--soft', dash: [6, 4] },
          ]}
          unit={fahrenheit ? '°F' : '°C'}
          show={(value) => value.toFixed(1)}
        />
      </Panel>
      <Panel title={T.trends.hold}>
        {snapshot.hold === undefined ? (
          <p class="quiet">{T.trends.noHold}</p>
        ) : (
          <Hold hold={snapshot.hold} barometerPa={barometerPa} />
        )}
      </Panel>
      <Panel title={T.trends.cycles}>
        {snapshot.cyclesKg.length === 0 ? (
          <p class="quiet">{T.trends.noCycles}</p>
        ) : (
          <Cycles cyclesKg={snapshot.cyclesKg} barometerPa={barometerPa} />
        )}
      </Panel>
    </div>
  );
}
