// A machine, a ticket and saturation data that controller tests share.
import type { Equipment } from '../../../controller/equipment.ts';
import { type Plan, planJob } from '../../../controller/plan.ts';
import type { SaturationCurve } from '../../../controller/saturation.ts';
import type { Ticket } from '../../../controller/ticket.ts';

/** R-134a, saturation from the equation of Tillner-Roth and Baehr (1994), five figures. */
export const R134A: SaturationCurve = {
  refrigerant: 'R-134a',
  temperatureK: [-40, -30, -20, -10, 0, 10, 20, 25, 30, 40, 50, 60, 70].map((c) => c + 273.15),
  pressurePa: [
    0.5121, 0.8438, 1.3273, 2.006, 2.928, 4.1461, 5.7171, 6.6538, 7.702, 10.166, 13.179, 16.818, 21.168,
  ].map((bar) => bar * 1e5),
  liquidDensityKgPerM3: [
    1417.7, 1388.4, 1358.3, 1327.1, 1294.8, 1261.0, 1225.3, 1206.7, 1187.5, 1146.7, 1102.3, 1052.9, 996.25,
  ],
  vapourDensityKgPerM3: [
    2.7695, 4.426, 6.784, 10.04, 14.43, 20.23, 27.78, 32.35, 37.54, 50.09, 66.27, 87.38, 115.57,
  ],
};

/** R-1234yf, saturation from the equation of Lemmon and Akasaka (2022). */
export const R1234YF: SaturationCurve = {
  refrigerant: 'R-1234yf',
  temperatureK: [-30, -20, -10, 0, 10, 20, 25, 30, 40, 50, 60].map((c) => c + 273.15),
  pressurePa: [0.9893, 1.5086, 2.2179, 3.1588, 4.3763, 5.9184, 6.827, 7.8362, 10.185, 13.024, 16.418].map(
    (bar) => bar * 1e5,
  ),
  liquidDensityKgPerM3: [
    1264.7, 1236.3, 1206.8, 1176.1, 1143.8, 1109.7, 1091.7, 1073.1, 1033.6, 989.9, 940.6,
  ],
  vapourDensityKgPerM3: [5.843, 8.698, 12.55, 17.63, 24.25, 32.77, 37.89, 43.68, 57.67, 75.75, 99.55],
};

export const EQUIPMENT: Equipment = {
  name: 'test machine',
  fitted: [
    'highSideValve',
    'lowSideValve',
    'recoveryValve',
    'vacuumValve',
    'chargeValve',
    'compressor',
    'vacuumPump',
    'fanStop',
  ],
  tank: {
    refrigerant: 'R-134a',
    waterCapacityM3: 21.6e-3,
    fillLimitKg: 17.28,
    reserveKg: 1,
    temperatureLimitK: 318.15,
  },
  scale: {
    countsPerKg: 100_000,
    zeroCounts: 1_300_000,
    noiseKg: 0.0004,
    spanErrorSd: 0.0003,
    zeroDriftKgPerKSd: 0.001,
    creepSd: 0.0004,
    hoseForceKgPerPaSd: 0.01 / 600_000,
  },
  pressure: {
    highSideSdPa: 7_500,
    lowSideSdPa: 2_500,
    tankSdPa: 5_000,
    manifoldSdPa: 100,
    manifoldResolutionPa: 3,
    manifoldSpanPa: 160_000,
    tankSpanPa: 2_100_000,
    vehicleVacuumRelativeSd: 0.1,
  },
  temperatureSdK: 0.3,
  hoses: { highVolumeM3: 33e-6, lowVolumeM3: 33e-6, manifoldVolumeM3: 60e-6, volumeRelativeSd: 0.02 },
  valveDeadTimeMs: 60,
  compressor: { cutOutPa: 2_500_000, minimumOffMs: 120_000, sweptM3PerS: 0.2417e-3, condenserM3: 0.12e-3 },
  separatorM3: 0.4e-3,
  vacuumPump: { openLimitPa: 110_000, ultimatePa: 3 },
  separatorFloat: false,
};

/** The same machine with everything for oil and dye. */
export const OIL_EQUIPMENT: Equipment = {
  ...EQUIPMENT,
  fitted: [...EQUIPMENT.fitted, 'oilValve', 'dyeValve', 'separatorDrainValve'],
  oil: { kind: 'PAG', flowM3PerSPa: 6.6e-11, lineFilmM3: 2e-6 },
  dye: { bottleM3: 50e-6, flowM3PerSPa: 6.6e-11, lineFilmM3: 2e-6 },
};

export const TICKET: Ticket = {
  service: 'whole',
  refrigerant: 'R-134a',
  nominalChargeKg: 0.6,
  opened: false,
  repair: false,
  repaired: false,
  jurisdiction: 'none',
  electricCompressor: false,
  engine: 'cannot-run',
  warmUp: false,
  ports: 2,
  oil: { kind: 'PAG', addM3: 0 },
  dye: { addM3: 0, approved: false },
};

/** @throws Error when the ticket cannot be planned: a test that asks for that is wrong. */
export function planFor(ticket: Partial<Ticket> = {}, equipment: Equipment = EQUIPMENT, curve = R134A): Plan {
  const planned = planJob({ ...TICKET, ...ticket }, equipment, curve);
  if (!planned.ok) throw new Error(planned.blockers.map(({ text }) => text).join(' '));
  return planned.plan;
}
