// What must never happen, written down from the hazards and watched on the simulator's truth, whatever the controller says.
import type { ControllerState } from '../../controller/state.ts';
import type { Inspection } from '../../sim/plant/inspection.ts';
import type { ProfileName } from '../../sim/profiles.ts';

type HarmKind = {
  readonly says: string;
  /** Up to here it is none, as the page has it. */
  readonly limit: string;
  readonly unit: 'g' | 'bar' | '';
};

const kinds = {
  'vented-in-purge': {
    says: 'refrigerant leaves by the purge valve',
    limit: '25 g in a purge (30 s at 0.8 g/s), nothing elsewhere',
    unit: 'g',
  },
  'vented-through-drain': {
    says: "refrigerant leaves through the separator's drain or a bottle",
    limit: '0.1 g',
    unit: 'g',
  },
  'vented-through-pump': {
    says: 'the vacuum pump exhausts more than the remains that an evacuation removes',
    limit: '20 g: two litres and the hoses at 1.1 bar, and what the oil gives off',
    unit: 'g',
  },
  'exhausted-out-of-turn': {
    says: 'the vacuum pump exhausts refrigerant while nobody evacuates',
    limit: '0.5 g, through a valve that is shutting',
    unit: 'g',
  },
  'tank-over-limit': {
    says: 'the tank holds more than its limit',
    limit: 'the limit and three standard deviations of the scale there: 36 g (good), 100 g (hobby)',
    unit: 'g',
  },
  'pump-on-pressure': {
    says: 'the vacuum pump stands open to pressure',
    limit: '1.12 bar absolute, and 0.4 s to shut',
    unit: 'bar',
  },
  'air-compressed': {
    says: 'the compressor draws air',
    limit: '22.5 g: its displacement for 75 s',
    unit: 'g',
  },
  overcharged: {
    says: 'the vehicle holds more than its nominal charge',
    limit:
      '15 g above (good), 30 g (hobby); until the hoses are drawn back 40 g more, given on purpose, and 60 g after a leak check',
    unit: 'g',
  },
  'liquid-trapped': {
    says: 'a segment is full of liquid without a way back to the tank, or stands above what its relief lets stand',
    limit: '97 % liquid; 22 bar and a tenth above the tank, and the seat that has to lift before',
    unit: 'bar',
  },
  'on-in-the-end': { says: 'an output is on after the end', limit: '1.5 s after the end', unit: '' },
  'fan-still-in-the-end': {
    says: 'the fan stands still after the end, though there are mains',
    limit: '1.5 s after the end',
    unit: '',
  },
  'controller-broke': { says: 'the scan threw', limit: 'never', unit: '' },
  'plant-broke': { says: 'the simulator could not go on', limit: 'never', unit: '' },
} as const satisfies { readonly [name: string]: HarmKind };
export type Harm = keyof typeof kinds;
export const HARMS: { readonly [H in Harm]: HarmKind } = kinds;

/** The worst of one kind within a run, in the unit of its limit: kg, Pa, or a count of outputs. */
export type Found = {
  readonly harm: Harm;
  readonly atMs: number;
  readonly worst: number;
  readonly what?: string;
};

export type Limits = {
  readonly tankKg: number;
  readonly nominalKg: number;
  /** What the vehicle may hold above its nominal charge, and before what is given too much on purpose is drawn back. */
  readonly aboveKg: number;
  readonly beforeDrawBackKg: number;
};

/** Published tolerance of a charge for the profile's scale. */
const TOLERANCE_KG: { readonly [P in ProfileName]: number } = { good: 0.015, hobby: 0.03 };
/** Given too much on purpose where the hoses are drawn back, and taken back with them. */
const ON_PURPOSE_KG = 0.04;
/** So much more after a leak check with a partial charge, which leaves the hoses fuller. */
const AFTER_CHECK_KG = 0.02;
/**
 * What the scale may be off by when the tank comes near its limit: three standard deviations of its span on 17 kg, of its
 * zero over the 4 K that the cabinet warms up, of its hoses' force at 6 bar.
 */
const TANK_DOUBT_KG: { readonly [P in ProfileName]: number } = { good: 0.036, hobby: 0.1 };

export const limitsOf = (profile: ProfileName, tankLimitKg: number, nominalKg: number): Limits => ({
  tankKg: tankLimitKg + TANK_DOUBT_KG[profile],
  nominalKg,
  aboveKg: TOLERANCE_KG[profile],
  beforeDrawBackKg: ON_PURPOSE_KG + TOLERANCE_KG[profile],
});

/** One purge valve of 0.8 g/s, half a minute: what a whole session may cost. */
const PURGE_KG = 0.025;
/** What clings to a drain or a bottle's valve in the moment it shuts. */
const DRAIN_KG = 1e-4;
/** Two litres and the hoses at 1.1 bar, and what comes out of the oil under vacuum. */
const EXHAUST_KG = 0.02;
/** Through a valve that takes a moment to shut, at the pressure of an evacuation. */
const OUT_OF_TURN_KG = 5e-4;
/** 1.1 bar, by a sensor that is off by three of its standard deviations. */
const PUMP_PA = 112_000;
/** From the pressure that comes to every valve shut: two scans, the dead time and its scatter. */
const PUMP_SHUT_MS = 400;
/**
 * The compressor's displacement full of air for 75 s: a minute for which a suction may stand at the barometer, and what it
 * takes to come to stand there.
 */
const AIR_KG = 0.0225;
const FULL_OF_LIQUID = 0.97;
/** A relief lets through what it must within a tenth above its 22 bar; before it the seat of a shut valve may have to lift. */
const RELIEF_PA = 1.1 * 2_200_000 + 600_000;

const EVACUATES: readonly unknown[] = ['evacuate'];
const PURGES: readonly unknown[] = ['purge-air'];

export class Watch {
  readonly #limits: Limits;
  readonly #first: Inspection;
  readonly #found = new Map<Harm, Found>();
  #before: Inspection;
  #drawsBack = false;
  #exhaustedKg = 0;
  #outOfTurnKg = 0;
  #purgedKg = 0;
  #evacuatedAtMs = Number.NEGATIVE_INFINITY;
  #purgedAtMs = Number.NEGATIVE_INFINITY;
  #pumpOverSinceMs: number | undefined;

  constructor(limits: Limits, first: Inspection) {
    this.#limits = limits;
    this.#first = first;
    this.#before = first;
  }

  get found(): readonly Found[] {
    return [...this.#found.values()];
  }

  /** After every scan. `turn` is what the machine is at: the stage, or work by hand. */
  look(now: Inspection, state: ControllerState | undefined): void {
    this.#lookAtLosses(now, state);
    this.#lookAtPump(now);
    const { tank, vehicleRefrigerantKg, compressedAirKg } = now;
    const first = this.#first;
    this.#over(
      'tank-over-limit',
      now,
      tank.refrigerantKg,
      Math.max(this.#limits.tankKg, first.tank.refrigerantKg + 1e-3),
    );
    const stage = state?.stage;
    if (stage?.stage === 'charge') this.#drawsBack ||= stage.drawsBack;
    // The charge has been drawn back, and what is left is for good.
    if (stage?.stage === 'recover-hoses') this.#drawsBack = false;
    const { nominalKg, aboveKg, beforeDrawBackKg } = this.#limits;
    const checkedKg = state?.accounts.leakCheck?.admittedKg === undefined ? 0 : AFTER_CHECK_KG;
    const mostKg = Math.max(
      this.#drawsBack ? beforeDrawBackKg + checkedKg : aboveKg,
      first.vehicleRefrigerantKg + 1e-3 - nominalKg,
    );
    this.#over('overcharged', now, vehicleRefrigerantKg - nominalKg, mostKg);
    this.#over('air-compressed', now, compressedAirKg - first.compressedAirKg, AIR_KG);
    for (const { name, liquidShare, pressurePa, relieved } of now.segments) {
      if (liquidShare >= FULL_OF_LIQUID && !relieved) this.#note('liquid-trapped', now, pressurePa, name);
      else this.#over('liquid-trapped', now, pressurePa, tank.pressurePa + RELIEF_PA, name);
    }
    if (state?.memory.trip?.row === 'controller')
      this.#note('controller-broke', now, 1, state.memory.trip.reason);
    this.#before = now;
  }

  /** Once the machine has had the time that it needs to come to rest. Without mains no fan turns. */
  lookAtEnd(now: Inspection, mains: boolean): void {
    if (now.on.length > 0) this.#note('on-in-the-end', now, now.on.length, now.on.join());
    if (mains && !now.fanTurns) this.#note('fan-still-in-the-end', now, 1);
  }

  broke(nowMs: number, error: unknown): void {
    this.#found.set('plant-broke', { harm: 'plant-broke', atMs: nowMs, worst: 1, what: String(error) });
  }

  #lookAtLosses(now: Inspection, state: ControllerState | undefined): void {
    const { lost, nowMs } = now;
    const before = this.#before.lost;
    const turn = state?.byHand === undefined ? state?.stage?.stage : 'by-hand';
    if (turn === 'by-hand' || EVACUATES.includes(turn)) this.#evacuatedAtMs = nowMs;
    if (turn === 'by-hand' || PURGES.includes(turn)) this.#purgedAtMs = nowMs;
    const exhaustedKg = lost.pumpExhaustKg - before.pumpExhaustKg;
    if (nowMs - this.#evacuatedAtMs <= PUMP_SHUT_MS) this.#exhaustedKg += exhaustedKg;
    else this.#outOfTurnKg += exhaustedKg;
    this.#purgedKg += nowMs - this.#purgedAtMs <= PUMP_SHUT_MS ? lost.purgedKg - before.purgedKg : 0;
    const purgedElseKg = lost.purgedKg - this.#first.lost.purgedKg - this.#purgedKg;
    this.#over('vented-through-pump', now, this.#exhaustedKg, EXHAUST_KG);
    this.#over('exhausted-out-of-turn', now, this.#outOfTurnKg, OUT_OF_TURN_KG);
    this.#over('vented-in-purge', now, Math.max(this.#purgedKg - PURGE_KG, purgedElseKg), DRAIN_KG);
    this.#over('vented-through-drain', now, lost.ventedKg - this.#first.lost.ventedKg, DRAIN_KG);
  }

  #lookAtPump(now: Inspection): void {
    if (!now.pumpJoined || now.manifoldPa <= PUMP_PA) {
      this.#pumpOverSinceMs = undefined;
      return;
    }
    const opened = !this.#before.pumpJoined;
    this.#pumpOverSinceMs ??= now.nowMs;
    if (opened || now.nowMs - this.#pumpOverSinceMs > PUMP_SHUT_MS) {
      this.#note('pump-on-pressure', now, now.manifoldPa);
    }
  }

  #over(harm: Harm, now: Inspection, value: number, most: number, what?: string): void {
    if (!(value <= most)) this.#note(harm, now, value, what);
  }

  #note(harm: Harm, { nowMs }: Inspection, worst: number, what?: string): void {
    const before = this.#found.get(harm);
    if (before !== undefined && before.worst >= worst) return;
    this.#found.set(harm, {
      harm,
      atMs: before?.atMs ?? nowMs,
      worst,
      ...(what === undefined ? {} : { what }),
    });
  }
}
