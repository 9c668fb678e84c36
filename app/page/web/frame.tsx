// Above every view: where the job stands, who has control, and the way to switch everything off. Below: simulated time.
import { useState } from 'preact/hooks';
import type { Speed } from '../messages.ts';
import type { Snapshot } from '../shown.ts';
import { clock } from './format.ts';
import { Button, Choice } from './parts.tsx';
import { LookBack } from './replay-bar.tsx';
import { SIZES, THEMES, UNIT_CHOICES, useSettings } from './settings.ts';
import { type Known, say } from './store.ts';
import { OUTCOMES, STAGE_NAMES, T } from './text.ts';
import { maySetUp } from './view.ts';

const SPEEDS: readonly Speed[] = [1, 2, 5, 10, 30, 100, 300, 1000, 'fastest'];

function stateText({ phase, progress, outcome, trip }: Snapshot): string {
  if (phase === 'broken') return outcome ?? '';
  if (trip !== undefined) return T.job.tripped;
  if (phase === 'by-hand') return T.hand.title;
  if (phase === 'ready') return T.job.setUp;
  if (phase === 'ended') return OUTCOMES[outcome ?? ''] ?? '';
  const { stage, paused } = progress;
  const name = STAGE_NAMES[stage as keyof typeof STAGE_NAMES] ?? stage;
  return paused ? T.job.paused : name;
}

function StopButton({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { phase, progress } = snapshot;
  if (phase === 'by-hand')
    return (
      <Button
        kind="stop"
        disabled={!known.hasControl}
        onPress={() => say({ type: 'say', what: 'all-wished-off' })}
      >
        <StopSign /> {T.hand.allOff}
      </Button>
    );
  if (phase !== 'job' || progress.paused) return null;
  return (
    <Button kind="stop" disabled={!known.hasControl} onPress={() => say({ type: 'say', what: 'paused' })}>
      <StopSign /> {T.job.pause}
    </Button>
  );
}

const StopSign = () => (
  <svg class="sign" viewBox="0 0 20 20" aria-hidden="true">
    <rect x="3" y="3" width="5" height="14" />
    <rect x="12" y="3" width="5" height="14" />
  </svg>
);

function Control({ known }: { readonly known: Known }) {
  const { held } = known.control;
  if (known.hasControl)
    return (
      <span class="control">
        <span class="chip good">✓ {T.control.yours}</span>
        <Button kind="quiet" onPress={() => say({ type: 'release-control' })}>
          {T.control.release}
        </Button>
      </span>
    );
  return (
    <span class="control">
      <span class="chip">{held ? T.control.other : T.control.free}</span>
      {held && known.welcome?.audience !== 'teacher' ? null : (
        <Button kind="quiet" onPress={() => say({ type: 'take-control' })}>
          {T.control.take}
        </Button>
      )}
    </span>
  );
}

function Display() {
  const [settings, change] = useSettings();
  const [open, setOpen] = useState(false);
  const names = (ids: readonly string[], texts: { readonly [id: string]: string }) =>
    ids.map((id) => [id, texts[id] ?? id] as const);
  return (
    <div class="display">
      <button
        type="button"
        class="button quiet"
        aria-expanded={open}
        aria-controls="display"
        onClick={() => setOpen(!open)}
      >
        {T.settings.title}
      </button>
      {open ? (
        <div id="display" class="display-choices">
          <Choice
            label={T.settings.units}
            value={settings.units}
            options={names(UNIT_CHOICES, T.settings) as never}
            onChoose={(units: (typeof UNIT_CHOICES)[number]) => change({ units })}
          />
          <Choice
            label={T.settings.theme}
            value={settings.theme}
            options={names(THEMES, T.settings) as never}
            onChoose={(theme: (typeof THEMES)[number]) => change({ theme })}
          />
          <Choice
            label={T.settings.size}
            value={settings.size}
            options={names(SIZES, T.settings) as never}
            onChoose={(size: (typeof SIZES)[number]) => change({ size })}
          />
        </div>
      ) : null}
    </div>
  );
}

export function Header({ known }: { readonly known: Known }) {
  const { snapshot, link } = known;
  return (
    <header class="top">
      <div class="where">
        <span class="product">{T.product}</span>
        <span class="job-name" title={snapshot?.name}>
          {snapshot?.name}
        </span>
      </div>
      <div class="state" role="status">
        {snapshot === undefined ? null : (
          <>
            <strong>{stateText(snapshot)}</strong>
            <time>{clock(snapshot.nowMs)}</time>
          </>
        )}
      </div>
      <div class="who">
        <span class={`link ${link}`}>
          <span aria-hidden="true">{link === 'up' ? '●' : '○'}</span> {T.link[link]}
        </span>
        <Control known={known} />
        <Display />
      </div>
      <div class="stop">
        {snapshot === undefined ? null : <StopButton known={known} snapshot={snapshot} />}
      </div>
    </header>
  );
}

export function TimeBar({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { time } = snapshot;
  if (time === undefined) return null;
  const may = maySetUp(known);
  const set = (change: { running?: boolean; speed?: Speed }) =>
    say({ type: 'time', running: time.running, speed: time.speed, ...change });
  return (
    <section class="time-bar" aria-label={T.time.title}>
      <Button disabled={!may} onPress={() => set({ running: !time.running })}>
        <span aria-hidden="true">{time.running ? '❚❚' : '▶'}</span> {time.running ? T.time.hold : T.time.run}
      </Button>
      <Button disabled={!may} onPress={() => say({ type: 'step' })}>
        <span aria-hidden="true">▶❚</span> {T.time.step}
      </Button>
      <Choice
        label={T.time.speed}
        value={String(time.speed)}
        disabled={!may}
        options={SPEEDS.map(
          (speed) => [String(speed), speed === 'fastest' ? T.time.fastest : `${speed}×`] as const,
        )}
        onChoose={(speed) => set({ running: true, speed: speed === 'fastest' ? speed : Number(speed) })}
      />
      <span class="achieved">
        {time.running && time.lingers !== undefined
          ? T.time.lingers[time.lingers]
          : T.time.achieved(time.achieved)}
      </span>
      <LookBack />
      <label class="tick">
        <input
          type="checkbox"
          checked={snapshot.simulatedOperator}
          disabled={!may}
          onChange={({ currentTarget }) => say({ type: 'simulated-operator', on: currentTarget.checked })}
        />
        <span>{T.time.simulatedOperator}</span>
      </label>
      {known.hasControl && !may ? <span>{T.time.teacher}</span> : null}
    </section>
  );
}
