// The machine: schematic, dials, vacuum scale, mass.
import type { Snapshot } from '../../shown.ts';
import { shownWith } from '../format.ts';
import { Panel, Readout } from '../parts.tsx';
import { unitsNow } from '../settings.ts';
import { T } from '../text.ts';
import type { ViewProps } from '../view.ts';
import { Dial, VacuumScale } from './dials.tsx';
import { Legend, Mimic } from './mimic.tsx';

/** Below this the scale stands still, whatever its noise says. */
const STILL_KG_PER_S = 5e-5;

function Mass({ snapshot }: { readonly snapshot: Snapshot }) {
  const units = unitsNow(snapshot.barometerPa);
  const { tankNetKg, phaseKg, targetKg, flowKgPerS } = snapshot.progress.figures;
  const { fillLimitKg } = snapshot.tank;
  const { uncertaintyKg } = snapshot.masses;
  const left = targetKg === undefined || phaseKg === undefined ? undefined : Math.max(targetKg - phaseKg, 0);
  const share = targetKg === undefined || phaseKg === undefined ? undefined : Math.min(phaseKg / targetKg, 1);
  const direction =
    flowKgPerS === undefined || Math.abs(flowKgPerS) < STILL_KG_PER_S
      ? undefined
      : flowKgPerS > 0
        ? T.figures.intoTank
        : T.figures.outOfTank;
  return (
    <Panel
      title={T.machine.mass}
      aside={<span class="quiet">{T.figures.scaleTrust[snapshot.scaleTrust]}</span>}
    >
      <div class="figures two">
        <Readout large label={T.figures.moved} shown={shownWith(phaseKg, units.charge)} />
        <Readout
          large
          label={T.figures.flow}
          shown={shownWith(flowKgPerS, (flow) => units.flow(Math.abs(flow)))}
          note={direction}
        />
      </div>
      {share === undefined ? null : (
        <div class="meter" role="img" aria-label={`${Math.round(share * 100)} %`}>
          <span style={{ width: `${(share * 100).toFixed(1)}%` }} />
        </div>
      )}
      <div class="figures small">
        <Readout label={T.figures.target} shown={shownWith(targetKg, units.charge)} />
        <Readout label={T.figures.remaining} shown={shownWith(left, units.charge)} />
        <Readout
          label={T.figures.uncertainty}
          shown={shownWith(uncertaintyKg, (kg) => `±${units.charge(kg)}`)}
        />
        <Readout label={T.figures.tankNet} shown={shownWith(tankNetKg, units.content)} />
        <Readout label={T.figures.limit} shown={shownWith(fillLimitKg, units.content)} />
        <Readout
          label={T.figures.room}
          shown={shownWith(tankNetKg === undefined ? undefined : fillLimitKg - tankNetKg, units.content)}
        />
      </div>
    </Panel>
  );
}

export function MachineView({ dome, snapshot }: ViewProps) {
  const { figures } = snapshot.progress;
  const { highK, lowK } = snapshot.saturation;
  const shared = { ambientPa: snapshot.barometerPa, dome };
  return (
    <div class="machine">
      <Panel title={T.machine.title}>
        <Mimic snapshot={snapshot} />
        <Legend />
      </Panel>
      <div class="instruments">
        <Panel title={T.machine.dials}>
          <div class="dials">
            <Dial side="low" pressurePa={figures.lowSidePa} saturationK={lowK} {...shared} />
            <Dial side="high" pressurePa={figures.highSidePa} saturationK={highK} {...shared} />
          </div>
        </Panel>
        <Panel title={T.machine.vacuumScale}>
          <VacuumScale
            manifoldPa={figures.manifoldPa}
            vehiclePa={figures.vehicleVacuumPa}
            overSpan={snapshot.manifoldOverSpan}
            ambientPa={snapshot.barometerPa}
          />
        </Panel>
        <Mass snapshot={snapshot} />
      </div>
    </div>
  );
}
