// The page: what stands around every view, and which view it is.
import { render } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Welcome } from '../shown.ts';
import { fetchPlots } from './chart.tsx';
import { connect, isTeacher } from './link.ts';
import { Refusal } from './parts.tsx';
import { shownOf } from './replay.ts';
import { ReplayBar } from './replay-bar.tsx';
import { beginSettings, useSettings } from './settings.ts';
import { type Known, useKnown } from './store.ts';
import { T } from './text.ts';
import './style/base.css';
import './style/frame.css';
import './style/parts.css';
import './style/job.css';
import './style/hand.css';
import './style/machine.css';
import './style/trends.css';
import './style/class.css';
import './style/records.css';
import './style/commissioning.css';
import './style/narrow.css';
import { Header, TimeBar } from './frame.tsx';
import { ClassView } from './views/class.tsx';
import { CommissioningPage } from './views/commissioning.tsx';
import { HandView } from './views/hand.tsx';
import { JobView } from './views/job.tsx';
import { MachineView } from './views/machine.tsx';
import { RecordsView } from './views/records.tsx';
import { TeacherView } from './views/teacher.tsx';
import { TrendsView } from './views/trends.tsx';

const VIEWS = {
  job: { icon: 'M4 5h16M4 12h10M4 19h13', view: JobView },
  machine: { icon: 'M4 8v8l8-4zM20 8v8l-8-4zM12 12V4M8 4h8', view: MachineView },
  trends: { icon: 'M4 4v16h16M7 15l4-5 4 3 5-7', view: TrendsView },
  hand: {
    icon: 'M7 13V6a1.5 1.5 0 013 0v5V4a1.5 1.5 0 013 0v7V5a1.5 1.5 0 013 0v8l2-2c2 0 1 2 0 4l-3 5H9l-4-6c1-1 2-1 2-1z',
    view: HandView,
  },
  records: { icon: 'M6 3h9l4 4v14H6zM9 11h7M9 15h7', view: RecordsView },
  commissioning: { icon: 'M4 6l2 2 3-4M4 13l2 2 3-4M12 6h8M12 13h8M12 20h8M5 20h2', view: undefined },
  class: { icon: 'M3 5h18v11H3zM8 20h8M12 16v4', view: ClassView },
  teacher: { icon: 'M12 12a4 4 0 100-8 4 4 0 000 8zM4 21c0-4 3-6 8-6s8 2 8 6', view: TeacherView },
} as const;
type ViewName = keyof typeof VIEWS;

function viewsOf(welcome: Welcome | undefined): readonly ViewName[] {
  const simulated = welcome?.simulated !== false;
  const left = new Set<ViewName>([
    ...(isTeacher ? [] : (['teacher'] as const)),
    ...(simulated ? (['commissioning'] as const) : (['class', 'teacher'] as const)),
  ]);
  return (Object.keys(VIEWS) as ViewName[]).filter((name) => !left.has(name));
}

/** The page is there by then, and the server as well. */
const PLOTS_AFTER_MS = 1_500;

const viewNow = (): ViewName =>
  (Object.keys(VIEWS) as ViewName[]).find((name) => location.hash === `#${name}`) ??
  (isTeacher ? 'teacher' : 'job');

function Navigation({ current, shown }: { readonly current: ViewName; readonly shown: readonly ViewName[] }) {
  return (
    <nav aria-label={T.navigation} class="views">
      {shown.map((name) => (
        <a key={name} href={`#${name}`} aria-current={name === current ? 'page' : undefined}>
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d={VIEWS[name].icon} />
          </svg>
          <span>{T.views[name]}</span>
        </a>
      ))}
    </nav>
  );
}

function View({ known, name }: { readonly known: Known; readonly name: ViewName }) {
  const { welcome, snapshot, commissioning } = known;
  const { view: Shown } = VIEWS[name];
  if (welcome === undefined || (snapshot ?? commissioning) === undefined)
    return <p class="banner">{T.link.trying}</p>;
  if (Shown === undefined)
    return commissioning === undefined ? null : <CommissioningPage known={known} view={commissioning} />;
  if (snapshot === undefined || welcome.dome === undefined)
    return <p class="banner">{T.commissioning.notYet}</p>;
  return <Shown known={known} welcome={welcome} snapshot={snapshot} dome={welcome.dome} />;
}

function Page() {
  const known = useKnown();
  useSettings();
  const [current, show] = useState(viewNow);
  useEffect(() => {
    // The way past the navigation is no view.
    const listener = () => {
      if (location.hash === '#work') return;
      show(viewNow());
      scrollTo(0, 0);
    };
    addEventListener('hashchange', listener);
    return () => removeEventListener('hashchange', listener);
  }, []);
  const { welcome, snapshot, link, refusal } = known;
  const shown = viewsOf(welcome);
  const now = shown.includes(current) ? current : shown[0]!;
  return (
    <>
      <a class="skip" href="#work">
        {T.skip}
      </a>
      <Header known={known} />
      <Navigation current={now} shown={shown} />
      <main id="work" tabIndex={-1} class={`view-${now}`}>
        <h1 class="only-read">{T.views[now]}</h1>
        {link === 'down' ? (
          <p class="banner warn" role="alert">
            {T.linkLost}
          </p>
        ) : null}
        <ReplayBar />
        <View known={shownOf(known)} name={now} />
      </main>
      {welcome?.simulated && snapshot !== undefined ? <TimeBar known={known} snapshot={snapshot} /> : null}
      {refusal === undefined ? null : <Refusal because={refusal.because} count={refusal.count} />}
    </>
  );
}

connect();
beginSettings();
setTimeout(() => fetchPlots().catch(() => {}), PLOTS_AFTER_MS);
render(<Page />, document.getElementById('page')!);
