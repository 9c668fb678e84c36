import { expect, test } from 'vitest';
import { LiveView } from '../../app/cli/live.ts';
import { unitsFor } from '../../app/units.ts';
import { fakeTerminal } from './fake-terminal.ts';
import { quiet, seen } from './seen.ts';

const units = unitsFor('si', 101_325);

function viewOn(options: { interactive: boolean; columns?: number }) {
  const terminal = fakeTerminal(options);
  const clock = { ms: 0 };
  const view = new LiveView(terminal, units, () => clock.ms);
  return { terminal, clock, view };
}

const recovering = {
  ...quiet,
  figures: { lowSidePa: 201_325, phaseKg: 0.312, flowKgPerS: 0.0041 },
  remainingMs: { low: 240_000, high: 420_000 },
};

test('on a terminal one line is redrawn, at most ten times a second', () => {
  const { terminal, clock, view } = viewOn({ interactive: true, columns: 120 });
  for (let scan = 0; scan < 100; scan++) {
    clock.ms = scan * 10;
    view.look(seen(scan * 100, { progress: recovering }));
    view.redraw();
  }
  const drawn = terminal.output().split('\r\u001b[2K').slice(1);
  expect(drawn.length).toBeGreaterThan(8);
  expect(drawn.length).toBeLessThanOrEqual(11);
  expect(drawn.at(-1)).toContain('low 1.00 bar g');
  expect(drawn.at(-1)).toContain('moved 312 g');
  expect(drawn.at(-1)).toContain('4–7 min left');
  expect(drawn.at(-1)).toContain('the pressure to fall');
});

test('the redrawn line never wraps', () => {
  const { terminal, view } = viewOn({ interactive: true, columns: 40 });
  view.look(seen(0, { progress: recovering }));
  view.redraw();
  expect(terminal.output().split('\r\u001b[2K').at(-1)!.length).toBeLessThan(40);
});

test('in a pipe there are plain lines with simulated times, and nothing is redrawn', () => {
  const { terminal, view } = viewOn({ interactive: false });
  view.look(seen(0, { progress: recovering }));
  view.redraw();
  view.look(seen(83_000, { progress: { ...quiet, stage: 'rest', waitingFor: 'the pressure to rise' } }));
  view.redraw();
  view.end();
  expect(terminal.output()).not.toContain('\u001b');
  expect(terminal.output().split('\n')).toEqual([
    '    0:00  recover begins: waiting for the pressure to fall',
    '    1:23  recover done: low 1.00 bar g, moved 312 g, flow 4.1 g/s',
    '    1:23  rest begins: waiting for the pressure to rise',
    '',
  ]);
});

test('prompts and notices stay on the screen, each once', () => {
  const { terminal, view } = viewOn({ interactive: false });
  const prompt = { id: 'connect-hoses' as const, text: 'Connect the hoses.', evidence: '', askedAtMs: 100 };
  const asking = { ...quiet, prompt };
  const notice = { code: 'cold', severity: 'advice' as const, text: 'Cold.', remedy: 'Warm it.', atMs: 300 };
  view.look(seen(100, { progress: asking }));
  view.look(seen(200, { progress: asking }));
  view.look(seen(300, { progress: asking, notices: [notice] }));
  const output = terminal.output();
  expect(output.match(/Connect the hoses\./g)).toHaveLength(1);
  expect(output).toContain('advice: Cold. → Warm it.');
});
