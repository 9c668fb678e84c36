// All sensors of the bench, sampled together from the plant's truth.
import type { Reading, Readings } from '../../controller/signals.ts';
import type { Plant } from '../plant/plant.ts';
import { SPANS } from '../profiles.ts';
import { Random } from '../random.ts';
import type { BenchSpec } from '../spec.ts';
import { Scale } from './scale.ts';
import { absoluteReading, gaugeReading, temperatureReading, thermalVacuumReading } from './transducers.ts';

const NOT_FITTED = { ok: false, reason: 'not-fitted' } as const;

export class Instruments {
  readonly #spec: BenchSpec;
  readonly #plant: Plant;
  readonly #gasAlarmFitted: boolean;
  readonly #scale: Scale;
  readonly #scaleChance: Random;
  readonly #pressureChance: Random;
  readonly #temperatureChance: Random;

  /** A gas alarm belongs to a machine for flammable refrigerant. */
  constructor(spec: BenchSpec, safetyClass: string, plant: Plant) {
    this.#spec = spec;
    this.#plant = plant;
    this.#gasAlarmFitted = safetyClass !== 'A1';
    this.#scaleChance = new Random(spec.seed, 'scale');
    this.#pressureChance = new Random(spec.seed, 'pressure');
    this.#temperatureChance = new Random(spec.seed, 'temperature');
    this.#scale = new Scale(spec.build, this.#scaleChance, this.#tankLoadKg());
  }

  /** Every sensor at one time, `periodS` after the last sample. */
  sample(atMs: number, periodS: number): Readings {
    const { build, weather } = this.#spec;
    const { highHose, lowHose, manifold, tank } = this.#plant.machine;
    const barometerRead = weather.barometerPa + build.barometerOffsetPa;
    const barometer = { truePa: weather.barometerPa, readPa: barometerRead };
    const chance = this.#pressureChance;
    const bits = build.gaugeConverterBits;
    const gauge = (truePa: number, spanPa: number, offsetPa: number): Reading =>
      gaugeReading(truePa, { spanPa, offsetPa, bits }, barometer, chance, atMs);
    return {
      highSidePressurePa: gauge(highHose.pressurePa, SPANS.highSidePa, build.highSideOffsetPa),
      lowSidePressurePa: gauge(lowHose.pressurePa, SPANS.lowSidePa, build.lowSideOffsetPa),
      tankPressurePa: gauge(tank.pressurePa, SPANS.tankPa, build.tankOffsetPa),
      manifoldPressurePa: absoluteReading(
        manifold.pressurePa,
        { offsetPa: build.manifoldOffsetPa, resolutionPa: build.manifoldResolutionPa },
        chance,
        atMs,
      ),
      vehicleVacuumPa: build.vehicleVacuumFitted
        ? thermalVacuumReading(lowHose.pressurePa, build.vehicleVacuumGain, chance, atMs)
        : NOT_FITTED,
      barometerPa: { ok: true, value: barometerRead, atMs },
      tankTemperatureK: temperatureReading(
        tank.wallK,
        build.tankTemperatureOffsetK,
        this.#temperatureChance,
        atMs,
      ),
      ambientTemperatureK: temperatureReading(
        weather.ambientK,
        build.ambientTemperatureOffsetK,
        this.#temperatureChance,
        atMs,
      ),
      scaleCounts: { ok: true, value: this.#scaleCounts(periodS), atMs },
      emergencyStop: { ok: true, value: false, atMs },
      highPressureSwitch: { ok: true, value: this.#plant.highPressureSwitch, atMs },
      fanFlow: { ok: true, value: !this.#plant.isOn('fanStop'), atMs },
      gasAlarm: this.#gasAlarmFitted ? { ok: true, value: false, atMs } : NOT_FITTED,
    };
  }

  #scaleCounts(periodS: number): number {
    const { highHose, lowHose } = this.#plant.machine;
    const hosePa = (highHose.pressurePa + lowHose.pressurePa) / 2 - this.#spec.weather.barometerPa;
    const running = this.#plant.isOn('compressor') || this.#plant.isOn('vacuumPump');
    return this.#scale.sample(this.#tankLoadKg(), hosePa, running, periodS);
  }

  #tankLoadKg(): number {
    const { tank } = this.#plant.machine;
    return tank.refrigerantKg + tank.airKg;
  }
}
