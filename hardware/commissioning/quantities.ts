// Numbers as a builder types them: with a unit of either system or none, turned into SI, and shown back in both.

type Unit = { readonly name: string; readonly si: number; readonly at0?: number };
type Kind = {
  /** The first is understood where none is typed, and shown; `other` is shown beside it. */
  readonly units: readonly Unit[];
  readonly other?: string;
};

/** NIST SP 811 (2008), appendix B: psi, inch of mercury at 0 °C; pound and inch exact (yard and pound agreement, 1959). */
const PSI: Unit = { name: 'psi', si: 6894.757 };
const INCH_M = 0.0254;
const PRESSURES: readonly Unit[] = [
  { name: 'bar', si: 100_000 },
  PSI,
  { name: 'kPa', si: 1_000 },
  { name: 'hPa', si: 100 },
  { name: 'mbar', si: 100 },
  { name: 'Pa', si: 1 },
  { name: 'MPa', si: 1e6 },
  { name: 'inHg', si: 3386.389 },
  { name: 'mmHg', si: 133.3224 },
];
const MICRON: Unit = { name: 'micron', si: 101_325 / 760 / 1000 };
const MASSES: readonly Unit[] = [
  { name: 'kg', si: 1 },
  { name: 'lb', si: 0.45359237 },
  { name: 'g', si: 0.001 },
  { name: 'oz', si: 0.45359237 / 16 },
];
const VOLUMES: readonly Unit[] = [
  { name: 'L', si: 1e-3 },
  { name: 'in3', si: INCH_M ** 3 },
  { name: 'mL', si: 1e-6 },
  { name: 'cm3', si: 1e-6 },
];
const FAHRENHEIT_0_K = 459.67 / 1.8;

const first = (units: readonly Unit[], name: string): readonly Unit[] => [
  ...units.filter((unit) => unit.name === name),
  ...units.filter((unit) => unit.name !== name),
];

const KINDS = {
  pressure: { units: PRESSURES, other: 'psi' },
  /** Of the room. */
  barometer: { units: first(PRESSURES, 'hPa'), other: 'inHg' },
  vacuum: { units: [...first(PRESSURES, 'Pa'), MICRON], other: 'micron' },
  mass: { units: MASSES, other: 'lb' },
  smallMass: { units: first(MASSES, 'g'), other: 'oz' },
  volume: { units: VOLUMES, other: 'in3' },
  smallVolume: { units: first(VOLUMES, 'mL'), other: 'in3' },
  temperature: {
    units: [
      { name: '°C', si: 1, at0: 273.15 },
      { name: '°F', si: 1 / 1.8, at0: FAHRENHEIT_0_K },
      { name: 'C', si: 1, at0: 273.15 },
      { name: 'F', si: 1 / 1.8, at0: FAHRENHEIT_0_K },
      { name: 'K', si: 1, at0: 0 },
    ],
    other: '°F',
  },
  temperatureDifference: {
    units: [
      { name: 'K', si: 1 },
      { name: '°F', si: 1 / 1.8 },
      { name: 'F', si: 1 / 1.8 },
    ],
    other: '°F',
  },
  displacement: {
    units: [
      { name: 'L/s', si: 1e-3 },
      { name: 'cfm', si: (12 * INCH_M) ** 3 / 60 },
      { name: 'm3/h', si: 1 / 3600 },
    ],
    other: 'cfm',
  },
  time: {
    units: [
      { name: 's', si: 1000 },
      { name: 'min', si: 60_000 },
      { name: 'ms', si: 1 },
    ],
  },
  share: {
    units: [
      { name: '%', si: 0.01 },
      { name: 'ppm', si: 1e-6 },
    ],
  },
  drift: {
    units: [
      { name: 'g/K', si: 0.001 },
      { name: 'oz/°F', si: (0.45359237 / 16) * 1.8 },
    ],
    other: 'oz/°F',
  },
  bottleFlow: { units: [{ name: 'mL/s per bar', si: 1e-11 }] },
  resistance: {
    units: [
      { name: 'ohm', si: 1 },
      { name: 'kohm', si: 1000 },
    ],
  },
  kelvin: { units: [{ name: 'K', si: 1 }] },
  volts: { units: [{ name: 'V', si: 1 }] },
} as const satisfies { readonly [name: string]: Kind };

export type QuantityKind = keyof typeof KINDS;
const kindOf = (kind: QuantityKind): Kind => KINDS[kind];

/** A number that is asked for; bounds in SI. */
export type Quantity = { readonly kind: QuantityKind; readonly min: number; readonly max: number };

export type Typed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: string };

const shownIn = (value: number, { name, si, at0 = 0 }: Unit): string =>
  `${Number(((value - at0) / si).toPrecision(5))} ${name}`;

/** In both systems, where both have a unit for it. */
export function shown(kind: QuantityKind, value: number): string {
  const { units, other } = kindOf(kind);
  const second = units.find(({ name }) => name === other);
  const ours = shownIn(value, units[0]!);
  return second === undefined ? ours : `${ours} (${shownIn(value, second)})`;
}

const NUMBER = /^([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*(.*)$/;
const plain = (text: string): string => text.trim().toLowerCase().replace('³', '3');

export function typedQuantity(text: string, { kind, min, max }: Quantity): Typed<number> {
  const { units } = kindOf(kind);
  const names = units.map(({ name }) => name).join(', ');
  const match = NUMBER.exec(text.trim());
  if (match === null)
    return {
      ok: false,
      problem: `'${text.trim()}' is no number; type one in ${units[0]!.name}, or with its unit (${names})`,
    };
  const [, digits, written] = match;
  const unit = written === '' ? units[0] : units.find(({ name }) => plain(name) === plain(written!));
  if (unit === undefined)
    return { ok: false, problem: `'${written}' is no unit of this figure; use one of ${names}` };
  // What binary arithmetic adds in the last places is nobody's figure.
  const value = Number((Number(digits) * unit.si + (unit.at0 ?? 0)).toPrecision(12));
  if (value < min || value > max)
    return {
      ok: false,
      problem: `${shown(kind, value)} is not from ${shown(kind, min)} to ${shown(kind, max)}`,
    };
  return { ok: true, value };
}

/** The unit that is understood where none is typed. */
export const unitOf = (kind: QuantityKind): string => kindOf(kind).units[0]!.name;
