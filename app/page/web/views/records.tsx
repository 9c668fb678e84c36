// Records: jobs that were kept, found and opened; one of them as it prints; and what upkeep is due.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { JobLine } from '../../../records/lines.ts';
import type { RecordsShown } from '../../shown-records.ts';
import { inOne } from '../format.ts';
import { Button, Field, Panel } from '../parts.tsx';
import { reportUnits, unitsNow } from '../settings.ts';
import { say } from '../store.ts';
import { OUTCOMES, SERVICE_NAMES, T } from '../text.ts';
import type { ViewProps } from '../view.ts';
import { UpkeepPanel } from './upkeep.tsx';

const MARKS: { readonly [outcome: string]: string } = { completed: '✓', open: '○' };
const two = (value: number): string => String(value).padStart(2, '0');

/** By the clock of whoever looks; year, month and day in the order that nobody misreads. */
function localTime(iso: string): string {
  const at = new Date(iso);
  const day = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  return `${day} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

function JobRow({
  job,
  chosen,
  barometerPa,
  onOpen,
}: {
  readonly job: JobLine;
  readonly chosen: boolean;
  readonly barometerPa: number;
  readonly onOpen: () => void;
}) {
  const units = unitsNow(barometerPa);
  const mass = (kg: number | undefined) => (kg === undefined ? '–' : inOne(units.charge(kg)));
  const outcome = job.outcome ?? 'open';
  return (
    <tr class={chosen ? 'chosen' : ''}>
      <th scope="row">
        <button type="button" class="row-button" aria-pressed={chosen} onClick={onOpen}>
          {job.id} · {job.name}
        </button>
      </th>
      <td>{localTime(job.openedAt)}</td>
      <td>
        {SERVICE_NAMES[job.service] ?? job.service}, {job.refrigerant}
      </td>
      <td>
        <span aria-hidden="true">{MARKS[outcome] ?? '■'}</span>{' '}
        {job.outcome === undefined ? T.records.stillOpen : (OUTCOMES[outcome] ?? outcome)}
      </td>
      <td>{mass(job.recoveredKg)}</td>
      <td>{mass(job.chargedKg)}</td>
    </tr>
  );
}

function Jobs({
  shown,
  chosen,
  barometerPa,
  words,
  onSearch,
  onOpen,
}: {
  readonly shown: RecordsShown | undefined;
  readonly chosen: number | undefined;
  readonly barometerPa: number;
  readonly words: string;
  readonly onSearch: (words: string) => void;
  readonly onOpen: (job: number) => void;
}) {
  const jobs = shown?.jobs ?? [];
  return (
    <Panel title={T.records.jobs} aside={<span class="count">{jobs.length}</span>}>
      <Field label={`${T.records.search} (${T.records.searchHint})`}>
        <input
          type="search"
          maxLength={120}
          value={words}
          onInput={({ currentTarget }) => onSearch(currentTarget.value)}
        />
      </Field>
      {jobs.length === 0 ? (
        <p class="quiet">
          {shown === undefined ? T.link.trying : words.trim() === '' ? T.records.noneYet : T.records.none}
        </p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
        <section class="scroll records-list" tabIndex={0} aria-label={T.records.list}>
          <table>
            <thead>
              <tr>
                <th scope="col">
                  {T.records.number} · {T.records.job}
                </th>
                <th scope="col">{T.records.begun}</th>
                <th scope="col">{T.ticket.service}</th>
                <th scope="col">{T.records.outcome}</th>
                <th scope="col">{T.records.recovered}</th>
                <th scope="col">{T.records.charged}</th>
              </tr>
            </thead>
            <tbody>
              {jobs.map((job) => (
                <JobRow
                  key={job.id}
                  job={job}
                  chosen={job.id === chosen}
                  barometerPa={barometerPa}
                  onOpen={() => onOpen(job.id)}
                />
              ))}
            </tbody>
          </table>
        </section>
      )}
    </Panel>
  );
}

/** As it prints: the page of the report in a frame that runs no script. */
function Report({ job, onClose }: { readonly job: number; readonly onClose: () => void }) {
  const frame = useRef<HTMLIFrameElement>(null);
  const address = `/report/${job}?units=${reportUnits()}`;
  return (
    <Panel title={T.records.of(job)}>
      <div class="buttons">
        <Button kind="main" onPress={() => frame.current?.contentWindow?.print()}>
          {T.records.print}
        </Button>
        <a class="button" href={address} target="_blank" rel="noreferrer">
          {T.records.ownTab}
        </a>
        <Button onPress={onClose}>{T.records.close}</Button>
      </div>
      <iframe
        key={address}
        ref={frame}
        class="report"
        title={T.records.of(job)}
        src={address}
        sandbox="allow-same-origin allow-modals"
      />
    </Panel>
  );
}

const TYPED_MS = 200;

export function RecordsView({ known, snapshot }: ViewProps) {
  const { records } = snapshot;
  const [words, search] = useState('');
  const [chosen, open] = useState<number | undefined>(undefined);
  const changes = records?.changes;
  useEffect(() => {
    if (changes === undefined) return;
    const timer = setTimeout(
      () => say({ type: 'look-up', words }),
      known.records === undefined ? 0 : TYPED_MS,
    );
    return () => clearTimeout(timer);
    // The answer itself is no reason to ask again.
  }, [words, changes, known.link]);
  if (records === undefined) return <p class="banner">{T.records.nothingKept}</p>;
  return (
    <div class="records">
      <div class="column">
        <Jobs
          shown={known.records}
          chosen={chosen}
          barometerPa={snapshot.barometerPa}
          words={words}
          onSearch={search}
          onOpen={open}
        />
        {chosen === undefined ? null : <Report job={chosen} onClose={() => open(undefined)} />}
      </div>
      <UpkeepPanel machines={known.records?.machines ?? []} disabled={!known.hasControl} />
    </div>
  );
}
