// What the sensors of a rig put on their wires, and what that says: transfer functions both ways.
// The transfer of each is from its data sheet, typed at commissioning; what a check against a reference moved is beside it.
import type { AnalogSum } from './protocol.ts';

/**
 * Sensors and the chip's own converter share this supply, so that its true value cancels there. The 16-bit converter has a
 * reference of its own: behind it an error of the supply is one of the reading, so docs/rig.md asks for one of 0.1 %.
 */
export const SUPPLY_V = 5;
const CHIP_STEPS = 1024;
const CONVERSIONS = 10;
/** Full scale ±6.144 V over 16 bits with sign. */
export const CONVERTER_V_PER_COUNT = 6.144 / 32_768;
const CONVERTER_RAIL = 32_767;

/** A ratiometric transmitter gives this much at the two ends of its span. */
const SPAN_V = [0.5, 4.5] as const;
/** The 16-bit inputs have no band of the firmware's: what a pull-down or a short to the supply leaves. */
const WIRE_V = [0.25, 4.75] as const;

/** A pressure transmitter: gauge where its own port is open to the room, else absolute. */
export type PressureSensor = {
  /** At 0.5 V. */
  readonly fromPa: number;
  /** At 4.5 V. */
  readonly toPa: number;
  /** Found when both ends were compared with a reference: true = read × gain + offset. */
  readonly gain: number;
  readonly offsetPa: number;
};

/** A thermistor below a pull-up. */
export type Thermistor = {
  readonly ohmsAt25C: number;
  readonly betaK: number;
  readonly pullUpOhms: number;
  /** Found by comparison with a reference thermometer. */
  readonly offsetK: number;
};

/** A thermal vacuum sensor with a logarithmic output. */
export type VacuumSensor = {
  readonly voltsAt1Pa: number;
  readonly voltsPerDecade: number;
  readonly fromPa: number;
  readonly toPa: number;
};

export type WireFault = 'open-circuit' | 'short-circuit' | 'out-of-range';
/** What a wire says, or what is wrong with it. */
export type Sensed =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly reason: WireFault };

const good = (value: number): Sensed => ({ ok: true, value });
const faulty = (reason: WireFault): Sensed => ({ ok: false, reason });

/** The middle of the step that a conversion stands for. */
const voltsOfSum = ({ sum }: AnalogSum): number => ((sum / CONVERSIONS + 0.5) / CHIP_STEPS) * SUPPLY_V;

/** Undefined where the converter stands at its rail. */
const voltsOfCounts = (counts: number): number | undefined =>
  Math.abs(counts) >= CONVERTER_RAIL ? undefined : counts * CONVERTER_V_PER_COUNT;

const shareOfSpan = (volts: number): number => (volts - SPAN_V[0]) / (SPAN_V[1] - SPAN_V[0]);

function pressureOf({ fromPa, toPa, gain, offsetPa }: PressureSensor, volts: number): number {
  return (fromPa + shareOfSpan(volts) * (toPa - fromPa)) * gain + offsetPa;
}

export function voltsOfPressure(
  { fromPa, toPa, gain, offsetPa }: PressureSensor,
  pressurePa: number,
): number {
  const share = ((pressurePa - offsetPa) / gain - fromPa) / (toPa - fromPa);
  return SPAN_V[0] + share * (SPAN_V[1] - SPAN_V[0]);
}

/** In the sensor's own terms: above the room for a gauge transmitter. */
export function pressureFromChip(sensor: PressureSensor, input: AnalogSum): Sensed {
  if (input.band === 'below') return faulty('open-circuit');
  if (input.band === 'above') return faulty('short-circuit');
  return good(pressureOf(sensor, voltsOfSum(input)));
}

/** What one step of the chip's own converter is worth: the ten conversions of a steady input are all the same. */
export const chipStepPa = ({ fromPa, toPa, gain }: PressureSensor): number =>
  ((toPa - fromPa) / (SPAN_V[1] - SPAN_V[0])) * gain * (SUPPLY_V / CHIP_STEPS);

/** What one count of the 16-bit converter is worth. */
export const converterStepPa = ({ fromPa, toPa, gain }: PressureSensor): number =>
  ((toPa - fromPa) / (SPAN_V[1] - SPAN_V[0])) * gain * CONVERTER_V_PER_COUNT;

/** Beyond the upper end of its span a sensor says no more than that. */
export function pressureFromConverter(sensor: PressureSensor, counts: number): Sensed {
  const volts = voltsOfCounts(counts);
  if (volts === undefined || volts > WIRE_V[1]) return faulty('short-circuit');
  if (volts < WIRE_V[0]) return faulty('open-circuit');
  return volts > SPAN_V[1] ? faulty('out-of-range') : good(pressureOf(sensor, volts));
}

const REFERENCE_K = 298.15;

/** The beta equation of a thermistor, here from volts over the divider. */
function temperatureOf({ ohmsAt25C, betaK, pullUpOhms, offsetK }: Thermistor, volts: number): number {
  const ohms = (pullUpOhms * volts) / (SUPPLY_V - volts);
  return 1 / (1 / REFERENCE_K + Math.log(ohms / ohmsAt25C) / betaK) + offsetK;
}

export function voltsOfTemperature(
  { ohmsAt25C, betaK, pullUpOhms, offsetK }: Thermistor,
  temperatureK: number,
): number {
  const ohms = ohmsAt25C * Math.exp(betaK * (1 / (temperatureK - offsetK) - 1 / REFERENCE_K));
  return (SUPPLY_V * ohms) / (ohms + pullUpOhms);
}

export function temperatureFromChip(sensor: Thermistor, input: AnalogSum): Sensed {
  if (input.band === 'below') return faulty('short-circuit');
  if (input.band === 'above') return faulty('open-circuit');
  return good(temperatureOf(sensor, voltsOfSum(input)));
}

/** Of the supply: nearer to either end a thermistor's wire is taken for broken or shorted, as the firmware does. */
const THERMISTOR_V = [0.2, 4.8] as const;

export function temperatureFromConverter(sensor: Thermistor, counts: number): Sensed {
  const volts = voltsOfCounts(counts);
  if (volts === undefined || volts > THERMISTOR_V[1]) return faulty('open-circuit');
  return volts < THERMISTOR_V[0] ? faulty('short-circuit') : good(temperatureOf(sensor, volts));
}

export const voltsOfVacuum = ({ voltsAt1Pa, voltsPerDecade }: VacuumSensor, pressurePa: number): number =>
  voltsAt1Pa + voltsPerDecade * Math.log10(pressurePa);

export function vacuumFromConverter(sensor: VacuumSensor, counts: number): Sensed {
  const volts = voltsOfCounts(counts);
  if (volts === undefined) return faulty('short-circuit');
  const pressurePa = 10 ** ((volts - sensor.voltsAt1Pa) / sensor.voltsPerDecade);
  return pressurePa < sensor.fromPa || pressurePa > sensor.toPa ? faulty('out-of-range') : good(pressurePa);
}
