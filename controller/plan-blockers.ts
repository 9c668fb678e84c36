// Why a job may not start at all: what can be seen from ticket, equipment and curve without any reading.
import { ROOM_K } from './constants.ts';
import type { Equipment } from './equipment.ts';
import { reserveNetKg } from './estimates/tank-liquid.ts';
import { jurisdictionBlockers } from './jurisdiction.ts';
import type { Blocker } from './notice.ts';
import { bottleBlockers } from './plan-bottles.ts';
import type { SaturationCurve } from './saturation.ts';
import type { Output } from './signals.ts';
import { FILL } from './targets/fill.ts';
import { LIQUIDS, mayWarm, type Ticket } from './ticket.ts';

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
    ...(ticket.service === 'fill-tank' ? [] : [['the nominal charge', ticket.nominalChargeKg] as const]),
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
    ["the compressor's displacement", equipment.compressor.sweptM3PerS],
    ["the condenser's volume", equipment.compressor.condenserM3],
    ["the separator's volume", equipment.separatorM3],
    ['the pump opening limit', equipment.vacuumPump.openLimitPa],
    ...(equipment.oil === undefined ? [] : [['the flow of oil', equipment.oil.flowM3PerSPa] as const]),
    ...(equipment.dye === undefined ? [] : [['the flow of dye', equipment.dye.flowM3PerSPa] as const]),
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
    ...(ticket.service === 'fill-tank'
      ? fillBlockers(ticket, equipment)
      : massBlockers(ticket, equipment, curve)),
    ...fittingBlockers(ticket, equipment),
    ...repairBlockers(ticket),
    ...jurisdictionBlockers(ticket),
    ...electricBlockers(ticket),
    ...warmUpBlockers(ticket),
    ...bottleBlockers(ticket, equipment),
  ];
}

/** The windings of an electric compressor lie bare in its oil: ester or ether oils insulate, PAG does not (common practice). */
function electricBlockers({ electricCompressor, oil }: Ticket): Blocker[] {
  if (!electricCompressor || oil.kind !== 'PAG') return [];
  return [
    {
      code: 'oil-forbidden',
      text: 'The ticket says that an electric compressor runs in PAG oil. It cannot: PAG conducts, and would ruin the insulation of the windings.',
      remedy:
        "Read the kind of oil off the compressor's label and write it into the ticket; if there is PAG in it, have it looked at before the high voltage is switched on.",
    },
  ];
}

/** Nobody is asked to start what cannot run, nor what the rules for electric compressors leave alone. */
function warmUpBlockers(ticket: Ticket): Blocker[] {
  if (!ticket.warmUp || mayWarm(ticket)) return [];
  return [
    {
      code: 'warm-up-impossible',
      text: 'The ticket wants the engine to warm the vehicle before a recovery, and this takes a service that recovers and an engine that can run and drives the compressor by its belt.',
      remedy: 'Leave the warming out; warm air on the accumulator or receiver helps as well.',
    },
  ];
}

/** What a cylinder for contaminated refrigerant is not for, and what a machine that has filled one may not do. */
function contaminationBlockers({ service }: Ticket, { tank, uncleaned }: Equipment): Blocker[] {
  const blockers: Blocker[] = [];
  if (tank.contaminated === true && service !== 'recover') {
    blockers.push({
      code: 'tank-contaminated',
      text: `The cylinder on the scale is labelled for contaminated refrigerant, and the service ${service} needs the machine's own tank.`,
      remedy: "Choose the service recover, or put the machine's own tank back.",
    });
  }
  if (tank.contaminated !== true && uncleaned === true) {
    blockers.push({
      code: 'machine-not-cleaned',
      text: 'Contaminated refrigerant has gone through this machine, and it has not been cleaned: it would get into tank and vehicle.',
      remedy:
        'Change the filter-drier, drain and flush the separator, flush and evacuate hoses and machine; then tell it that it is clean.',
    });
  }
  return blockers;
}

/** Against a job, and against work by hand on a real rig as well: one of the two would spoil the other. */
export function mixingBlockers(
  { refrigerant }: Pick<Ticket, 'refrigerant'>,
  { tank }: Pick<Equipment, 'tank'>,
): Blocker[] {
  if (tank.contaminated === true || tank.refrigerant === refrigerant) return [];
  return [
    {
      code: 'tank-refrigerant-differs',
      text: `The tank holds ${tank.refrigerant}, the ticket asks for ${refrigerant}.`,
      remedy: `Use a machine whose tank holds ${refrigerant}, or correct the ticket.`,
    },
  ];
}

function refrigerantBlockers(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Blocker[] {
  const blockers: Blocker[] = [
    ...contaminationBlockers(ticket, equipment),
    ...mixingBlockers(ticket, equipment),
  ];
  if (curve.refrigerant !== ticket.refrigerant) {
    blockers.push({
      code: 'curve-refrigerant-differs',
      text: `The saturation data are of ${curve.refrigerant}, the ticket asks for ${ticket.refrigerant}.`,
      remedy: `Plan with the saturation data of ${ticket.refrigerant}.`,
    });
  }
  return blockers;
}

/** Only what is evacuated and charged afterwards can be mended in between. */
function repairBlockers({ repair, service }: Ticket): Blocker[] {
  if (!repair || service === 'whole' || service === 'evacuate-and-charge') return [];
  return [
    {
      code: 'repair-out-of-place',
      text: `The ticket asks for a repair before the evacuation, but the service ${service} evacuates nothing.`,
      remedy:
        'Choose the service whole, or leave the repair out: the vehicle can be mended after a recovery.',
    },
  ];
}

function massBlockers(ticket: Ticket, equipment: Equipment, curve: SaturationCurve): Blocker[] {
  const { nominalChargeKg } = ticket;
  const { reserveKg, fillLimitKg } = equipment.tank;
  const leastKg = reserveNetKg(equipment.tank, ROOM_K, curve);
  const blockers: Blocker[] = [];
  if (nominalChargeKg < LIGHTEST_CHARGE_KG || nominalChargeKg > HEAVIEST_CHARGE_KG) {
    blockers.push({
      code: 'charge-implausible',
      text: `A nominal charge of ${(nominalChargeKg * 1000).toFixed(0)} g is outside ${LIGHTEST_CHARGE_KG * 1000} g to ${HEAVIEST_CHARGE_KG * 1000} g.`,
      remedy: "Read the charge off the vehicle's label again and mind its unit.",
    });
  }
  if (leastKg + nominalChargeKg > fillLimitKg) {
    blockers.push({
      code: 'charge-above-tank',
      text: `The charge and the ${leastKg.toFixed(1)} kg that must stay in the tank (${reserveKg.toFixed(1)} kg as liquid over the dip tube, the rest as vapour) together exceed its fill limit of ${fillLimitKg.toFixed(1)} kg.`,
      remedy: 'Use a larger tank or correct the charge.',
    });
  }
  return blockers;
}

/** What no tank of this size could take, and figures that are none. */
function fillBlockers({ fillKg, cylinderKg }: Ticket, { tank }: Equipment): Blocker[] {
  const { marginKg, leastKg } = FILL;
  const mostKg = tank.fillLimitKg - marginKg;
  const blockers: Blocker[] = [];
  if (fillKg !== undefined && !(fillKg >= leastKg && fillKg <= mostKg)) {
    blockers.push({
      code: 'fill-implausible',
      text: `${fillKg.toFixed(2)} kg to be filled is outside ${leastKg} kg to ${mostKg.toFixed(2)} kg: the tank may hold ${tank.fillLimitKg.toFixed(1)} kg, and ${marginKg} kg are kept below that.`,
      remedy: 'Ask for what the tank has room for, or leave the mass out: it is filled up then.',
    });
  }
  if (cylinderKg !== undefined && !(Number.isFinite(cylinderKg) && cylinderKg > 0)) {
    blockers.push({
      code: 'figure-missing',
      text: "No usable figure for the cylinder's content.",
      remedy: 'Give its net content in kilograms, or leave it out.',
    });
  } else if (fillKg !== undefined && cylinderKg !== undefined && fillKg > cylinderKg) {
    blockers.push({
      code: 'fill-above-cylinder',
      text: `${fillKg.toFixed(2)} kg are to be filled, and the cylinder holds ${cylinderKg.toFixed(2)} kg.`,
      remedy: 'Ask for less, or take a fuller cylinder.',
    });
  }
  return blockers;
}

function fittingBlockers(ticket: Ticket, equipment: Equipment): Blocker[] {
  const needed = new Set<Output>(NEEDED.recovery);
  const fills = ticket.service === 'fill-tank';
  const charges = ticket.service !== 'recover' && !fills;
  if (ticket.ports === 2 && !fills) needed.add('lowSideValve');
  for (const liquid of LIQUIDS) if (charges && ticket[liquid].addM3 > 0) needed.add(`${liquid}Valve`);
  if (charges) for (const output of NEEDED.charge) needed.add(output);
  const missing = [...needed].filter((output) => !equipment.fitted.includes(output));
  return missing.map((output) => ({
    code: 'output-not-fitted',
    text: `The service needs ${output}, which this machine does not have.`,
    remedy: `Fit ${output} or choose a service that does without it.`,
  }));
}
