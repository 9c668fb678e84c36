// The sensors of a rig as its data sheets have them, for tests.
import type { FittedSensors } from '../../hardware/fitted.ts';

const exact = { gain: 1, offsetPa: 0 };
const ntc = { ohmsAt25C: 10_000, betaK: 3_950, pullUpOhms: 10_000, offsetK: 0 };

export const SENSORS: FittedSensors = {
  highSide: { fromPa: 0, toPa: 3_000_000, ...exact },
  lowSide: { fromPa: -100_000, toPa: 900_000, ...exact },
  tank: { fromPa: 0, toPa: 2_000_000, ...exact },
  manifold: { fromPa: 0, toPa: 160_000, ...exact },
  tankTemperature: ntc,
  ambientTemperature: ntc,
  typedBarometerPa: 98_000,
  gasAlarm: false,
};
