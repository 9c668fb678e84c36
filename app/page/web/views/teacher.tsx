// The teacher: what is true, what is wrong, and what the class may see of it.
import { useState } from 'preact/hooks';
import type { Output } from '../../../../controller/signals.ts';
import type { FaultKindView, FaultView, TeacherView as Told } from '../../shown-class.ts';
import { inOne, shownWith } from '../format.ts';
import { Button, Choice, Field, Panel, Readout } from '../parts.tsx';
import { unitsNow } from '../settings.ts';
import { say } from '../store.ts';
import { OUTPUT_NAMES, T } from '../text.ts';
import type { ViewProps } from '../view.ts';
import { ScorePanel } from './score.tsx';

function Truth({ told, barometerPa }: { readonly told: Told; readonly barometerPa: number }) {
  const units = unitsNow(barometerPa);
  const { truth, acting, vehicleLiquidKg } = told;
  const lost = truth.leakedKg + truth.spilledKg + truth.ventedKg + truth.purgedKg + truth.pumpExhaustKg;
  return (
    <Panel title={T.teacher.truth}>
      <div class="figures small">
        <Readout
          label={T.teacher.vehicle}
          shown={shownWith(truth.vehicleRefrigerantKg, units.charge)}
          note={`${inOne(units.charge(vehicleLiquidKg))} ${T.teacher.liquid}`}
        />
        <Readout label={T.teacher.hoses} shown={shownWith(truth.hoseRefrigerantKg, units.charge)} />
        <Readout label={T.teacher.machine} shown={shownWith(truth.machineRefrigerantKg, units.charge)} />
        <Readout label={T.teacher.tank} shown={shownWith(truth.tankRefrigerantKg, units.content)} />
        <Readout label={T.teacher.lost} shown={shownWith(lost, units.charge)} />
        <Readout label={T.teacher.air} shown={shownWith(truth.tankAirKg, units.charge)} />
        <Readout label={T.teacher.water} shown={shownWith(truth.vehicleWaterKg, units.charge)} />
        <Readout label={T.teacher.oil} shown={shownWith(truth.vehicleOilKg, units.charge)} />
      </div>
      <p>
        <span class="label">{T.teacher.acting}</span>{' '}
        {acting.length === 0
          ? T.teacher.nothingOn
          : acting.map((output) => OUTPUT_NAMES[output].name).join(', ')}
      </p>
    </Panel>
  );
}

function Active({ faults }: { readonly faults: readonly FaultView[] }) {
  if (faults.length === 0) return <p class="quiet">{T.teacher.none}</p>;
  return (
    <ul class="active-faults">
      {faults.map((one) => {
        const { fault, output, size, shown } = one;
        const struck = {
          fault,
          ...(output === undefined ? {} : { output }),
          ...(size === undefined ? {} : { size }),
        };
        return (
          <li key={`${fault} ${output}`}>
            <span>
              <b>{fault}</b> {output === undefined ? '' : OUTPUT_NAMES[output].name}
            </span>
            <Button
              pressed={shown}
              onPress={() => say({ type: 'fault', ...struck, on: true, shown: !shown })}
            >
              {shown ? T.teacher.shown : T.teacher.hidden}
            </Button>
            <Button onPress={() => say({ type: 'fault', ...struck, on: false, shown })}>
              {T.teacher.switchOff}
            </Button>
          </li>
        );
      })}
    </ul>
  );
}

const OUTPUT_CHOICES = Object.entries(OUTPUT_NAMES).map(([id, { name }]) => [id as Output, name] as const);

function Faults({
  kinds,
  faults,
}: {
  readonly kinds: readonly FaultKindView[];
  readonly faults: readonly FaultView[];
}) {
  const [search, setSearch] = useState('');
  const [output, setOutput] = useState<Output>('compressor');
  const [sizes, setSizes] = useState<{ readonly [fault: string]: string }>({});
  const found = kinds.filter(({ fault, meaning }) =>
    `${fault} ${meaning}`.toLowerCase().includes(search.toLowerCase()),
  );
  const switchOn = (kind: FaultKindView, shown: boolean) => {
    const size = Number(sizes[kind.fault] ?? kind.size?.default);
    say({
      type: 'fault',
      fault: kind.fault,
      ...(kind.needsOutput ? { output } : {}),
      ...(kind.size === undefined || !Number.isFinite(size) ? {} : { size }),
      on: true,
      shown,
    });
  };
  return (
    <Panel title={T.teacher.faults}>
      <h3>{T.teacher.active}</h3>
      <Active faults={faults} />
      <div class="fields">
        <Field label={T.teacher.search}>
          <input
            type="search"
            value={search}
            onInput={({ currentTarget }) => setSearch(currentTarget.value)}
          />
        </Field>
        <Choice label={T.teacher.output} value={output} options={OUTPUT_CHOICES} onChoose={setOutput} />
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard */}
      <ul class="fault-kinds" tabIndex={0} aria-label={T.teacher.faults}>
        {found.map((kind) => (
          <li key={kind.fault}>
            <div>
              <b>{kind.fault}</b>
              <p>{kind.meaning}</p>
              {kind.size === undefined ? null : (
                <Field label={`${T.teacher.size}, ${kind.size.unit}`}>
                  <input
                    inputMode="decimal"
                    value={sizes[kind.fault] ?? String(kind.size.default)}
                    onInput={({ currentTarget }) => setSizes({ ...sizes, [kind.fault]: currentTarget.value })}
                  />
                </Field>
              )}
            </div>
            <div class="buttons">
              <Button label={`${kind.fault}: ${T.teacher.onHidden}`} onPress={() => switchOn(kind, false)}>
                {T.teacher.onHidden}
              </Button>
              <Button label={`${kind.fault}: ${T.teacher.onShown}`} onPress={() => switchOn(kind, true)}>
                {T.teacher.onShown}
              </Button>
            </div>
          </li>
        ))}
      </ul>
    </Panel>
  );
}

export function TeacherView({ welcome, snapshot }: ViewProps) {
  const { teacher } = snapshot;
  if (teacher === undefined) return null;
  return (
    <div class="teacher">
      <div class="column">
        <Truth told={teacher} barometerPa={snapshot.barometerPa} />
        <ScorePanel score={teacher.score} snapshot={snapshot} />
        <div class="buttons">
          <Button
            kind="main"
            pressed={teacher.revealed}
            onPress={() => say({ type: 'reveal', on: !teacher.revealed })}
          >
            {teacher.revealed ? T.teacher.conceal : T.teacher.reveal}
          </Button>
        </div>
      </div>
      <Faults kinds={welcome.faultKinds ?? []} faults={teacher.faults} />
    </div>
  );
}
