// A trip that no job waits with: it is reset as well, before anything else begins.
import type { Snapshot } from '../../shown.ts';
import { Button, Panel } from '../parts.tsx';
import { type Known, say } from '../store.ts';
import { T } from '../text.ts';
import { tripName } from '../told.ts';

export function Tripped({ known, snapshot }: { readonly known: Known; readonly snapshot: Snapshot }) {
  const { trip, phase } = snapshot;
  if (trip === undefined || phase === 'job' || phase === 'broken') return null;
  return (
    <Panel tone="trip">
      <p class="now-why">
        <b>{T.job.tripped}</b> {tripName(trip.reason)}. {trip.remedy}
      </p>
      <div class="buttons">
        <Button kind="main" disabled={!known.hasControl} onPress={() => say({ type: 'say', what: 'reset' })}>
          {T.job.reset}
        </Button>
      </div>
    </Panel>
  );
}
