// Upkeep: what each machine needs, what is due, and the way to write down that it was done.
import { useState } from 'preact/hooks';
import type { UpkeepState } from '../../../records/lines.ts';
import type { MachineUpkeep } from '../../shown-records.ts';
import { typedNumber } from '../format.ts';
import { Button, Field, Panel } from '../parts.tsx';
import { say } from '../store.ts';
import { T } from '../text.ts';

const MARKS = { 'in order': '✓', 'due soon': '→', due: '!', failed: '✕', 'when needed': '·' } as const;
const TONES = { 'in order': 'good', 'due soon': '', due: 'warn', failed: 'trip', 'when needed': '' } as const;
const FIGURES = ['weightKg', 'readKg', 'stepG'] as const;

function Entry({
  machine,
  item,
  disabled,
}: {
  readonly machine: string;
  readonly item: UpkeepState['item'];
  readonly disabled: boolean;
}) {
  const [typed, setTyped] = useState<{ readonly [field: string]: string }>({});
  const weighs = item === 'scale-weights';
  const figures = Object.fromEntries(FIGURES.map((name) => [name, typedNumber(typed[name] ?? '')]));
  const lacks = weighs && FIGURES.some((name) => figures[name] === undefined);
  const write = (failed: boolean) => {
    const note = typed.note?.trim() ?? '';
    say({
      type: 'upkeep-done',
      machine,
      item,
      failed,
      ...(weighs ? figures : {}),
      ...(note === '' ? {} : { note }),
    });
    setTyped({});
  };
  const field = (name: 'note' | (typeof FIGURES)[number]) => (
    <Field key={name} label={T.upkeep[name]}>
      <input
        {...(name === 'note' ? { maxLength: 200 } : { inputMode: 'decimal' })}
        value={typed[name] ?? ''}
        disabled={disabled}
        onInput={({ currentTarget }) => setTyped({ ...typed, [name]: currentTarget.value })}
      />
    </Field>
  );
  return (
    <>
      <div class="fields">
        {weighs ? FIGURES.map(field) : null}
        {field('note')}
      </div>
      <div class="buttons">
        <Button disabled={disabled || lacks} onPress={() => write(false)}>
          {weighs ? T.upkeep.write : T.upkeep.done}
        </Button>
        {weighs ? null : (
          <Button disabled={disabled} onPress={() => write(true)}>
            {T.upkeep.failed}
          </Button>
        )}
      </div>
    </>
  );
}

function Item({
  machine,
  state,
  disabled,
}: {
  readonly machine: string;
  readonly state: UpkeepState;
  readonly disabled: boolean;
}) {
  const { item, title, how, standing, since, lastAt } = state;
  return (
    <li class="upkeep-item">
      <div class="upkeep-head">
        <span class={`chip ${TONES[standing]}`}>
          <span aria-hidden="true">{MARKS[standing]}</span> {T.upkeep.standing[standing]}
        </span>
        <strong>{title}</strong>
      </div>
      <p class="quiet">
        {since === '' ? '' : `${since}; `}
        {lastAt === undefined ? T.upkeep.never : T.upkeep.last(lastAt.slice(0, 10))}
      </p>
      <details>
        <summary>{T.upkeep.how}</summary>
        <p>{how}</p>
        <Entry machine={machine} item={item} disabled={disabled} />
      </details>
    </li>
  );
}

export function UpkeepPanel({
  machines,
  disabled,
}: {
  readonly machines: readonly MachineUpkeep[];
  readonly disabled: boolean;
}) {
  return (
    <Panel title={T.upkeep.title}>
      {machines.length === 0 ? <p class="quiet">{T.upkeep.none}</p> : null}
      {machines.map(({ machine, upkeep }) => (
        <section key={machine} aria-label={machine}>
          <h3>{machine}</h3>
          <ul class="upkeep">
            {upkeep.map((state) => (
              <Item key={state.item} machine={machine} state={state} disabled={disabled} />
            ))}
          </ul>
        </section>
      ))}
    </Panel>
  );
}
