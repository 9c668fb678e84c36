// One question of the machine: what to do, what it will look at, and the input that answers it.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Answer } from '../../messages.ts';
import type { Snapshot } from '../../shown.ts';
import { isUnread, typedNumber } from '../format.ts';
import { Button, Field, Panel } from '../parts.tsx';
import { say } from '../store.ts';
import { T } from '../text.ts';

type Asked = NonNullable<Snapshot['prompt']>;
type Given = Answer extends infer A ? (A extends Answer ? Omit<A, 'prompt' | 'askedAtMs'> : never) : never;

/** Something typed. */
function Entry({
  label,
  value,
  disabled,
  onType,
  decimal = false,
}: {
  readonly label: string;
  readonly value: string;
  readonly disabled: boolean;
  readonly onType: (text: string) => void;
  readonly decimal?: boolean;
}) {
  return (
    <Field label={label}>
      <input
        {...(decimal ? { inputMode: 'decimal' } : {})}
        value={value}
        disabled={disabled}
        onInput={({ currentTarget }) => onType(currentTarget.value)}
      />
    </Field>
  );
}

type AnswerProps = {
  readonly prompt: Asked;
  readonly disabled: boolean;
  readonly give: (answer: Given) => void;
};

function Identify({ prompt, disabled, give }: AnswerProps) {
  const shown = prompt.shows?.reading;
  const [refrigerant, setRefrigerant] = useState(shown?.refrigerant ?? '');
  const [purity, setPurity] = useState(shown === undefined ? '' : String(shown.purityPercent));
  const [air, setAir] = useState(shown?.airPercent === undefined ? '' : String(shown.airPercent));
  const [hydrocarbons, setHydrocarbons] = useState(
    shown?.hydrocarbonPercent === undefined ? '' : String(shown.hydrocarbonPercent),
  );
  const [reason, setReason] = useState(prompt.shows?.noSample ?? '');
  const purityPercent = typedNumber(purity);
  const airPercent = typedNumber(air);
  const hydrocarbonPercent = typedNumber(hydrocarbons);
  const unread = [purity, air, hydrocarbons].some(isUnread);
  return (
    <>
      {shown === undefined ? null : (
        <p class="instrument">
          <span class="label">{T.prompt.identifierShows}</span>
          <b>
            {shown.refrigerant} · {shown.purityPercent} %
            {shown.airPercent === undefined
              ? ''
              : ` · ${T.prompt.air.replace(', %', '')} ${shown.airPercent} %`}
          </b>
        </p>
      )}
      {prompt.shows?.noSample === undefined ? (
        <div class="fields">
          <Entry
            label={T.prompt.refrigerant}
            value={refrigerant}
            disabled={disabled}
            onType={setRefrigerant}
          />
          <Entry label={T.prompt.purity} value={purity} disabled={disabled} onType={setPurity} decimal />
          <Entry label={T.prompt.air} value={air} disabled={disabled} onType={setAir} decimal />
          <Entry
            label={T.prompt.hydrocarbons}
            value={hydrocarbons}
            disabled={disabled}
            onType={setHydrocarbons}
            decimal
          />
        </div>
      ) : null}
      {unread ? <p role="alert">{T.prompt.noNumber}</p> : null}
      <div class="buttons">
        {prompt.shows?.noSample === undefined ? (
          <Button
            kind="main"
            disabled={disabled || refrigerant.trim() === '' || purityPercent === undefined || unread}
            onPress={() =>
              give({
                kind: 'reading',
                refrigerant: refrigerant.trim(),
                purityPercent: purityPercent ?? 0,
                ...(airPercent === undefined ? {} : { airPercent }),
                ...(hydrocarbonPercent === undefined ? {} : { hydrocarbonPercent }),
              })
            }
          >
            {T.prompt.enter}
          </Button>
        ) : null}
      </div>
      <details class="otherwise" open={prompt.shows?.noSample !== undefined}>
        <summary>
          {T.prompt.noSample} · {T.prompt.elsewhere}
        </summary>
        <Field label={T.prompt.reason}>
          <input
            value={reason}
            maxLength={200}
            disabled={disabled}
            onInput={({ currentTarget }) => setReason(currentTarget.value)}
          />
        </Field>
        <div class="buttons">
          {(['no-pressure', 'identified-elsewhere'] as const).map((why) => (
            <Button
              key={why}
              disabled={disabled || reason.trim() === ''}
              onPress={() => give({ kind: 'no-reading', why, reason: reason.trim() })}
            >
              {why === 'no-pressure' ? T.prompt.noSample : T.prompt.elsewhere}
            </Button>
          ))}
        </div>
      </details>
    </>
  );
}

const ML_M3 = 1e-6;

function Bottle({ prompt, disabled, give }: AnswerProps) {
  const shown = prompt.shows?.volumeM3;
  const [volume, setVolume] = useState(shown === undefined ? '' : String(Math.round(shown / ML_M3)));
  const given = typedNumber(volume);
  return (
    <>
      {shown === undefined ? null : (
        <p class="instrument">
          <span class="label">{T.prompt.bottleShows}</span> <b>{Math.round(shown / ML_M3)} mL</b>
        </p>
      )}
      <div class="fields">
        <Entry label={T.prompt.volume} value={volume} disabled={disabled} onType={setVolume} decimal />
      </div>
      <div class="buttons">
        <Button
          kind="main"
          disabled={disabled || given === undefined}
          onPress={() => give({ kind: 'volume', volumeM3: (given ?? 0) * ML_M3 })}
        >
          {T.prompt.enterVolume}
        </Button>
      </div>
    </>
  );
}

function Search({ prompt, disabled, give }: AnswerProps) {
  const detector = prompt.shows?.detector;
  return (
    <>
      {detector === undefined ? null : (
        <p class="instrument">
          <span class="label">{T.prompt.detectorSays}</span>{' '}
          <b>{detector ? T.prompt.detectorBeeps : T.prompt.detectorSilent}</b>
        </p>
      )}
      <div class="buttons">
        <Button kind="main" disabled={disabled} onPress={() => give({ kind: 'searched', found: true })}>
          {T.prompt.found}
        </Button>
        <Button kind="main" disabled={disabled} onPress={() => give({ kind: 'searched', found: false })}>
          {T.prompt.nothing}
        </Button>
      </div>
    </>
  );
}

export function PromptCard({
  prompt,
  simulated,
  disabled,
}: {
  readonly prompt: Asked;
  readonly simulated: boolean;
  readonly disabled: boolean;
}) {
  const give = (answer: Given) =>
    say({ type: 'answer', answer: { ...answer, prompt: prompt.id, askedAtMs: prompt.askedAtMs } as Answer });
  const parts = { prompt, give, disabled: disabled || prompt.underWay };
  const text = useRef<HTMLParagraphElement>(null);
  // The button that was pressed before is gone, and the keyboard would begin anew at the top of the page.
  useEffect(() => {
    if (document.activeElement === document.body) text.current?.focus({ preventScroll: true });
  }, []);
  return (
    <Panel title={T.prompt.title} tone="ask">
      <p class="prompt-text" role="alert" ref={text} tabIndex={-1}>
        {prompt.text}
      </p>
      <p class="evidence">
        <span class="label">{T.prompt.evidence}</span> {prompt.evidence}
      </p>
      {prompt.id === 'identify-refrigerant' ? (
        <Identify {...parts} />
      ) : prompt.id === 'read-catch-bottle' ? (
        <Bottle {...parts} />
      ) : prompt.id === 'search-leak' ? (
        <Search {...parts} />
      ) : (
        <div class="buttons">
          <Button kind="main" disabled={parts.disabled} onPress={() => give({ kind: 'done' })}>
            {prompt.underWay ? T.prompt.underWay : simulated ? T.prompt.doIt : T.prompt.done}
          </Button>
          {prompt.id === 'purge-air' ? (
            <Button disabled={parts.disabled} onPress={() => give({ kind: 'declined' })}>
              {T.prompt.decline}
            </Button>
          ) : null}
        </div>
      )}
    </Panel>
  );
}
