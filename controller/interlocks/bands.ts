// Readings against equipment limits, as the few classes that interlocks judge. Unknown is a class of its own.
import { STANDARD_ATMOSPHERE_PA, SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import { mostInCondenserKg } from '../estimates/condenser.ts';
import { BAROMETRIC_PA, HIGHEST_WEATHER_PA } from '../estimates/pressures.ts';
import { netMassKg } from '../estimates/scale.ts';
import type { ScaleTrust } from '../estimates/scale-state.ts';
import type { Seen, Switched } from '../estimates/seen.ts';
import { tankExcessPa, tankExcessSdPa, tankRests } from '../estimates/tank-air.ts';
import { reserveNetKg } from '../estimates/tank-liquid.ts';
import type { SaturationCurve } from '../saturation.ts';
import { dyeFits, type Ticket } from '../ticket.ts';

export const BANDS = {
  emergencyStop: ['clear', 'tripped', 'unknown'],
  highPressureSwitch: ['clear', 'tripped', 'unknown'],
  gasAlarm: ['clear', 'not-fitted', 'tripped', 'unknown'],
  fanFlow: ['moving', 'still', 'unknown'],
  flammability: ['none', 'mild'],
  tankUse: ['own', 'contaminated'],
  tankAir: ['some', 'none', 'unsettled', 'unasked', 'unknown'],
  bottleOil: ['fits', 'other', 'unknown'],
  bottleDye: ['fits', 'other', 'unknown'],
  tankPressure: ['normal', 'high', 'unknown'],
  tankMass: ['normal', 'full', 'unknown'],
  tankLiquid: ['enough', 'short', 'unknown'],
  tankTemperature: ['normal', 'hot', 'unknown'],
  scale: ['trusted', 'doubtful'],
  manifold: ['vacuum', 'low', 'barometric', 'over-limit', 'unknown'],
  drainPressure: ['above-ambient', 'at-ambient', 'unknown'],
  highHose: ['no-pressure', 'pressure', 'unknown'],
  lowHose: ['no-pressure', 'pressure', 'unknown'],
  chargeDirection: ['forward', 'reverse', 'unknown'],
  runningSides: ['fit', 'strained', 'unknown'],
} as const;
export type BandName = keyof typeof BANDS;
export type Bands = { readonly [B in BandName]: (typeof BANDS)[B][number] };

/** What the operator calls that which a band is read from. */
export const BAND_WORDS: { readonly [B in BandName]: string } = {
  emergencyStop: 'the emergency stop',
  highPressureSwitch: 'the high-pressure switch',
  gasAlarm: 'the gas alarm',
  fanFlow: 'the flow of the fan',
  flammability: 'the kind of refrigerant',
  tankUse: 'what the tank is for',
  tankAir: 'the pressure or the temperature of the tank',
  bottleOil: 'the oil in the bottle',
  bottleDye: 'the dye in the bottle',
  tankPressure: 'the tank pressure',
  tankMass: 'the mass in the tank by the scale',
  tankLiquid: 'the mass or the temperature of the tank',
  tankTemperature: 'the tank temperature',
  scale: 'the scale',
  manifold: 'the absolute pressure of the manifold',
  drainPressure: 'the pressure of the separator',
  highHose: 'the high-side pressure',
  lowHose: 'the low-side pressure',
  chargeDirection: 'the high-side or the tank pressure',
  runningSides: 'the high-side or the low-side pressure',
};

/** Share of the cut-out at which the controller stops before the hard-wired switch does (common practice). */
const HIGH_PRESSURE_SHARE = 0.9;
/** And it stops before its own sensor runs out of range, where it could no longer say why (estimate). */
const SENSOR_SHARE = 0.95;
/** The compressor runs hot and dry below this suction (estimate; its own lower end is near 25 kPa). */
const COMPRESSOR_FLOOR_PA = 20_000;
/** A hose above the tank by less than this pushes nothing back worth naming (estimate). */
const REVERSE_PA = 20_000;
/** Less than this above the atmosphere moves no oil, and the weather may be off by as much (estimate). */
const OUTWARD_PA = 10_000;

/** Refrigerants of safety class A1 (ISO 817); every other counts as flammable. */
const NOT_FLAMMABLE: readonly string[] = ['R-134a'];

export const isFlammable = (refrigerant: string): boolean => !NOT_FLAMMABLE.includes(refrigerant);

export type BandInput = {
  readonly seen: Seen;
  readonly equipment: Equipment;
  readonly ticket: Pick<Ticket, 'electricCompressor' | 'oil' | 'dye'>;
  readonly curve: SaturationCurve;
  readonly scaleTrust: ScaleTrust;
  /** Median raw counts while the scale reads; bumps count, because a platform that carries more is fuller. */
  readonly scaleCounts: number | undefined;
  /** What is in the tank by the filter, to which what leans on the platform or lifts it is no refrigerant. */
  readonly scaleMassKg: number;
  /** The purge valve is asked for: nothing else hangs on the tank's air, which flickers where there is none to speak of. */
  readonly purges: boolean;
};

const isContaminated = ({ tank }: Equipment): boolean => tank.contaminated === true;

/** Whether the tank stands above saturation by more than its sensors are off, and is in a state in which that means air. */
function tankAirBand({ seen, equipment, curve, purges }: BandInput): Bands['tankAir'] {
  if (!purges) return 'unasked';
  if (isContaminated(equipment) || curve.refrigerant !== equipment.tank.refrigerant) return 'unknown';
  const excessPa = tankExcessPa(seen, curve);
  if (excessPa === undefined || seen.ambientK === undefined) return 'unknown';
  if (!tankRests(seen, equipment)) return 'unsettled';
  const sdPa = tankExcessSdPa(seen, equipment, curve);
  return excessPa > (sdPa ?? Number.POSITIVE_INFINITY) ? 'some' : 'none';
}

/** Whether the bottle's oil may go into the vehicle that the ticket describes. */
function bottleOilBand({ ticket, equipment: { oil } }: BandInput): Bands['bottleOil'] {
  if (oil === undefined) return 'unknown';
  const conducts = ticket.electricCompressor && oil.kind === 'PAG';
  return oil.kind === ticket.oil.kind && !conducts ? 'fits' : 'other';
}

/** Whether dye may go into the vehicle that the ticket describes. */
function bottleDyeBand({ ticket, equipment: { dye } }: BandInput): Bands['bottleDye'] {
  if (dye === undefined) return 'unknown';
  return dyeFits(ticket) ? 'fits' : 'other';
}

/** Comparisons are written so that a figure that is no number never permits. */
export function classify(input: BandInput): Bands {
  const { seen, equipment } = input;
  return {
    emergencyStop: hardWired(seen.emergencyStop),
    highPressureSwitch: hardWired(seen.highPressureSwitch),
    gasAlarm: seen.gasAlarm,
    fanFlow: seen.fanFlow === 'tripped' ? 'moving' : seen.fanFlow === 'clear' ? 'still' : 'unknown',
    // Nobody knows what a cylinder for contaminated refrigerant holds: it counts as what burns.
    flammability: isContaminated(equipment) || isFlammable(equipment.tank.refrigerant) ? 'mild' : 'none',
    tankUse: isContaminated(equipment) ? 'contaminated' : 'own',
    tankAir: tankAirBand(input),
    bottleOil: bottleOilBand(input),
    bottleDye: bottleDyeBand(input),
    tankPressure: tankPressureBand(seen.tankPa, equipment),
    tankMass: tankMassBand(input),
    tankLiquid: tankLiquidBand(input),
    tankTemperature: tankTemperatureBand(seen.tankTemperatureK, equipment),
    scale: input.scaleTrust === 'trusted' && input.scaleCounts !== undefined ? 'trusted' : 'doubtful',
    manifold: manifoldBand(seen, equipment),
    drainPressure: drainBand(seen, equipment),
    highHose: hoseBand(seen.highSidePa, equipment.pressure.highSideSdPa),
    lowHose: hoseBand(seen.lowSidePa, equipment.pressure.lowSideSdPa),
    chargeDirection: directionBand(seen, equipment),
    runningSides: runningBand(seen),
  };
}

/** The same object when no class changed, so that "nothing changed" is one comparison. */
export function reclassify(previous: Bands | undefined, input: BandInput): Bands {
  const bands = classify(input);
  return previous !== undefined && sameBands(previous, bands) ? previous : bands;
}

/** Named one by one: this runs every scan, and looking names up in a list takes a fifth of it. */
export function sameBands(a: Bands, b: Bands): boolean {
  return (
    a.emergencyStop === b.emergencyStop &&
    a.highPressureSwitch === b.highPressureSwitch &&
    a.gasAlarm === b.gasAlarm &&
    a.fanFlow === b.fanFlow &&
    a.flammability === b.flammability &&
    a.tankUse === b.tankUse &&
    a.tankAir === b.tankAir &&
    a.bottleOil === b.bottleOil &&
    a.bottleDye === b.bottleDye &&
    a.tankPressure === b.tankPressure &&
    a.tankMass === b.tankMass &&
    a.tankLiquid === b.tankLiquid &&
    a.tankTemperature === b.tankTemperature &&
    a.scale === b.scale &&
    a.manifold === b.manifold &&
    a.drainPressure === b.drainPressure &&
    a.highHose === b.highHose &&
    a.lowHose === b.lowHose &&
    a.chargeDirection === b.chargeDirection &&
    a.runningSides === b.runningSides
  );
}

/** These two switches belong to every machine; one that is "not fitted" is unknown. */
const hardWired = (state: Switched): 'clear' | 'tripped' | 'unknown' =>
  state === 'not-fitted' ? 'unknown' : state;

function tankPressureBand(tankPa: number | undefined, equipment: Equipment): Bands['tankPressure'] {
  if (tankPa === undefined) return 'unknown';
  const limitPa = Math.min(
    HIGH_PRESSURE_SHARE * equipment.compressor.cutOutPa,
    SENSOR_SHARE * equipment.pressure.tankSpanPa,
  );
  return tankPa <= limitPa ? 'normal' : 'high';
}

/**
 * The heavier of what the platform shows and what it should: a platform that is lifted makes no room in the tank. What the
 * condenser may hold comes in yet when the compressor has stopped, so that much room is kept.
 */
function tankMassBand({ scaleCounts, scaleMassKg, equipment }: BandInput): Bands['tankMass'] {
  if (scaleCounts === undefined) return 'unknown';
  const limitKg = equipment.tank.fillLimitKg - mostInCondenserKg(equipment);
  return netMassKg(scaleCounts, equipment) < limitKg && scaleMassKg < limitKg ? 'normal' : 'full';
}

/**
 * Whether what lies in the tank surely covers the dip tube; at no known temperature only what does so in a hot tank. The
 * saturation data of another refrigerant tell nothing of it. What leans on the platform is no liquid.
 */
function tankLiquidBand({
  scaleCounts,
  scaleMassKg,
  seen,
  equipment,
  curve,
}: BandInput): Bands['tankLiquid'] {
  if (scaleCounts === undefined || curve.refrigerant !== equipment.tank.refrigerant) return 'unknown';
  const reserveKg = reserveNetKg(equipment.tank, seen.tankTemperatureK, curve);
  if (netMassKg(scaleCounts, equipment) > reserveKg && scaleMassKg > reserveKg) return 'enough';
  return seen.tankTemperatureK === undefined ? 'unknown' : 'short';
}

function tankTemperatureBand(
  temperatureK: number | undefined,
  equipment: Equipment,
): Bands['tankTemperature'] {
  if (temperatureK === undefined) return 'unknown';
  return temperatureK < equipment.tank.temperatureLimitK ? 'normal' : 'hot';
}

function manifoldBand(seen: Seen, equipment: Equipment): Bands['manifold'] {
  const { manifoldPa } = seen;
  if (seen.manifoldOverSpan) return 'over-limit';
  if (manifoldPa === undefined) return 'unknown';
  if (!(manifoldPa <= equipment.vacuumPump.openLimitPa)) return 'over-limit';
  if (manifoldPa < COMPRESSOR_FLOOR_PA) return 'vacuum';
  return manifoldPa >= (seen.barometerPa ?? STANDARD_ATMOSPHERE_PA) - BAROMETRIC_PA ? 'barometric' : 'low';
}

/** Whether what the absolute sensor sees surely pushes outwards through the drain, and lets no air in. */
function drainBand({ manifoldPa, barometerPa }: Seen, equipment: Equipment): Bands['drainPressure'] {
  if (manifoldPa === undefined) return 'unknown';
  const doubtPa = SURE * equipment.pressure.manifoldSdPa;
  return manifoldPa > (barometerPa ?? HIGHEST_WEATHER_PA) + OUTWARD_PA + doubtPa
    ? 'above-ambient'
    : 'at-ambient';
}

/** Whether the hose surely holds enough pressure for the compressor. */
function hoseBand(pressurePa: number | undefined, sdPa: number): Bands['highHose'] {
  if (pressurePa === undefined) return 'unknown';
  return pressurePa > COMPRESSOR_FLOOR_PA + SURE * sdPa ? 'pressure' : 'no-pressure';
}

function directionBand(seen: Seen, equipment: Equipment): Bands['chargeDirection'] {
  const { highSidePa, tankPa } = seen;
  if (highSidePa === undefined || tankPa === undefined) return 'unknown';
  const doubtPa = SURE * Math.hypot(equipment.pressure.highSideSdPa, equipment.pressure.tankSdPa);
  return highSidePa - tankPa > doubtPa + REVERSE_PA ? 'reverse' : 'forward';
}

/** Sides of a running vehicle that bear being fed (common practice: below 3 to 4 and 20 to 22 bar above the atmosphere). */
const SUCTION_LIMIT_GAUGE_PA = 400_000;
const HIGH_LIMIT_PA = 2_200_000;

function runningBand({ highSidePa, lowSidePa, barometerPa }: Seen): Bands['runningSides'] {
  if (highSidePa === undefined || lowSidePa === undefined) return 'unknown';
  const suctionLimitPa = (barometerPa ?? STANDARD_ATMOSPHERE_PA) + SUCTION_LIMIT_GAUGE_PA;
  return highSidePa < HIGH_LIMIT_PA && lowSidePa < suctionLimitPa ? 'fit' : 'strained';
}
