// The last word over what commissioning may energise. It knows the line's declaration, the readings and nothing else.
import {
  type Commands,
  commandsOf,
  OFF,
  OUTPUTS,
  type Output,
  type Reading,
} from '../../controller/signals.ts';
import type { Line, Seen, Wish } from './line.ts';

/** A machine that was declared empty has no pressure above that of a room, and no sensor is that far off. */
const EMPTY_BELOW_PA = 150_000;
/** What a vacuum pump may be opened to (common practice). */
const PUMP_OPENS_BELOW_PA = 110_000;
/** A pulse is never longer; more must be declared by the line. */
export const LONGEST_PULSE_MS = 2_000;

export type Guarded = {
  readonly line: Pick<Line, 'mayDrive' | 'withRefrigerant'>;
  readonly wishes: readonly Wish[];
  readonly fitted: readonly Output[];
  readonly seen: Seen;
  /** By the operator, in this session. */
  readonly declaredEmpty: boolean;
  /** The line waits for an answer of the operator. */
  readonly waits: boolean;
};

const PRESSURES = {
  highSidePressurePa: 'the high-side sensor',
  lowSidePressurePa: 'the low-side sensor',
  tankPressurePa: 'the tank sensor',
  manifoldPressurePa: 'the manifold sensor',
} as const;
const PRESSURE_NAMES = Object.keys(PRESSURES) as readonly (keyof typeof PRESSURES)[];
const bar = (pressurePa: number): string => (pressurePa / 100_000).toFixed(2);

const below = (reading: Reading, limitPa: number): boolean => reading.ok && reading.value <= limitPa;
/** Unless it is known to be at rest, a switch counts as tripped. */
const atRest = (reading: Reading<boolean>): boolean => reading.ok && !reading.value;

/** Why nothing at all may be on, or undefined. */
function whyNothing({ line, seen, declaredEmpty, waits }: Guarded): string | undefined {
  const { readings } = seen;
  if (waits) return 'an answer is awaited';
  if (!seen.board.linked) return 'the line to the board is lost: check cable and supply';
  if (!atRest(readings.emergencyStop)) return 'the emergency stop is pressed';
  if (!atRest(readings.highPressureSwitch)) return 'the high-pressure switch is open';
  if (!atRest(readings.gasAlarm) && (readings.gasAlarm.ok || readings.gasAlarm.reason !== 'not-fitted'))
    return 'the gas alarm is on';
  if (line.withRefrigerant === true) return undefined;
  if (!declaredEmpty) return 'nobody has declared the machine empty of refrigerant';
  const high = PRESSURE_NAMES.find((sensor) => !below(readings[sensor], EMPTY_BELOW_PA));
  if (high === undefined) return undefined;
  const reading = readings[high];
  return reading.ok
    ? `${PRESSURES[high]} shows ${bar(reading.value)} bar absolute, and a machine with more than ${bar(EMPTY_BELOW_PA)} is not empty`
    : `${PRESSURES[high]} has no reading (${reading.reason})`;
}

/** Why this output may not be on, or undefined. */
function whyNot(wish: Wish, { line, wishes, fitted, seen }: Guarded): string | undefined {
  const { output } = wish;
  if (line.mayDrive[output] === undefined) return `${output} is not among the outputs of this line`;
  if (!fitted.includes(output)) return `${output} is not fitted`;
  if (!(wish.offAfterMs > 0)) return `${output} has no countdown`;
  if (output !== 'vacuumValve') return undefined;
  if (wishes.some((other) => other.output === 'chargeValve'))
    return 'the vacuum valve and the charge valve never stand open together';
  return below(seen.readings.manifoldPressurePa, PUMP_OPENS_BELOW_PA)
    ? undefined
    : 'the vacuum valve opens to no pressure above that of a room';
}

export type Permitted = { readonly commands: Commands; readonly refused: readonly string[] };

/** Takes away what may not be; whatever stays on carries a countdown. */
export function permitted(guarded: Guarded): Permitted {
  const { wishes, line } = guarded;
  const all = wishes.length === 0 ? undefined : whyNothing(guarded);
  const reasons = new Map<Output, string | undefined>(
    wishes.map((wish) => [wish.output, all ?? whyNot(wish, guarded)]),
  );
  const commands = commandsOf((output) => {
    const wish = wishes.find((one) => one.output === output);
    if (wish === undefined || reasons.get(output) !== undefined) return OFF;
    return { on: true, offAfterMs: Math.min(wish.offAfterMs, line.mayDrive[output] ?? LONGEST_PULSE_MS) };
  });
  const refused = OUTPUTS.flatMap((output) => reasons.get(output) ?? []);
  return { commands, refused: [...new Set(refused)] };
}
