// All sensors of the bench, sampled together from the plant's truth.
import type { Reading, Readings } from '../../controller/signals.ts';
import type { ActiveFaults } from '../faults.ts';
import { STANDARD_ATMOSPHERE_PA } from '../fluids/air.ts';
import type { Fluid } from '../fluids/fluid.ts';
import type { Node } from '../network/node.ts';
import type { Cabin } from '../plant/cabin.ts';
import type { Enclosure } from '../plant/enclosure.ts';
import type { Machine } from '../plant/machine.ts';
import type { Plant } from '../plant/plant.ts';
import { LOW_SIDE_FROM_PA, SPANS } from '../profiles.ts';
import { Random } from '../random.ts';
import type { AnySpec } from '../spec.ts';
import { Dew } from './dew.ts';
import { GasAlarm } from './gas-alarm.ts';
import { Lag } from './lag.ts';
import { type OnTheScale, Scale } from './scale.ts';
import { SensorFaults } from './sensor-faults.ts';
import { ThermalVacuumSensor } from './thermal-vacuum.ts';
import {
  absoluteReading,
  GaugeTransducer,
  good,
  NOT_FITTED,
  OPEN_CIRCUIT,
  SHORT_CIRCUIT,
  temperatureReading,
} from './transducers.ts';

/** Sensors are read this often; the scale's converter gives ten samples a second. */
export const SAMPLE_MS = 100;
const PERIOD_S = SAMPLE_MS / 1000;
/** A probe clamped on the tank follows the wall with this time constant (estimate). */
export const CLAMP_ON_LAG_S = 60;
const DEW_EVERY_MS = 1000;

/** What of the plant the sensors touch. */
export type SensedPlant = Pick<Plant, 'highPressureSwitch' | 'isOn'> & {
  /** What stands in the air of the cabinet. */
  readonly services: { readonly enclosure: Pick<Enclosure, 'concentration'> };
  readonly machine: Pick<Machine, 'highHose' | 'lowHose' | 'manifold' | 'tank'>;
  /** Air at the vents of the dashboard. */
  readonly cabin: Pick<Cabin, 'ventAirK'>;
};

/** Everything a tank has got, whatever it is. */
const contentsKg = (tank: Node): number =>
  tank.refrigerantKg +
  tank.dissolvedKg +
  tank.airKg +
  tank.waterKg +
  tank.filmKg +
  tank.sorbedWaterKg +
  tank.oilKg;

/** A broken wire hides a reading that was taken all the same: its noise is drawn, so that no other sensor's shifts. */
const unlessOpen = (open: boolean, reading: Reading): Reading => (open ? OPEN_CIRCUIT : reading);

export class Instruments {
  readonly #spec: AnySpec;
  readonly #plant: SensedPlant;
  readonly #faults: SensorFaults;
  /** A gas alarm belongs to a machine for flammable refrigerant. */
  readonly #gasAlarm: GasAlarm | undefined;
  readonly #barometerReadPa: number;
  readonly #highSide: GaugeTransducer;
  readonly #lowSide: GaugeTransducer;
  readonly #tank: GaugeTransducer;
  readonly #manifold: { readonly offsetPa: number; readonly resolutionPa: number };
  readonly #vehicleVacuum: ThermalVacuumSensor;
  readonly #tankProbeK: Lag;
  readonly #dew: Dew;
  #dewKg = 0;
  #highSignal = 0;
  readonly #onScale: OnTheScale;
  readonly #scale: Scale;
  readonly #pressureChance: Random;
  readonly #temperatureChance: Random;
  readonly #ventChance: Random;

  constructor(
    spec: AnySpec,
    fluid: Pick<Fluid, 'lowerFlammableLimitKgPerM3' | 'gasConstantJPerKgK'>,
    plant: SensedPlant,
    faults: ActiveFaults,
  ) {
    const { seed, weather, build } = spec;
    this.#spec = spec;
    this.#plant = plant;
    this.#faults = new SensorFaults(faults);
    const { lowerFlammableLimitKgPerM3: limit } = fluid;
    this.#gasAlarm = limit === undefined ? undefined : new GasAlarm(limit, PERIOD_S);
    this.#pressureChance = new Random(seed, 'pressure');
    this.#temperatureChance = new Random(seed, 'temperature');
    this.#ventChance = new Random(seed, 'vent');
    this.#barometerReadPa = weather.barometerPa + build.barometerOffsetPa;
    const typedPa = spec.typedBarometerPa ?? STANDARD_ATMOSPHERE_PA;
    const readPa = build.barometerFitted ? this.#barometerReadPa : typedPa;
    const barometer = { truePa: weather.barometerPa, readPa };
    const bits = build.gaugeConverterBits;
    const gauge = (spanPa: number, offsetPa: number, fromPa = 0) =>
      new GaugeTransducer({ fromPa, spanPa, offsetPa, bits }, barometer, this.#pressureChance);
    this.#highSide = gauge(SPANS.highSidePa, build.highSideOffsetPa);
    this.#lowSide = gauge(SPANS.lowSidePa, build.lowSideOffsetPa, LOW_SIDE_FROM_PA);
    this.#tank = gauge(SPANS.tankPa, build.tankOffsetPa);
    this.#manifold = { offsetPa: build.manifoldOffsetPa, resolutionPa: build.manifoldResolutionPa };
    this.#vehicleVacuum = new ThermalVacuumSensor(
      build.vehicleVacuumGain,
      fluid.gasConstantJPerKgK,
      PERIOD_S,
      this.#pressureChance,
    );
    this.#tankProbeK = new Lag(CLAMP_ON_LAG_S, PERIOD_S, plant.machine.tank.wallK);
    this.#dew = new Dew(weather.ambientK, weather.relativeHumidity);
    this.#onScale = { loadKg: 0, hosePa: 0, airK: 0, compressorTurns: false, pumpTurns: false };
    this.#weigh();
    this.#scale = new Scale(build, seed, PERIOD_S, this.#onScale);
  }

  /** Every sensor at one time, `SAMPLE_MS` after the last. */
  sample(atMs: number): Readings {
    const { build, weather } = this.#spec;
    const plant = this.#plant;
    const { highHose, lowHose, manifold, tank } = plant.machine;
    const faults = this.#faults;
    faults.look(PERIOD_S);
    if (atMs % DEW_EVERY_MS === 0) this.#dewKg = this.#dew.advance(tank.wallK, DEW_EVERY_MS / 1000);
    this.#weigh();
    const signal = this.#highSide.signal(highHose.pressurePa);
    const high = faults.highStuck ? this.#highSignal : signal;
    this.#highSignal = high;
    const low = this.#lowSide.signal(lowHose.pressurePa);
    return {
      highSidePressurePa: this.#gaugeReading(this.#highSide, faults.swapped, high, low, atMs),
      lowSidePressurePa: this.#gaugeReading(this.#lowSide, !faults.swapped, high, low, atMs),
      tankPressurePa: unlessOpen(
        faults.tankOpen,
        this.#tank.reading(this.#tank.signal(tank.pressurePa), atMs),
      ),
      manifoldPressurePa: unlessOpen(
        faults.manifoldOpen,
        absoluteReading(manifold.pressurePa, this.#manifold, this.#pressureChance, atMs),
      ),
      vehicleVacuumPa: build.vehicleVacuumFitted ? this.#vehicleVacuum.reading(lowHose, atMs) : NOT_FITTED,
      barometerPa: build.barometerFitted ? good(this.#barometerReadPa, atMs) : NOT_FITTED,
      tankTemperatureK: unlessOpen(
        faults.tankTemperatureOpen,
        temperatureReading(
          this.#tankProbeK.follow(tank.wallK),
          build.tankTemperatureOffsetK,
          this.#temperatureChance,
          atMs,
        ),
      ),
      ambientTemperatureK: temperatureReading(
        weather.ambientK,
        build.ambientTemperatureOffsetK,
        this.#temperatureChance,
        atMs,
      ),
      ventTemperatureK: build.ventThermometerFitted
        ? temperatureReading(plant.cabin.ventAirK, build.ventTemperatureOffsetK, this.#ventChance, atMs)
        : NOT_FITTED,
      scaleCounts: unlessOpen(faults.scaleOpen, good(this.#scale.sample(this.#onScale, faults.scale), atMs)),
      emergencyStop: { ok: true, value: faults.emergencyStop, atMs },
      highPressureSwitch: { ok: true, value: plant.highPressureSwitch, atMs },
      fanFlow: { ok: true, value: !plant.isOn('fanStop') && !faults.fanStopped, atMs },
      gasAlarm: this.#readGasAlarm(atMs),
    };
  }

  save() {
    return {
      faults: this.#faults.save(),
      vehicleVacuumPa: this.#vehicleVacuum.save(),
      tankProbeK: this.#tankProbeK.value,
      dew: this.#dew.save(),
      dewKg: this.#dewKg,
      highSignal: this.#highSignal,
      scale: this.#scale.save(),
      gasAlarm: this.#gasAlarm?.save(),
      pressureChance: this.#pressureChance.save(),
      temperatureChance: this.#temperatureChance.save(),
      ventChance: this.#ventChance.save(),
    };
  }

  /** What stands on the scale is looked at anew with every sample. */
  restore(saved: ReturnType<Instruments['save']>): void {
    this.#faults.restore(saved.faults);
    this.#vehicleVacuum.restore(saved.vehicleVacuumPa);
    this.#tankProbeK.value = saved.tankProbeK;
    this.#dew.restore(saved.dew);
    this.#dewKg = saved.dewKg;
    this.#highSignal = saved.highSignal;
    this.#scale.restore(saved.scale);
    if (saved.gasAlarm !== undefined) this.#gasAlarm?.restore(saved.gasAlarm);
    this.#pressureChance.restore(saved.pressureChance);
    this.#temperatureChance.restore(saved.temperatureChance);
    this.#ventChance.restore(saved.ventChance);
  }

  /** A closed contact is seen even where no alarm is fitted. */
  #readGasAlarm(atMs: number): Reading<boolean> {
    this.#gasAlarm?.look(this.#plant.services.enclosure.concentration);
    const closed = this.#faults.gasAlarm || this.#gasAlarm?.closed === true;
    return this.#gasAlarm !== undefined || closed ? { ok: true, value: closed, atMs } : NOT_FITTED;
  }

  /** What an input makes of the plug in it: the low side's transducer, or the high side's, with the fault of its wire. */
  #gaugeReading(input: GaugeTransducer, ofLow: boolean, high: number, low: number, atMs: number): Reading {
    if (ofLow) return this.#faults.lowOpen ? OPEN_CIRCUIT : input.reading(low, atMs);
    return this.#faults.highShorted ? SHORT_CIRCUIT : input.reading(high, atMs);
  }

  /** Brings what stands on the platform and pushes it up to date. */
  #weigh(): void {
    const plant = this.#plant;
    const { highHose, lowHose, tank } = plant.machine;
    const on = this.#onScale;
    on.loadKg = contentsKg(tank) + this.#dewKg + this.#faults.extraLoadKg;
    on.hosePa = (highHose.pressurePa + lowHose.pressurePa) / 2 - this.#spec.weather.barometerPa;
    on.airK = tank.surroundingsK;
    on.compressorTurns = plant.isOn('compressor') && !plant.highPressureSwitch;
    on.pumpTurns = plant.isOn('vacuumPump');
  }
}
