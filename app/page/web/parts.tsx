// The small parts that every view is made of.
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Shown } from './format.ts';
import { T } from './text.ts';

export function Panel({
  title,
  children,
  tone,
  aside,
  id,
  grow,
}: {
  readonly title?: string;
  readonly children: ComponentChildren;
  readonly tone?: 'ask' | 'trip' | 'good' | 'warn' | undefined;
  readonly aside?: ComponentChildren;
  readonly id?: string;
  readonly grow?: boolean;
}) {
  return (
    <section class={`panel ${tone ?? ''} ${grow ? 'grow' : ''}`} aria-label={title} id={id}>
      {title === undefined ? null : (
        <header class="panel-head">
          <h2>{title}</h2>
          {aside}
        </header>
      )}
      {children}
    </section>
  );
}

/** A figure that is read from afar. */
export function Readout({
  label,
  shown,
  tone,
  note,
  large,
}: {
  readonly label: string;
  readonly shown: Shown;
  readonly tone?: 'low' | 'high';
  readonly note?: string | undefined;
  readonly large?: boolean;
}) {
  return (
    <div class={`readout ${tone ?? ''} ${large ? 'large' : ''}`}>
      <span class="label">{label}</span>
      <span class="figure">
        <b>{shown.value}</b> <i>{shown.unit}</i>
      </span>
      {note === undefined ? null : <span class="note">{note}</span>}
    </div>
  );
}

export function Button({
  children,
  onPress,
  kind = 'plain',
  disabled = false,
  pressed,
  label,
}: {
  readonly children: ComponentChildren;
  readonly onPress: () => void;
  readonly kind?: 'plain' | 'main' | 'stop' | 'quiet';
  readonly disabled?: boolean;
  readonly pressed?: boolean;
  readonly label?: string;
}) {
  return (
    <button
      type="button"
      class={`button ${kind}`}
      disabled={disabled}
      onClick={onPress}
      aria-pressed={pressed}
      aria-label={label}
    >
      {children}
    </button>
  );
}

export function Field({ label, children }: { readonly label: string; readonly children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is what it is given to hold
    <label class="field">
      <span>{label}</span>
      {children}
    </label>
  );
}

export function Choice<V extends string>({
  label,
  value,
  options,
  onChoose,
  disabled = false,
}: {
  readonly label: string;
  readonly value: V;
  readonly options: readonly (readonly [V, string])[];
  readonly onChoose: (value: V) => void;
  readonly disabled?: boolean;
}) {
  return (
    <Field label={label}>
      <select
        value={value}
        disabled={disabled}
        onChange={({ currentTarget }) => onChoose(currentTarget.value as V)}
      >
        {options.map(([id, name]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </Field>
  );
}

/** A second press is needed where the first one can not be taken back. */
export function Twice({
  first,
  second,
  onPress,
  disabled = false,
}: {
  readonly first: string;
  readonly second: string;
  readonly onPress: () => void;
  readonly disabled?: boolean;
}) {
  const [sure, setSure] = useState(false);
  if (!sure)
    return (
      <Button onPress={() => setSure(true)} disabled={disabled}>
        {first}
      </Button>
    );
  return (
    <>
      <Button
        kind="stop"
        onPress={() => {
          setSure(false);
          onPress();
        }}
      >
        {second}
      </Button>
      <Button kind="quiet" onPress={() => setSure(false)}>
        {T.job.keep}
      </Button>
    </>
  );
}

/** What was not done, said once and then taken away. */
export function Refusal({ because, count }: { readonly because: string; readonly count: number }) {
  const [gone, setGone] = useState(0);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(() => {
    timer.current = setTimeout(() => setGone(count), 8_000);
    return () => clearTimeout(timer.current);
  }, [count]);
  if (gone === count) return null;
  return (
    <div class="refusal" role="alert">
      <b>{T.refusedTitle}</b> {because}
      <Button kind="quiet" onPress={() => setGone(count)}>
        {T.close}
      </Button>
    </div>
  );
}

/** What the records, or the line to the board, have to say. */
export function ToldList({ told }: { readonly told: readonly string[] }) {
  if (told.length === 0) return null;
  return (
    <ul class="banner warn told" role="status">
      {told.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
}
