// Commissioning, guided: the lines and how they stand, what is asked now, what was said, and what the board tells.
import type { BoardView, CommissioningView, LineText, StandingShown, Told } from '../../shown-board.ts';
import { clock, readWith } from '../format.ts';
import { Button, Panel, Readout } from '../parts.tsx';
import { unitsNow } from '../settings.ts';
import { type Known, say } from '../store.ts';
import { OUTPUT_NAMES, T } from '../text.ts';
import { QuestionCard } from './question.tsx';

const MARKS = { standing: '✓', missing: '○', failed: '✕', expired: '!' } as const;
const TONES = { standing: 'good', missing: '', failed: 'trip', expired: 'warn' } as const;
const day = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

function standingText(standing: StandingShown): string {
  const word = T.commissioning.standing[standing.is];
  switch (standing.is) {
    case 'missing':
      return standing.waits === undefined ? word : `${word}, ${standing.waits}`;
    case 'failed':
      return `${word} ${standing.date.slice(0, 10)}: ${standing.why}`;
    default:
      return `${word} ${day(standing.untilMs)}`;
  }
}

function Line({
  line,
  standing,
  under,
  disabled,
}: {
  readonly line: LineText;
  readonly standing: StandingShown;
  readonly under: boolean;
  readonly disabled: boolean;
}) {
  return (
    <li class={`line ${under ? 'under' : ''}`} aria-current={under ? 'step' : undefined}>
      <div class="upkeep-head">
        <span class={`chip ${TONES[standing.is]}`}>
          <span aria-hidden="true">{under ? '▶' : MARKS[standing.is]}</span> {line.id}
        </span>
        <strong>{line.title}</strong>
      </div>
      <p class="quiet">
        {standingText(standing)}
        {line.optional ? ` (${T.commissioning.optional})` : ''}
      </p>
      <details>
        <summary>{T.commissioning.why}</summary>
        <p>{line.why}</p>
        <div class="buttons">
          <Button
            disabled={disabled}
            label={`${line.title}: ${T.commissioning.onlyThis}`}
            onPress={() => say({ type: 'commission', line: line.id })}
          >
            {standing.is === 'missing' ? T.commissioning.onlyThis : T.commissioning.again}
          </Button>
        </div>
      </details>
    </li>
  );
}

function Board({ board, problem }: { readonly board: BoardView; readonly problem: string | undefined }) {
  const units = unitsNow(101_325);
  const shown = (told: Told) =>
    typeof told === 'number' ? readWith(told, units.vacuum) : { value: '–', unit: told.replaceAll('-', ' ') };
  const gauge = (told: Told) =>
    typeof told === 'number'
      ? readWith(told, units.pressure)
      : { value: '–', unit: told.replaceAll('-', ' ') };
  return (
    <Panel title={T.commissioning.board}>
      <p>
        <span class={`chip ${board.linked ? 'good' : 'warn'}`}>
          <span aria-hidden="true">{board.linked ? '●' : '○'}</span>{' '}
          {board.linked ? T.commissioning.linked : T.commissioning.notLinked}
        </span>{' '}
        {board.linked ? T.commissioning.states[board.state] : ''}
        {board.trip === 'none' ? '' : `: ${T.commissioning.trips[board.trip]}`}
      </p>
      {problem === undefined ? null : <p class="banner warn">{problem}</p>}
      <p>
        <span class="label">{T.commissioning.on}</span>{' '}
        {board.on.length === 0
          ? T.commissioning.nothingOn
          : board.on.map((output) => OUTPUT_NAMES[output].name).join(', ')}
      </p>
      <div class="figures small">
        <Readout tone="low" label={T.figures.low} shown={gauge(board.lowPa)} />
        <Readout tone="high" label={T.figures.high} shown={gauge(board.highPa)} />
        <Readout label={T.figures.tank} shown={gauge(board.tankPa)} />
        <Readout label={T.commissioning.manifold} shown={shown(board.manifoldPa)} />
        <Readout
          label={T.commissioning.scale}
          shown={
            typeof board.scaleCounts === 'number'
              ? { value: String(Math.round(board.scaleCounts)), unit: '' }
              : { value: '–', unit: board.scaleCounts.replaceAll('-', ' ') }
          }
        />
      </div>
    </Panel>
  );
}

/** What is to be done meanwhile stands where the questions stand. */
function Works({
  said,
  linked,
  leftS,
}: {
  readonly said: CommissioningView['said'];
  readonly linked: boolean;
  readonly leftS: number | undefined;
}) {
  const last = said.at(-1);
  return (
    <>
      {last?.kind === 'tell' ? (
        <p class="prompt-text" role="alert">
          {last.text}
        </p>
      ) : null}
      <p class="evidence">
        {linked ? T.commissioning.works : T.commissioning.waits}
        {leftS === undefined ? '' : ` ${T.commissioning.left} ${clock(leftS * 1000)}`}
      </p>
    </>
  );
}

function Said({
  said,
  lines,
}: {
  readonly said: CommissioningView['said'];
  readonly lines: readonly LineText[];
}) {
  if (said.length === 0) return null;
  return (
    <Panel title={T.commissioning.said}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard */}
      <ol class="said" aria-live="polite" aria-label={T.commissioning.said} tabIndex={0}>
        {said.toReversed().map(({ kind, line, text }, index) => (
          <li key={`${said.length - index} ${text}`} class={kind}>
            <b>{T.commissioning.marks[kind]}</b>{' '}
            {kind === 'passed' ? (lines.find(({ id }) => id === line)?.title ?? line) : text}
          </li>
        ))}
      </ol>
    </Panel>
  );
}

export function CommissioningPage({
  known,
  view,
}: {
  readonly known: Known;
  readonly view: CommissioningView;
}) {
  const lines = known.welcome?.lines ?? [];
  const { under, standings, ready, board, problem, said } = view;
  const disabled = !known.hasControl;
  const line = lines.find(({ id }) => id === under?.line);
  return (
    <div class="commissioning">
      <div class="column">
        {under === undefined ? (
          <Panel title={T.commissioning.title} tone={ready ? 'good' : undefined}>
            <p>
              <b>
                <span aria-hidden="true">{ready ? '✓ ' : '○ '}</span>
                {ready ? T.commissioning.ready : T.commissioning.notReady}
              </b>
            </p>
            <p class="quiet">{T.commissioning.lead}</p>
            {ready ? null : (
              <div class="buttons">
                <Button kind="main" disabled={disabled} onPress={() => say({ type: 'commission' })}>
                  {T.commissioning.begin}
                </Button>
              </div>
            )}
          </Panel>
        ) : (
          <Panel title={line?.title ?? under.line} tone="ask">
            {under.ask === undefined ? (
              <Works said={said} linked={board.linked} leftS={under.leftS} />
            ) : (
              <QuestionCard key={under.ask.asked} ask={under.ask} disabled={disabled} />
            )}
            <div class="buttons">
              <Button disabled={disabled} onPress={() => say({ type: 'commission-go', where: 'back' })}>
                {T.commissioning.back}
              </Button>
              <Button disabled={disabled} onPress={() => say({ type: 'commission-go', where: 'skip' })}>
                {T.commissioning.skip}
              </Button>
              <Button
                kind="stop"
                disabled={disabled}
                onPress={() => say({ type: 'commission-go', where: 'quit' })}
              >
                {T.commissioning.quit}
              </Button>
            </div>
          </Panel>
        )}
        <Said said={said} lines={lines} />
        <Board board={board} problem={problem} />
      </div>
      <Panel title={T.commissioning.lines}>
        <ol class="lines">
          {lines.map((one, index) => (
            <Line
              key={one.id}
              line={one}
              standing={standings[index]!}
              under={under?.line === one.id}
              disabled={disabled || under !== undefined}
            />
          ))}
        </ol>
      </Panel>
    </div>
  );
}
