// The job: what is asked for, where it stands, what it waits for, what the operator has to do.
import type { RibbonStage, Snapshot } from '../../shown.ts';
import { clock, inOne, minutesBetween, readWith, shownWith } from '../format.ts';
import { Button, Panel, Readout, ToldList, Twice } from '../parts.tsx';
import { reportUnits, unitsNow } from '../settings.ts';
import { type Known, say } from '../store.ts';
import { OUTCOMES, SEVERITY_NAMES, STAGE_NAMES, T } from '../text.ts';
import { toldHere, tripName } from '../told.ts';
import type { ViewProps } from '../view.ts';
import { Mimic } from './mimic.tsx';
import { PromptCard } from './prompt.tsx';
import { SetUp } from './set-up.tsx';
import { Tripped } from './tripped.tsx';

const MARKS = { done: '✓', now: '▶', next: '', skipped: '–' } as const;

function Step({ step }: { readonly step: RibbonStage }) {
  const { stage, state, elapsedMs, expected } = step;
  const time =
    elapsedMs !== undefined
      ? clock(elapsedMs)
      : expected !== undefined
        ? minutesBetween(expected.lowMs, expected.highMs)
        : '';
  return (
    <li class={`step ${state}`} aria-current={state === 'now' ? 'step' : undefined}>
      <span class="mark" aria-hidden="true">
        {MARKS[state]}
      </span>
      <span class="name">{STAGE_NAMES[stage]}</span>
      <span class="time">
        <span class="only-read">{T.ribbon[state]} </span>
        {state === 'skipped' ? T.ribbon.skipped : time}
        {state === 'now' && expected !== undefined ? (
          <em> / {minutesBetween(expected.lowMs, expected.highMs)}</em>
        ) : null}
      </span>
    </li>
  );
}

function Ribbon({ ribbon }: Pick<Snapshot, 'ribbon'>) {
  if (ribbon.length === 0) return null;
  return (
    <ol class="ribbon" aria-label={T.job.ribbon}>
      {ribbon.map((step) => (
        <Step key={step.stage} step={step} />
      ))}
    </ol>
  );
}

/** What is looked at from afar, whatever the stage. */
export function Figures({ snapshot }: { readonly snapshot: Snapshot }) {
  const { figures } = snapshot.progress;
  const units = unitsNow(snapshot.barometerPa);
  const vacuumPa = figures.vehicleVacuumPa ?? figures.manifoldPa;
  const { targetKg, phaseKg } = figures;
  return (
    <div class="figures">
      <Readout large tone="low" label={T.figures.low} shown={readWith(figures.lowSidePa, units.pressure)} />
      <Readout
        large
        tone="high"
        label={T.figures.high}
        shown={readWith(figures.highSidePa, units.pressure)}
      />
      <Readout
        large
        label={T.figures.vacuum}
        shown={
          snapshot.manifoldOverSpan && vacuumPa === undefined
            ? { value: '–', unit: T.figures.overSpan }
            : readWith(vacuumPa, units.vacuum)
        }
      />
      {phaseKg === undefined ? (
        <Readout large label={T.figures.tankNet} shown={readWith(figures.tankNetKg, units.content)} />
      ) : (
        <Readout
          large
          label={T.figures.moved}
          shown={shownWith(phaseKg, units.charge)}
          note={targetKg === undefined ? undefined : `${T.figures.target} ${inOne(units.charge(targetKg))}`}
        />
      )}
    </div>
  );
}

function Now({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { progress, prompt, trip } = snapshot;
  const { stage, paused, remainingMs, stageElapsedMs, waitingFor } = progress;
  const name = STAGE_NAMES[stage as keyof typeof STAGE_NAMES] ?? stage;
  const disabled = !known.hasControl;
  const told = (text: string): string => toldHere(unitsNow(snapshot.barometerPa), text);
  return (
    <Panel tone={trip !== undefined ? 'trip' : paused ? 'warn' : undefined}>
      <div class="now-card">
        <p class="now-stage">{name}</p>
        {trip !== undefined ? (
          <p class="now-why">
            <b>{T.job.tripped}</b> {tripName(trip.reason)}. {told(trip.remedy)}
          </p>
        ) : (
          <p class="now-why">
            <span class="label">{T.job.waiting}</span>{' '}
            {prompt === undefined ? told(waitingFor) : T.job.yourAnswer}
          </p>
        )}
        <dl class="now-times">
          <div>
            <dt>{T.job.elapsed}</dt>
            <dd>{clock(stageElapsedMs)}</dd>
          </div>
          {remainingMs === undefined ? null : (
            <div>
              <dt>{T.job.left}</dt>
              <dd>{minutesBetween(remainingMs.low, remainingMs.high)}</dd>
            </div>
          )}
        </dl>
        <div class="buttons">
          {trip !== undefined ? (
            <Button kind="main" disabled={disabled} onPress={() => say({ type: 'say', what: 'reset' })}>
              {T.job.reset}
            </Button>
          ) : paused ? (
            <Button kind="main" disabled={disabled} onPress={() => say({ type: 'say', what: 'resumed' })}>
              {T.job.resume}
            </Button>
          ) : null}
          <Twice
            first={T.job.stop}
            second={T.job.reallyStop}
            disabled={disabled}
            onPress={() => say({ type: 'say', what: 'aborted' })}
          />
        </div>
      </div>
    </Panel>
  );
}

function Result({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { outcome = '', masses, records } = snapshot;
  const units = unitsNow(snapshot.barometerPa);
  const { recoveredKg, chargedKg, netChargeKg, uncertaintyKg, hoseRecoveredKg, lostTrack } = masses;
  const netNote = uncertaintyKg === undefined ? undefined : `± ${units.charge(uncertaintyKg)}`;
  const isUnknown = netChargeKg === undefined && lostTrack;
  return (
    <Panel title={T.job.result} tone={outcome === 'completed' ? 'good' : 'warn'}>
      <p class="now-stage">
        <span aria-hidden="true">{outcome === 'completed' ? '✓ ' : '■ '}</span>
        {OUTCOMES[outcome] ?? outcome}
      </p>
      <div class="figures">
        <Readout label={T.job.recovered} shown={shownWith(recoveredKg, units.charge)} />
        <Readout label={T.job.charged} shown={shownWith(chargedKg, units.charge)} />
        <Readout label={T.job.fromHoses} shown={shownWith(hoseRecoveredKg, units.charge)} />
        <Readout
          label={T.job.net}
          shown={shownWith(netChargeKg, units.charge)}
          note={isUnknown ? T.job.notKnown : netNote}
        />
      </div>
      {records?.job === undefined ? null : (
        <p>
          {T.records.kept(records.job)}{' '}
          <a href={`/report/${records.job}?units=${reportUnits()}`} target="_blank" rel="noreferrer">
            {T.records.open}
          </a>
        </p>
      )}
      <div class="buttons">
        <Button
          kind="main"
          disabled={!known.hasControl}
          onPress={() => say({ type: 'choose', id: snapshot.chosen })}
        >
          {T.job.again}
        </Button>
      </div>
    </Panel>
  );
}

function Hoses({
  known,
  snapshot,
  simulated,
}: {
  readonly known: Known;
  readonly snapshot: Snapshot;
  readonly simulated: boolean;
}) {
  const { phase } = snapshot;
  if (phase === 'ready') return null;
  // What stands here is old while nobody answers: a hose may have been filled since.
  const hosesSafe = snapshot.hosesSafe && known.link === 'up';
  return (
    <section class={`tile ${hosesSafe ? 'good' : 'warn'}`} aria-live="polite">
      <span class="tile-mark" aria-hidden="true">
        {hosesSafe ? '✓' : '✕'}
      </span>
      <div>
        <strong>{hosesSafe ? T.job.hosesSafe : T.job.hosesNot}</strong>
        <p>{hosesSafe ? T.job.hosesSafeWhy : T.job.hosesNotWhy}</p>
        {hosesSafe && simulated ? (
          <Button
            disabled={!known.hasControl}
            onPress={() => say({ type: 'hands', action: 'disconnect-hoses' })}
          >
            {T.job.hosesOff}
          </Button>
        ) : null}
      </div>
    </section>
  );
}

const SIGNS = { information: 'i', advice: '→', warning: '!', trip: '■' } as const;

function Notices({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { notices } = known;
  const units = unitsNow(snapshot.barometerPa);
  const first = notices.find(({ severity }) => severity === 'trip' || severity === 'warning');
  return (
    <Panel title={T.job.notices} aside={<span class="count">{notices.length}</span>} grow>
      {notices.length === 0 ? <p class="quiet">{T.job.noNotices}</p> : null}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard */}
      <ol class="notices" aria-live="polite" aria-label={T.job.notices} tabIndex={0}>
        {notices.toReversed().map((notice) => (
          <li key={`${notice.atMs} ${notice.code}`} class={notice.severity}>
            <span class="sign" aria-hidden="true">
              {SIGNS[notice.severity]}
            </span>
            <div>
              <p class="notice-head">
                <b>{SEVERITY_NAMES[notice.severity]}</b>
                {notice === first ? <b class="first-out">{T.job.firstOut}</b> : null}
                <time>{clock(notice.atMs)}</time>
              </p>
              <p>{toldHere(units, notice.text)}</p>
              {notice.remedy === '' ? null : <p class="remedy">→ {toldHere(units, notice.remedy)}</p>}
            </div>
          </li>
        ))}
      </ol>
    </Panel>
  );
}

export function JobView(props: ViewProps) {
  const { known, welcome, snapshot } = props;
  const { phase, prompt } = snapshot;
  const told = (text: string): string => toldHere(unitsNow(snapshot.barometerPa), text);
  return (
    <>
      <Ribbon ribbon={snapshot.ribbon} />
      <div class="job">
        <div class="column">
          <Tripped known={known} snapshot={snapshot} />
          {phase === 'ready' || phase === 'broken' ? <SetUp {...props} /> : null}
          {phase === 'ready' || phase === 'broken' ? null : (
            <ToldList told={snapshot.told.filter((text) => text !== snapshot.undriven).map(told)} />
          )}
          {snapshot.undriven === undefined ? null : (
            <p class="banner warn" role="alert">
              {snapshot.undriven}
            </p>
          )}
          {prompt === undefined ? null : (
            <PromptCard
              key={`${prompt.id} ${prompt.askedAtMs}`}
              prompt={{ ...prompt, text: told(prompt.text), evidence: told(prompt.evidence) }}
              simulated={welcome.simulated}
              disabled={!known.hasControl || snapshot.simulatedOperator}
            />
          )}
          {phase === 'job' ? <Now known={known} snapshot={snapshot} /> : null}
          {phase === 'ended' ? <Result known={known} snapshot={snapshot} /> : null}
          <Figures snapshot={snapshot} />
          {phase === 'ready' ? null : (
            <div class="wide-only">
              <Panel title={T.machine.title}>
                <Mimic snapshot={snapshot} />
              </Panel>
            </div>
          )}
        </div>
        <div class="column side">
          <Hoses known={known} snapshot={snapshot} simulated={welcome.simulated} />
          <Notices known={known} snapshot={snapshot} />
        </div>
      </div>
    </>
  );
}
