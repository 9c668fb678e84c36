// The class: lessons, prediction, diagrams, and the score once it is revealed.
import { useState } from 'preact/hooks';
import type { LessonView } from '../../shown-class.ts';
import { Button, Panel } from '../parts.tsx';
import { say } from '../store.ts';
import { OUTPUT_NAMES, T } from '../text.ts';
import { maySetUp, type ViewProps } from '../view.ts';
import { PressureEnthalpy, PressureTemperature } from './diagrams.tsx';
import { ScorePanel } from './score.tsx';

const predictions = new Map<string, number>();

function Sheet({ lesson }: { readonly lesson: LessonView }) {
  const [, draw] = useState(0);
  const predicted = predictions.get(lesson.id);
  return (
    <article class="sheet">
      <h2>{lesson.title}</h2>
      <p class="sheet-lines only-print">
        <span>{T.lessons.name}</span>
        <span>{T.lessons.date}</span>
      </p>
      <h3>{T.lessons.aim}</h3>
      <p>{lesson.aim}</p>
      <h3>{T.lessons.setUp}</h3>
      <p>{lesson.setUp}</p>
      <h3>{T.lessons.predict}</h3>
      <fieldset>
        <legend>{lesson.question}</legend>
        {lesson.options.map((option, index) => (
          <label key={option} class={`tick ${lesson.answer === index ? 'right' : ''}`}>
            <input
              type="radio"
              name={lesson.id}
              checked={predicted === index}
              onChange={() => {
                predictions.set(lesson.id, index);
                draw((count) => count + 1);
              }}
            />
            <span>
              {option}
              {lesson.answer === index ? <b> ✓ {T.lessons.answer}</b> : null}
            </span>
          </label>
        ))}
      </fieldset>
      <p class="quiet no-print">{T.lessons.yourAnswer}</p>
      <h3>{T.lessons.lookFor}</h3>
      <ul>
        {lesson.lookFor.map((look) => (
          <li key={look}>{look}</li>
        ))}
      </ul>
      <h3>{T.lessons.score}</h3>
      <p>{lesson.scoreRule}</p>
      {lesson.explanation === undefined ? null : (
        <>
          <h3>{T.lessons.explanation}</h3>
          <p>{lesson.explanation}</p>
        </>
      )}
      {lesson.teacherNote === undefined ? null : (
        <div class="no-print">
          <h3>{T.lessons.note}</h3>
          <p>{lesson.teacherNote}</p>
        </div>
      )}
    </article>
  );
}

function Lessons({ known, welcome, snapshot }: ViewProps) {
  const [shown, show] = useState(snapshot.chosen);
  const lesson = welcome.lessons.find(({ id }) => id === shown) ?? welcome.lessons[0]!;
  return (
    <Panel title={T.lessons.title}>
      <div class="lesson-names no-print">
        {welcome.lessons.map(({ id, title }) => (
          <button
            key={id}
            type="button"
            class="lesson-name"
            aria-pressed={id === lesson.id}
            onClick={() => show(id)}
          >
            {title}
            {snapshot.chosen === id ? <span class="chip good">{T.lessons.chosen}</span> : null}
          </button>
        ))}
      </div>
      <Sheet key={lesson.id} lesson={lesson} />
      <div class="buttons no-print">
        <Button
          kind="main"
          disabled={!maySetUp(known)}
          onPress={() => say({ type: 'choose', id: lesson.id })}
        >
          {T.lessons.choose}
        </Button>
        <Button onPress={() => print()}>{T.lessons.print}</Button>
      </div>
    </Panel>
  );
}

export function ClassView(props: ViewProps) {
  const { dome, snapshot } = props;
  return (
    <div class="class">
      <Lessons {...props} />
      <div class="column no-print">
        <Panel title={T.lessons.diagrams}>
          <div class="diagrams">
            <PressureTemperature snapshot={snapshot} dome={dome} />
            <PressureEnthalpy snapshot={snapshot} dome={dome} />
          </div>
        </Panel>
        <Panel title={T.lessons.shownFaults}>
          {snapshot.faults.length === 0 ? (
            <p class="quiet">{T.lessons.noFaults}</p>
          ) : (
            <ul>
              {snapshot.faults.map(({ fault, output }) => (
                <li key={`${fault} ${output}`}>
                  {fault}
                  {output === undefined ? '' : `: ${OUTPUT_NAMES[output].name}`}
                </li>
              ))}
            </ul>
          )}
        </Panel>
        <ScorePanel score={snapshot.teacher?.score ?? snapshot.score} snapshot={snapshot} />
      </div>
    </div>
  );
}
