// Leaks: grams a year out, pascals a second in.
import { Network } from '../../../sim/network/network.ts';
import { STEP_RULE } from '../../../sim/network/step-rule.ts';
import { makeLeak } from '../../../sim/plant/leak.ts';
import { airKgAt, boundary, isothermalNode, ROOM_K } from '../../sim/network/kit.ts';
import { ATMOSPHERE_PA, equilibrium, MOLAR_GAS_CONSTANT, type Refrigerant, YEAR_S } from '../bench-top.ts';
import type { Check, Topic } from '../check.ts';

const VOLUME_M3 = 3e-3;
const HOUR_S = 3600;
const R134A_GAS_CONSTANT = MOLAR_GAS_CONSTANT / 0.102032;
/** Of saturated vapour at 20 °C and of air, Pa·s. */
const VAPOUR_VISCOSITY = 1.149e-5;
const AIR_VISCOSITY = 1.82e-5;
const SATURATION_PA = 571_707;

/** Throughput of a leak of 100 g a year, and of air into vacuum through the same capillary, Pa·m³/s. */
const outward = (0.1 / YEAR_S) * R134A_GAS_CONSTANT * ROOM_K;
const inwardShare =
  (VAPOUR_VISCOSITY / AIR_VISCOSITY) * (ATMOSPHERE_PA ** 2 / (SATURATION_PA ** 2 - ATMOSPHERE_PA ** 2));

/** Lost in an hour by a system with liquid in it, as g a year. */
function lostGPerYear(refrigerant: Refrigerant, kgPerYear: number): number {
  const of = equilibrium(refrigerant);
  const system = isothermalNode('system', VOLUME_M3);
  of.fill(system, ROOM_K, { refrigerantKg: 0.6 });
  const leak = makeLeak(kgPerYear, system, boundary(of, ATMOSPHERE_PA), of);
  new Network(of, [system], [leak]).advance(HOUR_S);
  return (leak.passedRefrigerantKg * 1000 * YEAR_S) / HOUR_S;
}

/** Hours in which a system of 600 g loses so much. */
function hoursToLoseKg(kg: number, kgPerYear: number): number {
  const of = equilibrium('R-134a');
  const system = isothermalNode('system', VOLUME_M3);
  of.fill(system, ROOM_K, { refrigerantKg: 0.6 });
  const leak = makeLeak(kgPerYear, system, boundary(of, ATMOSPHERE_PA), of);
  // Nothing but time matters here, so the steps may be long.
  const network = new Network(of, [system], [leak], { ...STEP_RULE, longestS: 10 });
  let hours = 0;
  while (leak.passedRefrigerantKg < kg) {
    network.advance(HOUR_S / 20);
    hours += 1 / 20;
  }
  return hours;
}

/** Rise of an evacuated system through a leak, Pa. */
function risePa(kgPerYear: number, seconds: number): number {
  const of = equilibrium('R-134a');
  const system = isothermalNode('system', VOLUME_M3);
  of.fill(system, ROOM_K, { refrigerantKg: 0, airKg: airKgAt(1, VOLUME_M3) });
  const before = system.pressurePa;
  const leak = makeLeak(kgPerYear, system, boundary(of, ATMOSPHERE_PA), of);
  new Network(of, [system], [leak]).advance(seconds);
  return system.pressurePa - before;
}

/** The leak through which 3 L rise by 1 Pa/s, kg/s of R-134a when charged. */
const ONE_PASCAL_PER_S_KG_PER_S = VOLUME_M3 / inwardShare / (R134A_GAS_CONSTANT * ROOM_K);
const SOURCE = 'Poiseuille for a compressible gas; viscosities 1.149e-5 (CoolProp 8) and 1.82e-5 Pa·s';

export const leaks: Topic = {
  heading: 'Leaks',
  checks: [
    ...(['R-134a', 'R-1234yf'] as const).map(
      (refrigerant): Check => ({
        id: `leak-stated-${refrigerant.toLowerCase()}`,
        title: `A leak stated as 100 g a year of ${refrigerant} loses at 20 °C with liquid in the system, as a yearly rate`,
        source: 'definition',
        unit: 'g/a',
        expected: 100,
        tolerance: { relative: 0.005 },
        obtain: () => lostGPerYear(refrigerant, 0.1),
      }),
    ),
    {
      id: 'leak-throughput',
      title: '100 g a year of R-134a at 20 °C as a throughput: ṁ·R·T/M',
      source: 'ideal gas, definition of throughput',
      unit: '10⁻⁵ Pa·m³/s',
      expected: 7.57,
      tolerance: { relative: 0.005 },
      obtain: () => {
        const { gasConstantJPerKgK } = equilibrium('R-134a').tables.fluid;
        return (lostGPerYear('R-134a', 0.1) / 1000 / YEAR_S) * gasConstantJPerKgK * ROOM_K * 1e5;
      },
    },
    ...(
      [
        [0.1, 600],
        [1, 600],
        [20, 600],
      ] as const
    ).map(
      ([kgPerYear, seconds]): Check => ({
        id: `leak-in-vacuum-${kgPerYear}-kg-a`,
        title: `A leak of ${kgPerYear} kg a year lets air into 3 L of vacuum; rise in 10 min`,
        source: SOURCE,
        unit: 'Pa',
        expected: (outward * (kgPerYear / 0.1) * inwardShare * seconds) / VOLUME_M3,
        tolerance: { relative: 0.02 },
        obtain: () => risePa(kgPerYear, seconds),
      }),
    ),
    {
      id: 'leak-of-one-pascal-per-second',
      title:
        'The leak through which 3 L of vacuum rise by 1 Pa/s loses 6.1 mg/s when charged: rise through it',
      source: SOURCE,
      unit: 'Pa/s',
      expected: 1,
      tolerance: { relative: 0.02 },
      obtain: () => risePa(ONE_PASCAL_PER_S_KG_PER_S * YEAR_S, 60) / 60,
    },
    {
      id: 'leak-of-one-pascal-per-second-empties',
      title: 'and 500 g have left through it after',
      source: SOURCE,
      unit: 'h',
      expected: 0.5 / ONE_PASCAL_PER_S_KG_PER_S / 3600,
      tolerance: { relative: 0.02 },
      obtain: () => hoursToLoseKg(0.5, ONE_PASCAL_PER_S_KG_PER_S * YEAR_S),
    },
  ],
};
