// A scenario in SI units: read from a file or an object, checked key by key.

import type { OilKind, Ticket } from '../../controller/ticket.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { barometerPa } from '../../sim/fluids/air.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Build, CylinderSpec, TankSpec, VehicleSpec, WeatherSpec } from '../../sim/spec.ts';
import { InputError } from '../cli/command.ts';
import { type PlannedFault, plannedFaults } from './faults.ts';
import { jsonFile } from './json-file.ts';
import { checkNoPlan } from './other-kind.ts';
import { firstProblem } from './problems.ts';
import { repairOf } from './repair.ts';
import { type AnyFile, fillSchema, type ScenarioFile, scenarioSchema } from './schema.ts';
import { BAR_PA, HOUR_S, MILLILITRE_M3 } from './si.ts';
import { checkFilling, isForFilling, ticketOf } from './ticket.ts';
import { cylinderOf, oilKindOf, tankOf, vehicleOf } from './vessels.ts';

/** The profile and what the controller is told instead of the profile's own figures. */
export type EquipmentChoice = {
  readonly profile: ProfileName;
  readonly fitted?: ScenarioFile['equipment']['fitted'];
  readonly fillLimitKg?: number | undefined;
  readonly reserveKg?: number | undefined;
  readonly tankTemperatureLimitK?: number | undefined;
  readonly highHoseVolumeM3?: number | undefined;
  readonly lowHoseVolumeM3?: number | undefined;
  readonly manifoldVolumeM3?: number | undefined;
  readonly valveDeadTimeMs?: number | undefined;
  readonly barometerPa?: number | undefined;
  readonly separatorFloat?: boolean | undefined;
  readonly uncleaned?: boolean | undefined;
  readonly tankLastKg?: number | undefined;
  readonly tankRestedMs?: number | undefined;
  /** The tank on the scale is a cylinder labelled for contaminated refrigerant. */
  readonly contaminated?: boolean;
  /** What the bottle of new oil holds. */
  readonly oilKind?: OilKind;
  readonly oilFlowM3PerSPa?: number | undefined;
  readonly oilLineFilmM3?: number | undefined;
  /** What the operator says that the bottle of dye holds. */
  readonly dyeBottleM3?: number | undefined;
  readonly dyeFlowM3PerSPa?: number | undefined;
};

export type Scenario = {
  readonly name: string;
  readonly seed: number;
  readonly weather: WeatherSpec;
  readonly ticket: Ticket;
  /** One of the two: a vehicle, or a supply cylinder in its place. */
  readonly vehicle?: VehicleSpec;
  readonly cylinder?: CylinderSpec;
  readonly tank: TankSpec;
  readonly equipment: EquipmentChoice;
  readonly build: Partial<Build>;
  readonly operatorDelayMs: number;
  /** How long the vehicle stands open when it is mended. */
  readonly repairMs: number;
  readonly identifier: IdentifierSpec;
  readonly faults: readonly PlannedFault[];
};

/** What the operator's identifier shows instead of the truth, and what is said where there is none. */
export type IdentifierSpec = {
  readonly refrigerant?: string | undefined;
  readonly purityPercent?: number | undefined;
  readonly airPercent?: number | undefined;
  readonly hydrocarbonPercent?: number | undefined;
  readonly elsewhere?: string | undefined;
};

const scaled = (value: number | undefined, factor: number): number | undefined =>
  value === undefined ? undefined : value * factor;

/** A typed altitude is a typed barometer by the standard atmosphere. */
function typedBarometerPa({ equipment }: AnyFile): number | undefined {
  return equipment.altitudeM === undefined ? equipment.barometerPa : barometerPa(equipment.altitudeM);
}

function equipmentOf(file: AnyFile): EquipmentChoice {
  const { altitudeM, tankTemperatureLimitC, highHoseVolumeMl, lowHoseVolumeMl, manifoldVolumeMl, ...others } =
    file.equipment;
  const { oilKind, oilFlowMlPerSPerBar, oilLineFilmMl, dyeBottleMl, dyeFlowMlPerSPerBar, ...rest } = others;
  const { tankRestedH, ...same } = rest;
  return {
    ...same,
    contaminated: file.tank.contaminated,
    tankRestedMs: scaled(tankRestedH ?? file.tank.restedH, HOUR_S * 1000),
    oilKind: oilKind ?? oilKindOf(file),
    oilFlowM3PerSPa: scaled(oilFlowMlPerSPerBar, MILLILITRE_M3 / BAR_PA),
    oilLineFilmM3: scaled(oilLineFilmMl, MILLILITRE_M3),
    dyeBottleM3: scaled(dyeBottleMl, MILLILITRE_M3),
    dyeFlowM3PerSPa: scaled(dyeFlowMlPerSPerBar, MILLILITRE_M3 / BAR_PA),
    barometerPa: typedBarometerPa(file),
    tankTemperatureLimitK:
      tankTemperatureLimitC === undefined ? undefined : tankTemperatureLimitC + ZERO_CELSIUS_K,
    highHoseVolumeM3: scaled(highHoseVolumeMl, MILLILITRE_M3),
    lowHoseVolumeM3: scaled(lowHoseVolumeMl, MILLILITRE_M3),
    manifoldVolumeM3: scaled(manifoldVolumeMl, MILLILITRE_M3),
  };
}

/** The keys that were really given: an override of undefined is no override. */
function given(build: AnyFile['build']): Partial<Build> {
  return Object.fromEntries(Object.entries(build).filter(([, value]) => value !== undefined));
}

const identifierOf = ({ operator }: Pick<ScenarioFile, 'operator'>): IdentifierSpec => ({
  refrigerant: operator.identifierRefrigerant,
  purityPercent: operator.identifierPurityPercent,
  airPercent: operator.identifierAirPercent,
  hydrocarbonPercent: operator.identifierHydrocarbonPercent,
  elsewhere: operator.identifiedElsewhere,
});

/**
 * Checks and converts a scenario that is already parsed JSON.
 * @throws InputError naming `source`, the key and the remedy.
 */
export function toScenario(value: unknown, source: string): Scenario {
  checkNoPlan(value, source);
  const schema = isForFilling(value) ? fillSchema : scenarioSchema;
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw new InputError(`${source}: ${firstProblem(parsed.error)}`);
  const file: AnyFile = parsed.data;
  if (file.equipment.altitudeM !== undefined && file.equipment.barometerPa !== undefined)
    throw new InputError(
      `${source}: equipment.altitudeM with equipment.barometerPa: one of them is enough, leave the other out`,
    );
  const tank = tankOf(file);
  const supply = 'vehicle' in file ? { vehicle: vehicleOf(file) } : { cylinder: cylinderOf(file) };
  const [key, { refrigerant }] = Object.entries(supply)[0]!;
  if (refrigerant !== tank.refrigerant)
    throw new InputError(
      `${source}: ${key}.refrigerant ${refrigerant} with tank.refrigerant ${tank.refrigerant}: ` +
        'mixed refrigerants are not built yet; give both the same',
    );
  checkFilling(file.ticket, { cylinder: file.cylinder }, source);
  const ticket = ticketOf(file);
  const repair = repairOf(file, ticket, source);
  return {
    name: file.name,
    seed: file.seed,
    weather: {
      ambientK: file.weather.ambientC + ZERO_CELSIUS_K,
      barometerPa: file.weather.barometerPa,
      relativeHumidity: file.weather.relativeHumidity,
    },
    ticket,
    ...(repair.spec === undefined || supply.vehicle === undefined
      ? supply
      : { vehicle: { ...supply.vehicle, repair: repair.spec } }),
    tank,
    equipment: equipmentOf(file),
    build: given(file.build),
    operatorDelayMs: file.operator.delayS * 1000,
    repairMs: repair.forMs,
    identifier: identifierOf(file),
    faults: plannedFaults(file.faults),
  };
}

/** @throws InputError when the file is missing, unreadable, empty, not JSON or not a scenario. */
export const readScenario = (path: string): Scenario =>
  toScenario(jsonFile(path, 'scenario', 'a ticket and a vehicle'), path);
