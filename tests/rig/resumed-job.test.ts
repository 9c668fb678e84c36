// A whole job on a rig behind the firmware whose host dies in the middle of the charge: a new one goes on with it to its end.
import { expect, test } from 'vitest';
import { breaks } from '../../app/records/chain.ts';
import { bookedKg } from '../../app/records/ledger.ts';
import { numberIn } from '../../app/records/store.ts';
import { goOnOnRig } from '../../app/rig/resume.ts';
import { operatorAt } from '../../app/run/session.ts';
import { CAR, newFile, withStore } from '../app/records/jobs.ts';
import { hostDies, inStage, lookedAgain, resumeParts } from '../app/rig/dead-host.ts';
import { VirtualMachine } from '../app/rig/virtual-machine.ts';

const TANK_KG = 8;
const NOMINAL_KG = 0.4;
const WITHIN_KG = 0.005;

test('a charge that was cut off is given to the end and no more, and every gram is booked once', async () => {
  const far = new VirtualMachine({ ...CAR, tank: { contentKg: TANK_KG } });
  await withStore(newFile(), async (store) => {
    await hostDies(far, store, inStage('charge', 40_000));
    const { left, on, looked } = await lookedAgain(far, store);
    expect(looked.afterCut.next).toBe('draw-hoses-back');
    const told: string[] = [];
    const { facts, closed } = await goOnOnRig(resumeParts(store, left, looked), on, operatorAt(far.session), {
      observers: [],
      tell: (text) => told.push(text),
      started: (_, watch) => expect(watch.goOn()).toBe(true),
    });
    expect({ closed, outcome: facts.outcome }).toEqual({ closed: true, outcome: 'completed' });
    const truth = far.session.bench.truth();
    expect(Math.abs(truth.vehicleRefrigerantKg - NOMINAL_KG)).toBeLessThan(0.015);
    expect(Math.abs(facts.result!.masses.netChargeKg! - truth.vehicleRefrigerantKg)).toBeLessThan(WITHIN_KG);
    const stockKg = numberIn(store.one("SELECT mass_kg FROM ledger WHERE movement = 'stock'"), 'mass_kg');
    const gainKg = bookedKg(store, left.record.tank) - stockKg;
    expect(Math.abs(gainKg - (truth.tankRefrigerantKg - TANK_KG))).toBeLessThan(WITHIN_KG);
    expect(breaks(store)).toEqual([]);
  });
}, 600_000);
