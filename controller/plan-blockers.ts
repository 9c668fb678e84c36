// Why a job may not start at all: what can be seen from ticket, equipment and curve without any reading.
import type { Equipment } from './equipment.ts';
import type { Blocker } from './notice.ts';
import type { SaturationCurve } from './saturation.ts';
import type { Output } from './signals.ts';
import type { Ticket } from './ticket.ts';

/** Car air conditioning holds 0.15 to 1.5 kg; buses more (common practice). */
const LIGHTEST_CHARGE_KG = 0.05;
const HEAVIEST_CHARGE_KG = 20;

const NEEDED: { readonly recovery: readonly Output[]; readonly charge: readonly Output[] } = {
  recovery: ['highSideValve', 'recoveryValve', 'compressor'],
  charge: ['vacuumValve', 'vacuumPump', 'chargeValve', 'recoveryValve', 'compressor'],
};

/** Numbers that are no numbers: nothing else can be judged with them. */
export function unreadable(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Blocker[] {
  const figures: readonly (readonly [string, number])[] = [
    ['the nominal charge', ticket.nominalChargeKg],
    ['the tank capacity', equipment.tank.waterCapacityM3],
    ['the tank fill limit', equipment.tank.fillLimitKg],
    ['the tank reserve', equipment.tank.reserveKg],
    ['the scale factor', equipment.scale.countsPerKg],
    ['the scale noise', equipment.scale.noiseKg],
    ['the high-side hose volume', equipment.hoses.highVolumeM3],
    ['the low-side hose volume', equipment.hoses.lowVolumeM3],
    ['the manifold volume', equipment.hoses.manifoldVolumeM3],
    ['the manifold sensor span', equipment.pressure.manifoldSpanPa],
    ['the tank sensor span', equipment.pressure.tankSpanPa],
    ['the high-pressure cut-out', equipment.compressor.cutOutPa],
    ['the pump opening limit', equipment.vacuumPump.openLimitPa],
  ];
  const blockers = figures
    .filter(([, value]) => !(Number.isFinite(value) && value > 0))
    .map(([name]) => ({
      code: 'figure-missing',
      text: `No usable figure for ${name}.`,
      remedy: `Give ${name} as a positive number.`,
    }));
  if (curve.temperatureK.length < 2) {
    blockers.push({
      code: 'curve-missing',
      text: `No saturation data for ${curve.refrigerant}.`,
      remedy: 'Give the plan a saturation curve with at least two temperatures.',
    });
  }
  return blockers;
}

/** What does not fit together. */
export function unfitting(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Blocker[] {
  return [
    ...refrigerantBlockers(ticket, equipment, curve),
    ...massBlockers(ticket, equipment),
    ...fittingBlockers(ticket, equipment),
  ];
}

function refrigerantBlockers(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Blocker[] {
  const blockers: Blocker[] = [];
  if (equipment.tank.refrigerant !== ticket.refrigerant) {
    blockers.push({
      code: 'tank-refrigerant-differs',
      text: `The tank holds ${equipment.tank.refrigerant}, the ticket asks for ${ticket.refrigerant}.`,
      remedy: `Use a machine whose tank holds ${ticket.refrigerant}, or correct the ticket.`,
    });
  }
  if (curve.refrigerant !== ticket.refrigerant) {
    blockers.push({
      code: 'curve-refrigerant-differs',
      text: `The saturation data are of ${curve.refrigerant}, the ticket asks for ${ticket.refrigerant}.`,
      remedy: `Plan with the saturation data of ${ticket.refrigerant}.`,
    });
  }
  return blockers;
}

function massBlockers(ticket: Ticket, equipment: Equipment): Blocker[] {
  const { nominalChargeKg } = ticket;
  const { reserveKg, fillLimitKg } = equipment.tank;
  const blockers: Blocker[] = [];
  if (nominalChargeKg < LIGHTEST_CHARGE_KG || nominalChargeKg > HEAVIEST_CHARGE_KG) {
    blockers.push({
      code: 'charge-implausible',
      text: `A nominal charge of ${(nominalChargeKg * 1000).toFixed(0)} g is outside ${LIGHTEST_CHARGE_KG * 1000} g to ${HEAVIEST_CHARGE_KG * 1000} g.`,
      remedy: "Read the charge off the vehicle's label again and mind its unit.",
    });
  }
  if (reserveKg + nominalChargeKg > fillLimitKg) {
    blockers.push({
      code: 'charge-above-tank',
      text: `Charge and reserve together exceed the tank's fill limit of ${fillLimitKg.toFixed(1)} kg.`,
      remedy: 'Use a larger tank or correct the charge.',
    });
  }
  return blockers;
}

function fittingBlockers(ticket: Ticket, equipment: Equipment): Blocker[] {
  const needed = new Set<Output>(NEEDED.recovery);
  if (ticket.ports === 2) needed.add('lowSideValve');
  if (ticket.service !== 'recover') for (const output of NEEDED.charge) needed.add(output);
  const missing = [...needed].filter((output) => !equipment.fitted.includes(output));
  return missing.map((output) => ({
    code: 'output-not-fitted',
    text: `The service needs ${output}, which this machine does not have.`,
    remedy: `Fit ${output} or choose a service that does without it.`,
  }));
}
