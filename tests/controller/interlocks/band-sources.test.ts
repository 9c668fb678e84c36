// Each class of readings depends on what it says it is told from, on all of it, and on nothing else.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { BAND_SOURCES } from '../../../controller/interlocks/band-sources.ts';
import { BANDS, type BandInput, type BandName, classify } from '../../../controller/interlocks/bands.ts';
import { EQUIPMENT, R134A, R1234YF, TICKET } from '../support/machine.ts';

const SEED = 20_260_203;
const PAIRS = 8_000;

const seldom = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(value, { nil: undefined, freq: 4 });
const near = (value: number): fc.Arbitrary<number> =>
  fc.double({ min: 0.9 * value, max: 1.1 * value, noNaN: true });
const pressure = (most: number) =>
  seldom(
    fc.oneof(
      fc.double({ min: -1e3, max: most, noNaN: true }),
      fc.double({ min: 0, max: 1.5e5, noNaN: true }),
      near(5.72e5),
      fc.constant(6e5),
    ),
  );
const temperature = seldom(
  fc.oneof(fc.double({ min: 250, max: 340, noNaN: true }), fc.constantFrom(292.9, 293.2, 293.2, 310)),
);
const switched = fc.constantFrom<Seen['gasAlarm']>('clear', 'tripped', 'not-fitted', 'unknown');
const scaled = (value: number): fc.Arbitrary<number> =>
  fc.double({ min: 0.5 * value, max: 2 * value, noNaN: true });

/** By path: every reading, every figure of the equipment that a machine may have otherwise, and the rest. */
const PARTS = {
  'seen.highSidePa': pressure(3e6),
  'seen.lowSidePa': pressure(1e6),
  'seen.tankPa': pressure(3e6),
  'seen.manifoldPa': pressure(2e5),
  'seen.manifoldOverSpan': fc.boolean(),
  'seen.vehicleVacuumPa': pressure(1e5),
  'seen.barometerPa': pressure(1.1e5),
  'seen.tankTemperatureK': temperature,
  'seen.ambientK': temperature,
  'seen.ventK': temperature,
  'seen.scaleCounts': seldom(fc.integer({ min: 1_350_000, max: 1_800_000 })),
  'seen.scaleAtMs': seldom(fc.integer({ min: 0, max: 1e6 })),
  'seen.emergencyStop': switched,
  'seen.highPressureSwitch': switched,
  'seen.fanFlow': switched,
  'seen.gasAlarm': switched,
  'equipment.tank.refrigerant': fc.constantFrom('R-134a', 'R-1234yf'),
  'equipment.tank.contaminated': fc.constantFrom(undefined, true),
  'equipment.tank.waterCapacityM3': scaled(21.6e-3),
  'equipment.tank.fillLimitKg': scaled(2),
  'equipment.tank.reserveKg': scaled(1),
  'equipment.tank.temperatureLimitK': fc.constantFrom(300, 318, 345),
  'equipment.scale.countsPerKg': scaled(100_000),
  'equipment.scale.zeroCounts': near(1_300_000),
  'equipment.scale.noiseKg': scaled(4e-4),
  'equipment.scale.hoseForceKgPerPaSd': scaled(1e-8),
  'equipment.compressor.condenserM3': scaled(0.4e-3),
  'equipment.pressure.highSideSdPa': scaled(40_000),
  'equipment.pressure.lowSideSdPa': scaled(40_000),
  'equipment.pressure.tankSdPa': scaled(30_000),
  'equipment.pressure.tankSpanPa': scaled(2e6),
  'equipment.pressure.manifoldSdPa': scaled(10_000),
  'equipment.pressure.manifoldSpanPa': scaled(160_000),
  'equipment.temperatureSdK': scaled(1),
  'equipment.hoses.highVolumeM3': scaled(33e-6),
  'equipment.compressor.cutOutPa': scaled(2e6),
  'equipment.compressor.minimumOffMs': scaled(120_000),
  'equipment.vacuumPump.openLimitPa': scaled(100_000),
  'equipment.barometerPa': pressure(1.1e5),
  'equipment.oil.kind': fc.constantFrom(undefined, 'PAG', 'POE'),
  'equipment.dye.bottleM3': fc.constantFrom(undefined, 50e-6),
  ticket: fc
    .tuple(fc.boolean(), fc.constantFrom('PAG', 'POE'), fc.boolean())
    .map(([electricCompressor, kind, approved]) => ({
      ...TICKET,
      electricCompressor,
      oil: { kind, addM3: 0 },
      dye: { addM3: 1e-6, approved },
    })),
  curve: fc.constantFrom(R134A, R1234YF),
  scaleTrust: fc.constantFrom('trusted', 'settling', 'bumped', 'stuck'),
  scaleCounts: seldom(fc.integer({ min: 1_350_000, max: 1_800_000 })),
  scaleMassKg: fc.double({ min: 0.5, max: 5, noNaN: true }),
  purges: fc.boolean(),
} satisfies Record<string, fc.Arbitrary<unknown>>;
type Path = keyof typeof PARTS;
type Flat = { readonly [P in Path]: unknown };
const PATHS = Object.keys(PARTS) as Path[];

function inputOf(flat: Flat): BandInput {
  const input: Record<string, unknown> = { seen: {}, equipment: structuredClone(EQUIPMENT) };
  for (const path of PATHS) {
    const names = path.split('.');
    const last = names.pop()!;
    let part = input as Record<string, Record<string, unknown>>;
    for (const name of names) {
      part[name] ??= {};
      part = part[name] as typeof part;
    }
    (part as Record<string, unknown>)[last] = flat[path];
  }
  const made = input as unknown as BandInput & { equipment: { oil?: unknown; dye?: unknown } };
  if (flat['equipment.oil.kind'] === undefined) delete made.equipment.oil;
  if (flat['equipment.dye.bottleM3'] === undefined) delete made.equipment.dye;
  return made;
}

const declaredBy = (band: BandName): readonly string[] => {
  const { seen, equipment, other } = BAND_SOURCES[band];
  return [...seen.map((name) => `seen.${name}`), ...equipment.map((path) => `equipment.${path}`), ...other];
};

const flats = fc.record(PARTS) as fc.Arbitrary<Flat>;
const sampled = fc.sample(fc.tuple(flats, flats), { seed: SEED, numRuns: PAIRS });

/** The first with these parts of the second. */
const mixed = (one: Flat, other: Flat, paths: readonly Path[]): Flat => ({
  ...one,
  ...Object.fromEntries(paths.map((path) => [path, other[path]])),
});

describe.each((Object.keys(BANDS) as BandName[]).map((band) => [band]))('%s', (band) => {
  const declared = PATHS.filter((path) => declaredBy(band).includes(path));
  const others = PATHS.filter((path) => !declared.includes(path));
  const classOf = (flat: Flat) => classify(inputOf(flat))[band];

  test('says it in names that there are', () => {
    expect(declared.toSorted()).toEqual(declaredBy(band).toSorted());
  });

  test('is the same whatever else is otherwise', () => {
    for (const [one, other] of sampled) expect(classOf(mixed(one, other, others))).toBe(classOf(one));
  });

  test('is another at times where any one of them is otherwise', () => {
    const idle = declared.filter((path) =>
      sampled.every(([one, other]) => classOf(mixed(one, other, [path])) === classOf(one)),
    );
    expect(idle).toEqual([]);
  });
});
