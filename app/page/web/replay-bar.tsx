// The way through what was: above the view, for as long as somebody looks back.
import { clock } from './format.ts';
import { Button } from './parts.tsx';
import { lookBackTo, replayNow } from './replay.ts';
import { changed } from './store.ts';
import { T } from './text.ts';

function go(at: number | undefined): void {
  lookBackTo(at);
  changed();
}

export function LookBack() {
  const { at, count } = replayNow();
  return (
    <Button
      disabled={count < 2}
      pressed={at !== undefined}
      onPress={() => go(at === undefined ? count - 1 : undefined)}
    >
      <span aria-hidden="true">↺</span> {T.replay.look}
    </Button>
  );
}

export function ReplayBar() {
  const { at, count, nowMs } = replayNow();
  if (at === undefined) return null;
  return (
    <section class="banner warn replay no-print" aria-label={T.replay.title}>
      <b>
        {T.replay.title} {clock(nowMs)}
      </b>
      <Button label={T.replay.before} disabled={at === 0} onPress={() => go(at - 1)}>
        ◀
      </Button>
      <input
        type="range"
        min={0}
        max={count - 1}
        value={at}
        aria-label={T.replay.place}
        aria-valuetext={clock(nowMs)}
        onInput={({ currentTarget }) => go(Number(currentTarget.value))}
      />
      <Button label={T.replay.after} disabled={at >= count - 1} onPress={() => go(at + 1)}>
        ▶
      </Button>
      <Button kind="main" onPress={() => go(undefined)}>
        {T.replay.now}
      </Button>
    </section>
  );
}
