// A scenario in SI units: read from a file or an object, checked key by key.

import { readFileSync } from 'node:fs';
import type { OilKind, Ticket } from '../../controller/ticket.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { barometerPa } from '../../sim/fluids/air.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Build, CylinderSpec, TankSpec, VehicleSpec, WeatherSpec } from '../../sim/spec.ts';
import { InputError } from '../cli/command.ts';
import { type PlannedFault, plannedFaults } from './faults.ts';
import { JsonError, parseJson } from './json.ts';
import { firstProblem } from './problems.ts';
import { repairOf } from './repair.ts';
import { type AnyFile, fillSchema, type ScenarioFile, scenarioSchema } from './schema.ts';
import { BAR_PA, GRAM_KG, HOUR_S, MILLILITRE_M3 } from './si.ts';
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

function ticketOf(file: AnyFile): Ticket {
  const { ticket } = file;
  const { service, refrigerant, opened, electricCompressor, engine, ports, oil, fillKg, cylinderKg } = ticket;
  const nominalChargeKg = 'nominalChargeG' in ticket ? ticket.nominalChargeG * GRAM_KG : 0;
  const vehicleAgeYears = 'vehicleAgeYears' in ticket ? ticket.vehicleAgeYears : undefined;
  const leakCheck = 'leakCheck' in ticket ? ticket.leakCheck : false;
  return {
    service,
    refrigerant,
    nominalChargeKg,
    opened,
    repair: ticket.repair,
    repaired: ticket.repaired,
    jurisdiction: ticket.jurisdiction,
    electricCompressor,
    engine,
    warmUp: ticket.warmUp,
    ports,
    oil: { kind: oilKindOf(file), addM3: oil.addMl * MILLILITRE_M3 },
    dye: { addM3: ticket.dyeMl * MILLILITRE_M3, approved: ticket.dyeApproved },
    leakCheck,
    ...(vehicleAgeYears === undefined ? {} : { vehicleAgeYears }),
    ...(fillKg === undefined ? {} : { fillKg }),
    ...(cylinderKg === undefined ? {} : { cylinderKg }),
  };
}

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

const FILL = 'fill-tank';

/** Whatever else may be wrong with it. */
function isForFilling(value: unknown): boolean {
  const ticket = (value as { ticket?: { service?: unknown } } | null | undefined)?.ticket;
  return ticket?.service === FILL;
}

/** What is said of filling belongs to filling. */
function checkPlace({ ticket, ...file }: AnyFile, source: string): void {
  if (ticket.service === FILL) return;
  const keys = {
    cylinder: file.cylinder,
    'ticket.fillKg': ticket.fillKg,
    'ticket.cylinderKg': ticket.cylinderKg,
  };
  const misplaced = Object.entries(keys).find(([, value]) => value !== undefined);
  if (misplaced === undefined) return;
  throw new InputError(
    `${source}: ${misplaced[0]} with ticket.service ${ticket.service}: it belongs to the service ${FILL}`,
  );
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
  checkPlace(file, source);
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

const FILE_PROBLEMS: { readonly [code: string]: string } = {
  ENOENT: 'there is no such file; give the path of a scenario, or none for the demo job',
  EISDIR: 'is a directory; give the path of a scenario file',
  EACCES: 'may not be read; change its permissions or give another file',
};

/** @throws InputError when the file is missing, unreadable, empty, not JSON or not a scenario. */
export function readScenario(path: string): Scenario {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new InputError(`${path}: ${FILE_PROBLEMS[code ?? ''] ?? message}`);
  }
  if (text.trim() === '')
    throw new InputError(`${path}: the file is empty; a scenario has at least a ticket and a vehicle`);
  try {
    return toScenario(parseJson(text), path);
  } catch (error) {
    if (error instanceof JsonError) throw new InputError(`${path}: ${error.message}`);
    throw error;
  }
}
