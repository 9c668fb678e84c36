// A plan of short jobs, for tests of what is done with them: small warm vehicles that are only recovered.
export const SHORT_PLAN = {
  name: 'short jobs',
  jobs: 6,
  base: {
    ticket: { service: 'recover', refrigerant: 'R-134a', nominalChargeG: 200 },
    vehicle: { chargeG: 100, volumeL: 1.2, accumulatorUaWPerK: 10 },
    tank: { contentKg: 8 },
  },
  draws: {
    'weather.ambientC': { uniform: [20, 30] },
    'vehicle.chargeG': { uniform: [20, 200] },
    'equipment.profile': { choice: ['good', 'hobby'] },
  },
  faults: [{ fault: 'emergency-stop', probability: 0.3, stage: 'recover', afterS: 20 }],
} as const;
