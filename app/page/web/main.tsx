// The page: what stands around every view, and which view it is.
import { render } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { connect, isTeacher } from './link.ts';
import { Refusal } from './parts.tsx';
import { beginSettings, useSettings } from './settings.ts';
import { useKnown } from './store.ts';
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
import './style/narrow.css';
import { Header, TimeBar } from './frame.tsx';
import { ClassView } from './views/class.tsx';
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
  class: { icon: 'M3 5h18v11H3zM8 20h8M12 16v4', view: ClassView },
  teacher: { icon: 'M12 12a4 4 0 100-8 4 4 0 000 8zM4 21c0-4 3-6 8-6s8 2 8 6', view: TeacherView },
} as const;
type ViewName = keyof typeof VIEWS;

const shownViews = (Object.keys(VIEWS) as ViewName[]).filter((name) => isTeacher || name !== 'teacher');

const viewNow = (): ViewName =>
  shownViews.find((name) => location.hash === `#${name}`) ?? (isTeacher ? 'teacher' : 'job');

function Navigation({ current }: { readonly current: ViewName }) {
  return (
    <nav aria-label={T.navigation} class="views">
      {shownViews.map((name) => (
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

function Page() {
  const known = useKnown();
  useSettings();
  const [current, show] = useState(viewNow);
  useEffect(() => {
    // The way past the navigation is no view.
    const listener = () => {
      if (location.hash !== '#work') show(viewNow());
    };
    addEventListener('hashchange', listener);
    return () => removeEventListener('hashchange', listener);
  }, []);
  const { welcome, snapshot, link, refusal } = known;
  const { view: View } = VIEWS[current];
  return (
    <>
      <a class="skip" href="#work">
        {T.skip}
      </a>
      <Header known={known} />
      <Navigation current={current} />
      <main id="work" tabIndex={-1} class={`view-${current}`}>
        <h1 class="only-read">{T.views[current]}</h1>
        {link === 'down' ? (
          <p class="banner warn" role="alert">
            {T.linkLost}
          </p>
        ) : null}
        {welcome === undefined || snapshot === undefined ? (
          <p class="banner">{T.link.trying}</p>
        ) : (
          <View known={known} welcome={welcome} snapshot={snapshot} />
        )}
      </main>
      {welcome?.simulated && snapshot !== undefined ? <TimeBar known={known} snapshot={snapshot} /> : null}
      {refusal === undefined ? null : <Refusal because={refusal.because} count={refusal.count} />}
    </>
  );
}

beginSettings();
connect();
render(<Page />, document.getElementById('page')!);
