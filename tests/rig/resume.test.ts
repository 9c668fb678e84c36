import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readRecording } from '../../app/bench/read-recording.ts';
import { Recorder } from '../../app/bench/recorder.ts';
import { replay } from '../../app/bench/replay.ts';
import { breaks } from '../../app/records/chain.ts';
import { leftOff, readLeftOpen } from '../../app/records/left-open.ts';
import type { ControlWatch } from '../../app/rig/control-watch.ts';
import { clockAfter, goOnOnRig, lookOnRig } from '../../app/rig/resume.ts';
import type { ScanLoop, ScanSeen } from '../../app/run/loop.ts';
import { operatorAt } from '../../app/run/session.ts';
import { inFolder } from '../app/bench/recordings.ts';
import { newFile, withStore } from '../app/records/jobs.ts';
import { at, calendar, hostDies, lookedAgain, resumeParts } from '../app/rig/dead-host.ts';
import { VirtualMachine } from '../app/rig/virtual-machine.ts';

const FILE = {
  name: 'a small car',
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  tank: { contentKg: 8 },
  operator: { delayS: 2 },
};
const TANK_KG = 8;

describe('a job on a rig whose host died', () => {
  test('is looked at without a valve moving, and gone on with only once somebody says so', async () => {
    const far = new VirtualMachine(FILE);
    await withStore(newFile(), async (store) => {
      await hostDies(far, store, at(135_000));
      const driven = far.words.length;
      const { left, on, looked } = await lookedAgain(far, store);
      expect(far.words.length).toBe(driven);
      expect(looked.offered.map(({ choice }) => choice)).toEqual(['go-on', 'close']);
      const soFarKg = far.session.bench.truth().tankRefrigerantKg - TANK_KG;
      expect(soFarKg).toBeGreaterThan(0.01);
      expect(Math.abs(looked.afterCut.tankGainKg! - soFarKg)).toBeLessThan(0.005);

      const told: string[] = [];
      const recorded: string[] = [];
      const recorder = new Recorder({ write: (line) => recorded.push(line), flush: () => {} });
      let parts: { loop: ScanLoop; watch: ControlWatch } | undefined;
      let wentOnAtMs: number | undefined;
      let drawsFromMs: number | undefined;
      let beganAtMs = 0;
      const look = ({ nowMs }: ScanSeen): void => {
        if (parts === undefined) return;
        if (wentOnAtMs === undefined && nowMs >= beganAtMs + 18_000) {
          expect(far.machine.word).toBe(0);
          expect(far.words.length).toBe(driven);
          expect(parts.watch.goOn()).toBe(true);
          wentOnAtMs = nowMs;
        }
        // The compressor has to rest first; then it draws on.
        if (far.words.length > driven && drawsFromMs === undefined) drawsFromMs = nowMs;
        if (nowMs >= (drawsFromMs ?? nowMs) + 10_000) parts.loop.send({ type: 'aborted' });
      };
      const { facts, closed } = await goOnOnRig(
        resumeParts(store, left, looked),
        on,
        operatorAt(far.session),
        {
          observers: [recorder.look, look],
          takenUp: (loop) => recorder.begin(loop, { name: 'the test', rig: 'the test', left: leftOff(left) }),
          tell: (text) => told.push(text),
          started: (loop, watch) => {
            parts = { loop, watch };
            beganAtMs = loop.state.memory.lastScanMs;
          },
        },
      );
      expect(told.join(' ')).toMatch(/stands where it was left, in recover.*Nobody has taken control/);
      expect(told.at(-1)).toMatch(/weighed once more/);
      expect(new Set(far.words.slice(driven)).size).toBeGreaterThan(1);
      expect({ closed, outcome: facts.outcome }).toEqual({ closed: true, outcome: 'stopped' });
      const gainKg = far.session.bench.truth().tankRefrigerantKg - TANK_KG;
      expect(gainKg).toBeGreaterThan(0.01);
      const { tankGainKg, uncertaintyKg } = facts.afterStop!;
      expect(Math.abs(tankGainKg! - gainKg)).toBeLessThan(Math.max(0.005, uncertaintyKg!));
      expect(breaks(store)).toEqual([]);
      expect(readLeftOpen(store, undefined)).toBeUndefined();
      recorder.end();
      writeFileSync(inFolder('taken-up'), recorded.join(''));
      expect(await replay(await readRecording(inFolder('taken-up')))).toMatchObject({
        difference: undefined,
        estimates: undefined,
        damage: undefined,
        cut: undefined,
      });
    });
  });

  test('with its line down cannot be weighed: a tank that nobody could weigh is not gone on with', async () => {
    const far = new VirtualMachine(FILE);
    await withStore(newFile(), async (store) => {
      await hostDies(far, store, at(20_000));
      const left = readLeftOpen(store, undefined)!;
      const looked = await lookOnRig(left, { rig: far.rig(), time: far.time });
      expect(looked.weighed).toBeUndefined();
      expect(looked.offered.map(({ choice }) => choice)).toEqual(['close']);
    });
  });

  test('has a clock that goes on from its last words, by as long as it has lain, and never back', async () => {
    const far = new VirtualMachine(FILE);
    await withStore(newFile(), async (store) => {
      await hostDies(far, store, at(30_000));
      const left = readLeftOpen(store, undefined)!;
      const { lastScanMs } = left.state.memory;
      const [hourMs, dayMs] = [3_600_000, 86_400_000];
      expect(clockAfter(left, calendar() + hourMs, dayMs)).toBeGreaterThanOrEqual(lastScanMs + hourMs);
      expect(clockAfter(left, calendar() - hourMs, dayMs)).toBeGreaterThan(lastScanMs);
      // A small computer that has got its time from the net since it was started.
      expect(clockAfter(left, calendar() + 300 * dayMs, hourMs)).toBeLessThan(lastScanMs + 2 * hourMs);
    });
  });
});
