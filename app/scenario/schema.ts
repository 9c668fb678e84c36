// The scenario file: every key with its bounds and default. Display units here; SI from scenario.ts on.
import * as z from 'zod';
import { OUTPUTS } from '../../controller/signals.ts';
import { ENGINES, JURISDICTIONS, OIL_KINDS, SERVICES } from '../../controller/ticket.ts';
import { FLUID_NAMES, findFluid } from '../../sim/fluids/fluid.ts';
import { PROFILE_NAMES } from '../../sim/profiles.ts';
import { buildSchema } from './build.ts';
import { faultsSchema } from './faults.ts';
import { ONE_LINE } from './one-line.ts';
import { inUnit, type Quantity, quantity, shown, TEMPERATURE_C } from './quantity.ts';

const EXPANSION_DEVICES = ['orifice-tube', 'expansion-valve'] as const;
const LONGEST_NAME = 120;

const oneOf = <const W extends readonly string[]>(words: W) =>
  z.enum(words, {
    error: ({ input }) =>
      input === undefined
        ? `is missing: give one of ${words.join(', ')}`
        : `must be one of ${words.join(', ')}, not ${shown(input)}`,
  });

const refrigerant = z
  .string({
    error: ({ input }) =>
      input === undefined
        ? `is missing: give one of ${FLUID_NAMES.join(', ')}`
        : `must be one of ${FLUID_NAMES.join(', ')}, not ${shown(input)}`,
  })
  .transform((given, context) => {
    const fluid = findFluid(given);
    if (fluid !== undefined) return fluid.name;
    context.addIssue({
      code: 'custom',
      message: `${shown(given)} is not a refrigerant that is here; write one of ${FLUID_NAMES.join(', ')}`,
    });
    return z.NEVER;
  });

const yesOrNo = z.boolean({ error: ({ input }) => `must be true or false, not ${shown(input)}` });

const ports = z.union([z.literal(1), z.literal(2)], {
  error: ({ input }) => `must be 1 or 2, not ${shown(input)}`,
});

const name = z
  .string({ error: ({ input }) => `must be text, not ${shown(input)}` })
  .min(1, 'must not be empty')
  .max(LONGEST_NAME, `must have at most ${LONGEST_NAME} letters`)
  .regex(ONE_LINE, 'must be one line of text, without signs that turn its direction');

const seed = quantity({ unit: '', min: 0, max: 0xffffffff, whole: true });

const weather = z.strictObject({
  ambientC: quantity(TEMPERATURE_C).default(20),
  barometerPa: quantity({
    unit: 'Pa',
    min: 60_000,
    max: 110_000,
    mistakes: [inUnit(600, 1100, 'hectopascal', 100), inUnit(60, 110, 'kilopascal', 1000)],
  }).default(101_325),
  relativeHumidity: quantity({
    unit: '(a fraction)',
    min: 0,
    max: 1,
    mistakes: [inUnit(1, 100, 'per cent', 0.01)],
  }).default(0.5),
});

const oil = z.strictObject({
  kind: oneOf(OIL_KINDS).optional(),
  addMl: quantity({ unit: 'mL', min: 0, max: 500 }).default(0),
});

/** Of tank and cylinder. */
const CONTENT_KG: Quantity = {
  unit: 'kg',
  min: 0,
  max: 80,
  mistakes: [inUnit(100, 80_000, 'grams', 0.001)],
};

const ticketSchema = z.strictObject(
  {
    service: oneOf(SERVICES).default('whole'),
    refrigerant,
    nominalChargeG: quantity({
      unit: 'g',
      min: 50,
      max: 5000,
      // As it stands on labels: 0.6 may be kilograms or pounds, and nobody but the label tells.
      mistakes: [
        inUnit(0.05, 5, 'kilograms', 1000),
        inUnit(0.2, 8, 'pounds', 453.59237),
        inUnit(8, 50, 'ounces', 28.349523),
      ],
    }),
    opened: yesOrNo.default(false),
    repair: yesOrNo.default(false),
    repaired: yesOrNo.default(false),
    jurisdiction: oneOf(JURISDICTIONS).default('none'),
    electricCompressor: yesOrNo.default(false),
    engine: oneOf(ENGINES).default('cannot-run'),
    warmUp: yesOrNo.default(false),
    ports: ports.default(2),
    oil: oil.prefault({}),
    dyeMl: quantity({ unit: 'mL', min: 0, max: 50 }).default(0),
    dyeApproved: yesOrNo.default(false),
    leakCheck: yesOrNo.default(false),
    vehicleAgeYears: quantity({ unit: 'years', min: 0.1, max: 60 }).optional(),
    fillKg: quantity(CONTENT_KG).optional(),
    cylinderKg: quantity(CONTENT_KG).optional(),
    cylinderName: name.optional(),
  },
  { error: objectWanted('refrigerant and nominalChargeG') },
);

const vehicle = z.strictObject(
  {
    refrigerant: refrigerant.optional(),
    chargeG: quantity({ unit: 'g', min: 0, max: 5000 }),
    volumeL: quantity({
      unit: 'L',
      min: 0.5,
      max: 10,
      mistakes: [inUnit(500, 10_000, 'millilitres', 0.001)],
    }).default(2.5),
    temperatureC: quantity(TEMPERATURE_C).optional(),
    expansionDevice: oneOf(EXPANSION_DEVICES).default('orifice-tube'),
    oilG: quantity({ unit: 'g', min: 0, max: 1000 }).default(0),
    waterG: quantity({ unit: 'g', min: 0, max: 1000 }).default(0),
    airG: quantity({ unit: 'g', min: 0, max: 20 }).optional(),
    leakGPerYear: quantity({ unit: 'g per year', min: 0, max: 1e8 }).default(0),
    holeMm: quantity({ unit: 'mm', min: 0, max: 5 }).default(0),
    accumulatorHeatCapacityJPerK: quantity({ unit: 'J/K', min: 1, max: 5000 }).default(500),
    accumulatorUaWPerK: quantity({ unit: 'W/K', min: 0, max: 50 }).default(0.8),
  },
  { error: objectWanted('chargeG') },
);

const cylinder = z.strictObject({
  refrigerant: refrigerant.optional(),
  contentKg: quantity(CONTENT_KG).default(10),
  waterCapacityL: quantity({
    unit: 'L',
    min: 0.5,
    max: 100,
    mistakes: [inUnit(500, 100_000, 'millilitres', 0.001)],
  }).default(12),
  temperatureC: quantity(TEMPERATURE_C).optional(),
  airG: quantity({ unit: 'g', min: 0, max: 200 }).default(0),
});

const tank = z.strictObject({
  refrigerant: refrigerant.optional(),
  contentKg: quantity(CONTENT_KG).default(10),
  waterCapacityL: quantity({
    unit: 'L',
    min: 2,
    max: 100,
    mistakes: [inUnit(2000, 100_000, 'millilitres', 0.001)],
  }).default(21.6),
  temperatureC: quantity(TEMPERATURE_C).optional(),
  airG: quantity({ unit: 'g', min: 0, max: 200 }).default(0),
  restedH: quantity({ unit: 'h', min: 0, max: 1000 }).optional(),
  contaminated: yesOrNo.default(false),
});

const bottleFlow = quantity({ unit: 'mL/s per bar', min: 0.1, max: 100 }).optional();
const hoseVolume = quantity({ unit: 'mL', min: 1, max: 1000 }).optional();

const equipment = z.preprocess(
  (given) => (typeof given === 'string' ? { profile: given } : given),
  z.strictObject({
    profile: oneOf(PROFILE_NAMES).default('good'),
    fitted: z
      .array(oneOf(OUTPUTS), { error: ({ input }) => `must be a list of outputs, not ${shown(input)}` })
      .optional(),
    fillLimitKg: quantity({ unit: 'kg', min: 0.1, max: 80 }).optional(),
    reserveKg: quantity({ unit: 'kg', min: 0, max: 20 }).optional(),
    tankTemperatureLimitC: quantity({ unit: '°C', min: 20, max: 50 }).optional(),
    highHoseVolumeMl: hoseVolume,
    lowHoseVolumeMl: hoseVolume,
    manifoldVolumeMl: hoseVolume,
    valveDeadTimeMs: quantity({ unit: 'ms', min: 0, max: 1000 }).optional(),
    separatorFloat: yesOrNo.optional(),
    uncleaned: yesOrNo.optional(),
    tankRestedH: quantity({ unit: 'h', min: 0, max: 1000 }).optional(),
    tankLastKg: quantity({ unit: 'kg', min: 0, max: 80 }).optional(),
    oilKind: oneOf(OIL_KINDS).optional(),
    oilFlowMlPerSPerBar: bottleFlow,
    dyeBottleMl: quantity({ unit: 'mL', min: 0, max: 500 }).optional(),
    dyeFlowMlPerSPerBar: bottleFlow,
    oilLineFilmMl: quantity({ unit: 'mL', min: 0, max: 20 }).optional(),
    barometerPa: quantity({ unit: 'Pa', min: 60_000, max: 110_000 }).optional(),
    altitudeM: quantity({
      unit: 'm',
      min: -500,
      max: 4200,
      mistakes: [inUnit(4200, 14_000, 'feet', 0.3048)],
    }).optional(),
  }),
);

const percent = quantity({ unit: '%', min: 0, max: 100 });

/** Without these keys the identifier shows what is in the vehicle. */
const operator = z.strictObject({
  delayS: quantity({ unit: 's', min: 0, max: 86_400 }).default(10),
  identifierRefrigerant: name.optional(),
  identifierPurityPercent: percent.optional(),
  identifierAirPercent: percent.optional(),
  identifierHydrocarbonPercent: percent.optional(),
  identifiedElsewhere: name.optional(),
});

function objectWanted(keys: string) {
  return ({ input, code }: { input?: unknown; code?: string }): string | undefined => {
    if (code !== 'invalid_type') return undefined;
    if (input === undefined) return `is missing: give an object with at least ${keys}`;
    return `must be an object, not ${shown(input)}`;
  };
}

/** What a repair does to the vehicle, where the job comes to one. */
const repair = z.strictObject({
  hours: quantity({ unit: 'h', min: 0, max: 24 }).default(2),
  openMm: quantity({ unit: 'mm', min: 1, max: 20 }).default(10),
  stopsLeak: yesOrNo.default(true),
});

/** Where the file says nothing of it. */
export const REPAIR_UNSAID = repair.parse({});

export const scenarioSchema = z.strictObject({
  name: name.default('unnamed scenario'),
  seed: seed.default(1),
  weather: weather.prefault({}),
  ticket: ticketSchema,
  vehicle,
  cylinder: cylinder.optional(),
  tank: tank.prefault({}),
  equipment: equipment.prefault({}),
  build: buildSchema.prefault({}),
  operator: operator.prefault({}),
  repair: repair.optional(),
  faults: faultsSchema.default([]),
});

/** A scenario file as written, with the defaults that do not depend on other keys filled in. */
export type ScenarioFile = z.output<typeof scenarioSchema>;

const fillTicketSchema = ticketSchema.omit({ nominalChargeG: true, vehicleAgeYears: true });

/** Where the tank is filled there is no vehicle, and so nothing to be said of one. */
export const fillSchema = scenarioSchema.omit({ vehicle: true }).extend({
  ticket: fillTicketSchema,
  cylinder: cylinder.prefault({}),
});
export type FillFile = z.output<typeof fillSchema>;

/** What a job on a real rig is told: everything else it finds there. */
export const ticketFileSchema = z.strictObject({ name: name.default('unnamed job'), ticket: ticketSchema });
export const fillTicketFileSchema = ticketFileSchema.extend({ ticket: fillTicketSchema });

/** A job with a vehicle, or one with a supply cylinder in its place. */
export type AnyFile = ScenarioFile | FillFile;
