// The whole commissioning on the simulated bench, by a simulated builder: what it finds against what is true of the build.
import { describe, expect, it } from 'vitest';
import { commissionedEquipment } from '../../../app/rig/commissioned-equipment.ts';
import { type EquipmentRecord, type LineId, numberIn } from '../../../hardware/commissioning/record.ts';
import { commissionedSensors } from '../../../hardware/commissioning/sensors.ts';
import { NOMINAL, type ProfileName } from '../../../sim/profiles.ts';
import type { Build } from '../../../sim/spec.ts';
import { machineOf } from './simulated-machine.ts';
import { type Walk, walk } from './walk.ts';

/** Three standard deviations: of all these comparisons together about one in forty would fall outside by chance. */
const SURE = 3;

type Found = { readonly build: Build; readonly walked: Walk };

const done = new Map<string, Found>();

function commissionedOn(profile: ProfileName, seed: number): Found {
  const key = `${profile} ${seed}`;
  const known = done.get(key);
  if (known !== undefined) return known;
  const machine = machineOf(profile, seed);
  const found = { build: machine.build, walked: walk(machine) };
  done.set(key, found);
  return found;
}

const figure = (record: EquipmentRecord, line: LineId, name: string): number =>
  numberIn(record[line]?.figures ?? {}, name);

describe.each([
  ['good', 3],
  ['hobby', 5],
  ['hobby', 12],
] as const)('commissioning a %s machine, seed %i', (profile, seed) => {
  const found = () => commissionedOn(profile, seed);

  it('passes every line but the optional one, and keeps each as it is done', () => {
    const { walked } = found();
    const { record } = walked;
    expect(walked.said.filter((text) => / (failed|held-up|problem): /.test(text))).toEqual([]);
    const verdicts = Object.values(record).map(({ verdict }) => verdict);
    expect(verdicts).toEqual(Array(13).fill('passed'));
    expect(walked.kept).toBe(13);
  });

  it('finds the scale of the build', () => {
    const {
      build,
      walked: { record },
    } = found();
    const { scale } = commissionedEquipment(record);
    const truth = NOMINAL.scaleCountsPerKg * (1 + build.scaleSpanError);
    const off = Math.abs(scale.countsPerKg / truth - 1);
    expect(off).toBeLessThan(SURE * scale.spanErrorSd);
    expect(scale.noiseKg / build.scaleNoiseKg).toBeGreaterThan(0.7);
    expect(scale.noiseKg / build.scaleNoiseKg).toBeLessThan(1.3);
    expect(Math.abs(scale.creepSd - build.scaleCreepFraction)).toBeLessThan(0.3 * build.scaleCreepFraction);
    const forceKg = Math.abs(scale.hoseForceKgPerPaSd - Math.abs(build.scaleHoseForceKgPerPa)) * 6e5;
    expect(forceKg).toBeLessThan(2 * build.scaleNoiseKg);
  });

  it('finds the volumes of hoses and manifold within what it says of them', () => {
    const {
      build,
      walked: { record },
    } = found();
    const { hoses } = commissionedEquipment(record);
    const within = SURE * hoses.volumeRelativeSd;
    expect(Math.abs(hoses.highVolumeM3 / build.highHoseVolumeM3 - 1)).toBeLessThan(within);
    expect(Math.abs(hoses.lowVolumeM3 / build.lowHoseVolumeM3 - 1)).toBeLessThan(within);
    expect(Math.abs(hoses.manifoldVolumeM3 / build.manifoldVolumeM3 - 1)).toBeLessThan(within);
    expect(hoses.volumeRelativeSd).toBeLessThan(0.03);
  });

  it('finds the dead time of the valves within what it says of it', () => {
    const {
      build,
      walked: { record },
    } = found();
    const deadTimeMs = figure(record, 'dead-time', 'valveDeadTimeMs');
    const sd = figure(record, 'dead-time', 'deadTimeSdMs');
    expect(Math.abs(deadTimeMs - build.valveDeadTimeMs)).toBeLessThan(SURE * sd);
    expect(sd).toBeLessThan(12);
  });

  it('takes the offset off every sensor', () => {
    const {
      build,
      walked: { record },
    } = found();
    const sensors = commissionedSensors(record);
    const { pressure, temperatureSdK } = commissionedEquipment(record);
    // A reference gauge that is a thousandth off is off in the gain, which at the room's pressure shows in nothing.
    expect(Math.abs(sensors.highSide.offsetPa + build.highSideOffsetPa)).toBeLessThan(
      SURE * pressure.highSideSdPa,
    );
    expect(Math.abs(sensors.lowSide.offsetPa + build.lowSideOffsetPa)).toBeLessThan(
      SURE * pressure.lowSideSdPa,
    );
    expect(Math.abs(sensors.tank.offsetPa + build.tankOffsetPa)).toBeLessThan(SURE * pressure.tankSdPa);
    expect(Math.abs(sensors.manifold.offsetPa + build.manifoldOffsetPa)).toBeLessThan(
      SURE * pressure.manifoldSdPa,
    );
    expect(Math.abs(sensors.manifold.gain - 1)).toBeLessThan(0.002);
    expect(Math.abs(sensors.tankTemperature.offsetK + build.tankTemperatureOffsetK)).toBeLessThan(
      SURE * temperatureSdK,
    );
    expect(sensors.barometer!.offsetPa + build.barometerOffsetPa).toBeCloseTo(0, 3);
  });

  it('finds no leak in a machine that has none', () => {
    const {
      walked: { record },
    } = found();
    expect(Math.abs(figure(record, 'leak-test', 'leakPaM3PerS'))).toBeLessThan(1e-5);
  });
});
