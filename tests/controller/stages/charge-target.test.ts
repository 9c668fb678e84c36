// What a charge aims at, against what its interlock lets out of the tank.
import { expect, test } from 'vitest';
import { saturationPa } from '../../../controller/estimates/saturation.ts';
import { see } from '../../../controller/estimates/seen.ts';
import { mostGivenKg } from '../../../controller/interlocks/given-watch.ts';
import { aimedKg, chargeTargetKg } from '../../../controller/stages/charge-target.ts';
import { EQUIPMENT, planFor, R134A } from '../support/machine.ts';
import { readingsAt } from '../support/readings.ts';

/** The vehicle at the pressure of the tank, so that its hose stays full. */
function aims(roomK: number, admittedKg: number | undefined, moreKg: number) {
  const equipment = {
    ...EQUIPMENT,
    hoses: { ...EQUIPMENT.hoses, highVolumeM3: 40e-6, manifoldVolumeM3: 61e-6 },
  };
  const plan = planFor({ leakCheck: true }, equipment);
  const seen = see(readingsAt(0, { ambientTemperatureK: roomK, tankTemperatureK: roomK }), equipment, 0);
  const input = {
    plan,
    equipment,
    seen,
    accounts: { recoveredKg: undefined, leakCheck: admittedKg === undefined ? undefined : { admittedKg } },
  } as const;
  const vehiclePa = saturationPa(R134A, roomK);
  return {
    target: chargeTargetKg(input, true, vehiclePa),
    aimed: aimedKg(input, true, moreKg, vehiclePa),
    most: mostGivenKg(plan.ticket.nominalChargeKg, equipment, 0, R134A, roomK),
  };
}

test('Full hoses in a hot room and what is given to be drawn back ask for no more than may leave the tank', () => {
  const { target, aimed, most } = aims(312.15, 0.1, 0.02);
  expect(target + 0.02).toBeGreaterThan(most);
  expect(aimed).toBeCloseTo(most - 0.01, 6);
});

test('In a mild one without a search nothing is held down', () => {
  const { target, aimed } = aims(293.15, undefined, 0);
  expect(aimed).toBe(target);
});
