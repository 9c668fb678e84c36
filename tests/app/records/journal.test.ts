import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../../app/bench/whole-jobs.ts';
import { numberIn, Store, textIn } from '../../../app/records/store.ts';
import { runDocument } from '../../../app/run/document.ts';
import { prepare } from '../../../app/run/prepare.ts';
import { runSession } from '../../../app/run/session.ts';
import { toScenario } from '../../../app/scenario/scenario.ts';
import { type Commands, OUTPUTS, SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { Bench } from '../../../sim/bench.ts';
import { CAR, newFile, recordedRun, withStore } from './jobs.ts';

const RECOVERY = { ...CAR, ticket: { ...CAR.ticket, service: 'recover' } };

const opened = (commands: Commands, before: Commands): readonly string[] =>
  OUTPUTS.filter((output) => commands[output].on && !before[output].on && output !== 'fanStop');

/** Calls `before` with what is about to be applied. */
function watchApply(bench: Bench, before: (commands: Commands) => void): void {
  const apply = bench.apply.bind(bench);
  bench.apply = (commands) => {
    before(commands);
    apply(commands);
  };
}

describe('the journal of a job', () => {
  test('has every opening on the disk, for another process to read, before the rig is told', async () => {
    const file = newFile();
    let openings = 0;
    await withStore(file, async (store) => {
      const reader = new Store(file);
      let last = SAFE_COMMANDS;
      await recordedRun(store, RECOVERY, {
        prepared: ({ bench }) =>
          watchApply(bench, (commands) => {
            const opens = opened(commands, last);
            last = commands;
            if (opens.length === 0) return;
            openings += 1;
            const row = reader.one('SELECT kind, body FROM journal ORDER BY id DESC LIMIT 1')!;
            const body = JSON.parse(textIn(row, 'body')) as {
              opens: object;
              scaleCounts: number;
              calibration: number;
            };
            expect(textIn(row, 'kind')).toBe('intent');
            expect(Object.keys(body.opens)).toEqual(opens);
            expect(body).toMatchObject({ calibration: 1 });
            expect(body.scaleCounts).toBeGreaterThan(1_000_000);
          }),
      });
      reader.close();
    });
    expect(openings).toBeGreaterThan(10);
  });

  test('changes nothing of a job: recorded or not, it comes to the same to the last digit', async () => {
    const { facts } = await withStore(newFile(), (store) => recordedRun(store, RECOVERY));
    const session = prepare(toScenario(RECOVERY, 'the test'), 'the test', fluidOnce, clockMs);
    const plain = await runSession(session, { observers: [], pacing: PACING });
    const timeless = { simulatedMs: 0, wallMs: 0, tablesMs: 0 };
    expect(runDocument({ ...facts, ...timeless })).toEqual(runDocument({ ...plain, ...timeless }));
  });

  test('that cannot be written keeps the path shut, pauses the job and says why; what was booked is not lost', async () => {
    await withStore(newFile(), async (store) => {
      let pages = 0;
      const applied: Commands[] = [];
      const { facts, told, recorder, loop } = await recordedRun(store, RECOVERY, {
        prepared: ({ bench }) => watchApply(bench, (commands) => void (pages > 0 && applied.push(commands))),
        look: ({ ledgerEntries }) => {
          if (pages > 0 || ledgerEntries.length === 0) return;
          pages = numberIn(store.one('PRAGMA page_count'), 'page_count');
          store.all(`PRAGMA max_page_count = ${pages}`);
        },
      });
      expect(facts.outcome).toBe('stopped');
      expect(told.join('\n')).toMatch(
        /everything was shut and the job is paused.*the disk is full; make room/,
      );
      expect(recorder.problem?.message).toContain('the disk is full');
      expect(applied.at(-1)).toEqual(SAFE_COMMANDS);
      expect(store.damage()).toEqual([]);
      const booked = numberIn(store.one("SELECT count(*) AS n FROM ledger WHERE movement <> 'stock'"), 'n');
      expect(booked).toBe(1);
      expect(loop?.state.ledger.length).toBe(1);
      expect(store.one('SELECT closed_at FROM jobs')).toMatchObject({ closed_at: null });
    });
  });

  test('of a machine with a job that was left open keeps another from beginning, and names the way on', async () => {
    await withStore(newFile(), async (store) => {
      await recordedRun(store, RECOVERY, { look: ({ nowMs }, loop) => nowMs > 60_000 && loop.die() });
      const { facts } = await recordedRun(store, RECOVERY);
      expect(facts.outcome).toBe('refused');
      expect(facts.blockers).toMatchObject([
        { code: 'job-left-open', remedy: expect.stringContaining('coldbench resume') },
      ]);
    });
  });

  test('goes on when the clock was set back: that is told, and entries keep their order', async () => {
    await withStore(newFile(), async (store) => {
      store.run("INSERT INTO machines VALUES ('another', '2020-01-01T00:00:00.000Z', 0)");
      store.run(
        "INSERT INTO upkeep (machine, at, item, verdict, figures) VALUES ('another', '2199-01-01T00:00:00.000Z', 'pump-oil', 'done', '{}')",
      );
      const { told, facts } = await recordedRun(store, RECOVERY);
      expect(facts.outcome).toBe('completed');
      expect(told.join('\n')).toMatch(
        /clock of this computer says .* the records go up to 2199-01-01.*Nothing is lost/,
      );
      const rows = store.all('SELECT id, at_ms FROM journal ORDER BY id');
      const times = rows.map((row) => numberIn(row, 'at_ms'));
      expect(times).toEqual([...times].sort((a, b) => a - b));
    });
  });
});
