// What the controller believes about a rig: the typed facts, and what commissioning measured.
import type { Dosing, Equipment } from '../../controller/equipment.ts';
import type { OilKind } from '../../controller/ticket.ts';
import { fittedOutputs, fittedSensor } from '../../hardware/commissioning/facts.ts';
import {
  type EquipmentRecord,
  type Figures,
  type LineId,
  numberIn,
  textIn,
} from '../../hardware/commissioning/record.ts';
import { commissionedSensors } from '../../hardware/commissioning/sensors.ts';
import { converterStepPa } from '../../hardware/sensors.ts';
import { fluidData } from '../run/prepare.ts';
import { fillLimitKg, reserveKg } from '../scenario/equipment.ts';

function tankOf(facts: Figures): Equipment['tank'] {
  const refrigerant = textIn(facts, 'refrigerant');
  const { curve } = fluidData(refrigerant);
  const waterCapacityM3 = numberIn(facts, 'waterCapacityM3');
  return {
    refrigerant,
    waterCapacityM3,
    fillLimitKg: Math.min(numberIn(facts, 'fillLimitKg'), fillLimitKg(waterCapacityM3, curve)),
    reserveKg: reserveKg(waterCapacityM3, curve),
    temperatureLimitK: numberIn(facts, 'tankTemperatureLimitK'),
  };
}

const scaleOf = (facts: Figures, scale: Figures): Equipment['scale'] => ({
  countsPerKg: numberIn(scale, 'countsPerKg'),
  zeroCounts: numberIn(scale, 'zeroCounts'),
  noiseKg: numberIn(scale, 'noiseKg'),
  spanErrorSd: numberIn(scale, 'spanErrorSd'),
  zeroDriftKgPerKSd: numberIn(facts, 'scaleDriftKgPerK'),
  creepSd: numberIn(scale, 'creepSd'),
  hoseForceKgPerPaSd: numberIn(scale, 'hoseForceKgPerPaSd'),
});

function pressureOf(record: EquipmentRecord, facts: Figures, found: Figures): Equipment['pressure'] {
  const { manifold, tank, typedBarometerPa } = commissionedSensors(record);
  return {
    highSideSdPa: numberIn(found, 'highSideSdPa'),
    lowSideSdPa: numberIn(found, 'lowSideSdPa'),
    tankSdPa: numberIn(found, 'tankSdPa'),
    tankSpanPa: tank.toPa + typedBarometerPa,
    manifoldSdPa: numberIn(found, 'manifoldSdPa'),
    manifoldResolutionPa: Math.max(converterStepPa(manifold), numberIn(found, 'manifoldNoisePa')),
    manifoldSpanPa: manifold.toPa,
    ...(fittedSensor(facts, 'vehicleVacuum')
      ? { vehicleVacuumRelativeSd: numberIn(facts, 'vacuumRelativeSd') }
      : {}),
  };
}

const dosingOf = (facts: Figures, liquid: 'oil' | 'dye'): Dosing => ({
  flowM3PerSPa: numberIn(facts, `${liquid}FlowM3PerSPa`),
  lineFilmM3: numberIn(facts, `${liquid}LineFilmM3`),
});

const isTrue = (facts: Figures, name: string): boolean => facts[name] === true;

/** @throws Error where a line is missing: whoever asks has looked whether all stand. */
export function commissionedEquipment(record: EquipmentRecord): Equipment {
  const of = (line: LineId): Figures => record[line]?.figures ?? {};
  const facts = of('facts');
  const volumes = of('volumes');
  const fitted = fittedOutputs(facts);
  return {
    name: textIn(facts, 'name'),
    fitted,
    tank: tankOf(facts),
    scale: scaleOf(facts, of('scale')),
    pressure: pressureOf(record, facts, of('second-point')),
    temperatureSdK: numberIn(of('temperatures'), 'temperatureSdK'),
    hoses: {
      highVolumeM3: numberIn(volumes, 'highVolumeM3'),
      lowVolumeM3: numberIn(volumes, 'lowVolumeM3'),
      manifoldVolumeM3: numberIn(volumes, 'manifoldVolumeM3'),
      volumeRelativeSd: numberIn(volumes, 'volumeRelativeSd'),
    },
    valveDeadTimeMs: numberIn(of('dead-time'), 'valveDeadTimeMs'),
    compressor: {
      cutOutPa: numberIn(facts, 'cutOutPa'),
      minimumOffMs: numberIn(facts, 'compressorMinimumOffMs'),
      sweptM3PerS: numberIn(facts, 'compressorSweptM3PerS'),
      condenserM3: numberIn(facts, 'condenserM3'),
    },
    vacuumPump: {
      openLimitPa: numberIn(facts, 'pumpOpenLimitPa'),
      ultimatePa: numberIn(facts, 'pumpUltimatePa'),
    },
    separatorM3: numberIn(facts, 'separatorM3'),
    separatorFloat: isTrue(facts, 'separatorFloat'),
    ...(fitted.includes('oilValve')
      ? { oil: { ...dosingOf(facts, 'oil'), kind: textIn(facts, 'oilKind') as OilKind } }
      : {}),
    ...(fitted.includes('dyeValve')
      ? { dye: { ...dosingOf(facts, 'dye'), bottleM3: numberIn(facts, 'dyeBottleM3') } }
      : {}),
    ...(fittedSensor(facts, 'barometer') ? {} : { barometerPa: numberIn(of('atmosphere'), 'barometerPa') }),
  };
}
