// By hand: one card for each output, with the reason when it would be refused.
import { useState } from 'preact/hooks';
import type { HandAction } from '../../../../sim/spec.ts';
import type { OutputView } from '../../shown.ts';
import { clock } from '../format.ts';
import { Button, Choice, Panel } from '../parts.tsx';
import { say } from '../store.ts';
import { OUTPUT_NAMES, T } from '../text.ts';
import type { ViewProps } from '../view.ts';
import { Figures } from './job.tsx';
import { Tripped } from './tripped.tsx';

const TIMES = [
  ['pulse', T.hand.pulse, 200],
  ['1', `${T.hand.forMinutes} 1 ${T.job.min}`, 60_000],
  ['5', `${T.hand.forMinutes} 5 ${T.job.min}`, 300_000],
  ['20', `${T.hand.forMinutes} 20 ${T.job.min}`, 1_200_000],
  ['60', `${T.hand.forMinutes} 60 ${T.job.min}`, 3_600_000],
] as const;

function Output({
  view,
  disabled,
  offAfterMs,
}: {
  readonly view: OutputView;
  readonly disabled: boolean;
  readonly offAfterMs: number;
}) {
  const { output, on, fitted, refusal, untilMs } = view;
  const { name, tag, on: onWord, off: offWord, switchOn, switchOff } = OUTPUT_NAMES[output];
  const press = (wanted: boolean) =>
    say({ type: 'wish', output, on: wanted, ...(wanted ? { offAfterMs } : {}) });
  return (
    <li class={`output ${on ? 'on' : ''} ${refusal === undefined ? '' : 'refused'}`}>
      <div class="output-head">
        <strong>{name}</strong>
        <span class="tag">{tag}</span>
        <span class={`chip ${on ? 'good' : ''}`}>
          <span aria-hidden="true">{on ? '●' : '○'}</span> {on ? onWord : offWord}
        </span>
      </div>
      <p class="output-why">
        {!fitted ? (
          T.hand.notFitted
        ) : on ? (
          untilMs === undefined ? (
            ' '
          ) : (
            T.hand.until(clock(untilMs))
          )
        ) : refusal === undefined ? (
          disabled ? (
            ' '
          ) : (
            T.hand.wouldPermit
          )
        ) : (
          <>
            <b>
              ⊘ {T.hand.refused} ({refusal.row})
            </b>
            : {refusal.because} → {refusal.remedy}
          </>
        )}
      </p>
      <div class="buttons">
        <Button
          kind={on || refusal !== undefined ? 'plain' : 'main'}
          disabled={disabled || !fitted}
          onPress={() => press(true)}
          label={`${name}: ${switchOn}`}
        >
          {switchOn}
        </Button>
        <Button
          kind={on ? 'main' : 'plain'}
          disabled={disabled || !on}
          onPress={() => press(false)}
          label={`${name}: ${switchOff}`}
        >
          {switchOff}
        </Button>
      </div>
    </li>
  );
}

const deedsOf = (texts: { readonly [A in HandAction]?: string }) =>
  Object.entries(texts) as readonly (readonly [HandAction, string])[];

export function HandView({ known, welcome, snapshot }: ViewProps) {
  const [time, setTime] = useState<string>('5');
  const { phase, ticketWritten } = snapshot;
  const byHand = phase === 'by-hand';
  const disabled = !known.hasControl || !byHand;
  const offAfterMs = TIMES.find(([id]) => id === time)![2];
  return (
    <>
      <Tripped known={known} snapshot={snapshot} />
      <Panel title={T.hand.title}>
        <p>{phase === 'job' ? T.hand.notNow : ticketWritten ? T.hand.lead : T.hand.needsTicket}</p>
        <div class="buttons">
          {byHand ? (
            <Button disabled={!known.hasControl} onPress={() => say({ type: 'say', what: 'by-hand-ended' })}>
              {T.hand.end}
            </Button>
          ) : (
            <Button
              kind="main"
              disabled={!known.hasControl || phase === 'job' || phase === 'broken' || !ticketWritten}
              onPress={() => say({ type: 'say', what: 'by-hand-begun' })}
            >
              {T.hand.begin}
            </Button>
          )}
          <Choice
            label={T.hand.forMinutes}
            value={time}
            disabled={disabled}
            options={TIMES.map(([id, name]) => [id as string, name])}
            onChoose={setTime}
          />
        </div>
      </Panel>
      <Figures snapshot={snapshot} />
      <ul class="outputs">
        {snapshot.outputs.map((view) => (
          <Output key={view.output} view={view} disabled={disabled} offAfterMs={offAfterMs} />
        ))}
      </ul>
      <Panel title={welcome.simulated ? T.hand.hands : T.hand.vehicle}>
        <div class="buttons">
          {deedsOf(welcome.simulated ? T.hand.actions : T.hand.said).map(([action, text]) => (
            <Button key={action} disabled={disabled} onPress={() => say({ type: 'hands', action })}>
              {text}
            </Button>
          ))}
        </div>
      </Panel>
    </>
  );
}
