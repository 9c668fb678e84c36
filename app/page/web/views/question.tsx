// One question of commissioning: a press, a choice, or something typed with its unit.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Asked } from '../../shown-board.ts';
import { Button, Choice, Field } from '../parts.tsx';
import { say } from '../store.ts';
import { T } from '../text.ts';

type Given = { readonly ask: Asked; readonly disabled: boolean; readonly give: (text: string) => void };

function Typed({ ask, disabled, give }: Given) {
  const [text, setText] = useState('');
  const field = useRef<HTMLInputElement>(null);
  // Whoever typed the answer before types on; what a press answers is not pressed by a key that is held.
  useEffect(() => {
    if (document.activeElement === null || document.activeElement === document.body) field.current?.focus();
  }, []);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        give(text);
      }}
    >
      <Field
        label={ask.hint === undefined ? T.commissioning.answer : `${T.commissioning.answer} (${ask.hint})`}
      >
        <input
          ref={field}
          value={text}
          maxLength={200}
          disabled={disabled}
          onInput={({ currentTarget }) => setText(currentTarget.value)}
        />
      </Field>
      <button type="submit" class="button main" disabled={disabled}>
        {T.commissioning.send}
      </button>
    </form>
  );
}

function One({ ask, disabled, give }: Given) {
  const [chosen, choose] = useState(ask.choices[0] ?? '');
  return (
    <>
      <Choice
        label={T.commissioning.answer}
        value={chosen}
        disabled={disabled}
        options={ask.choices.map((name) => [name, name] as const)}
        onChoose={choose}
      />
      <Button kind="main" disabled={disabled} onPress={() => give(chosen)}>
        {T.commissioning.send}
      </Button>
    </>
  );
}

function Several({ ask, disabled, give }: Given) {
  const [chosen, choose] = useState<readonly string[]>([]);
  return (
    <>
      <div class="ticks">
        {ask.choices.map((name) => (
          <label key={name} class="tick">
            <input
              type="checkbox"
              checked={chosen.includes(name)}
              disabled={disabled}
              onChange={({ currentTarget }) =>
                choose(currentTarget.checked ? [...chosen, name] : chosen.filter((one) => one !== name))
              }
            />
            <span>{name}</span>
          </label>
        ))}
      </div>
      <Button
        kind="main"
        disabled={disabled}
        onPress={() => give(chosen.length === 0 ? 'none' : chosen.join(','))}
      >
        {T.commissioning.send}
        {chosen.length === 0 ? `: ${T.commissioning.none}` : ''}
      </Button>
    </>
  );
}

function Input(given: Given) {
  const { ask, disabled, give } = given;
  switch (ask.kind) {
    case 'enter':
      return (
        <Button kind="main" disabled={disabled} onPress={() => give('')}>
          {T.commissioning.done}
        </Button>
      );
    case 'yes-no':
      return (
        <>
          <Button kind="main" disabled={disabled} onPress={() => give('yes')}>
            {T.commissioning.yes}
          </Button>
          <Button kind="main" disabled={disabled} onPress={() => give('no')}>
            {T.commissioning.no}
          </Button>
        </>
      );
    case 'choice':
      return <One {...given} />;
    case 'choices':
      return <Several {...given} />;
    default:
      return <Typed {...given} />;
  }
}

export function QuestionCard({ ask, disabled }: { readonly ask: Asked; readonly disabled: boolean }) {
  const give = (text: string) => say({ type: 'commission-answer', asked: ask.asked, text });
  return (
    <>
      <p class="prompt-text" role="alert">
        {ask.text}
      </p>
      <div class="buttons question">
        <Input ask={ask} disabled={disabled} give={give} />
      </div>
    </>
  );
}
