// `coldbench properties`: refrigerant properties, JSON lines in and JSON lines out.
import { exactFlash } from '../../sim/fluids/flash.ts';
import { FLUID_NAMES, type Fluid, findFluid } from '../../sim/fluids/fluid.ts';
import { type Phase, phaseOf } from '../../sim/fluids/phase.ts';
import { newPropertyState, newSaturationState } from '../../sim/fluids/property-state.ts';
import { SaturationLine } from '../../sim/fluids/saturation.ts';
import { FluidTables } from '../../sim/fluids/tables.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { suggestion } from './nearest.ts';

const HELP = `Usage: coldbench properties REFRIGERANT [--exact]

Answers each line of standard input, a JSON object, with one JSON line. Blank lines are passed over.

  {"temperatureK": T}
      saturation: {"pressurePa", "liquid": {…}, "vapour": {…}}, each phase with densityKgPerM3,
      internalEnergyJPerKg, enthalpyJPerKg and entropyJPerKgK
  {"densityKgPerM3": R, "internalEnergyJPerKg": U}
      equilibrium: {"temperatureK", "pressurePa", "quality", "phase"}. phase is liquid, two-phase, vapour or
      supercritical; quality is the mass fraction of vapour in a two-phase mixture and null in any other phase

A line that cannot be answered gets {"error": "…"} and the rest go on. Pressures are absolute. Energies and entropies
count from the IIR reference: 200 kJ/kg enthalpy and 1 kJ/(kg·K) entropy of saturated liquid at 0 °C.

Refrigerants: ${FLUID_NAMES.join(', ')}

  --exact   from the equation of state itself; without it from the tables that the simulator runs on

Exit status: 0 whenever all lines were read, 2 for a wrong argument.
`;

type PhaseProperties = {
  readonly densityKgPerM3: number;
  readonly internalEnergyJPerKg: number;
  readonly enthalpyJPerKg: number;
  readonly entropyJPerKgK: number;
};
type Saturation = {
  readonly pressurePa: number;
  readonly liquid: PhaseProperties;
  readonly vapour: PhaseProperties;
};
type Equilibrium = {
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly quality: number | null;
  readonly phase: Phase;
};

/** Where the answers come from. Both throw a RangeError for a state they do not cover. */
type Source = {
  saturation(temperatureK: number): Saturation;
  flash(densityKgPerM3: number, internalEnergyJPerKg: number): Equilibrium;
};

const pick = (state: PhaseProperties): PhaseProperties => ({
  densityKgPerM3: state.densityKgPerM3,
  internalEnergyJPerKg: state.internalEnergyJPerKg,
  enthalpyJPerKg: state.enthalpyJPerKg,
  entropyJPerKgK: state.entropyJPerKgK,
});

const mixtureOnly = (quality: number): number | null => (quality > 0 && quality < 1 ? quality : null);

function fromEquation(fluid: Fluid): Source {
  const line = new SaturationLine(fluid);
  return {
    saturation(temperatureK) {
      const { pressurePa, liquid, vapour } = line.at(temperatureK);
      return { pressurePa, liquid: pick(liquid), vapour: pick(vapour) };
    },
    flash(densityKgPerM3, internalEnergyJPerKg) {
      const { quality, ...rest } = exactFlash(fluid, line, densityKgPerM3, internalEnergyJPerKg);
      return {
        temperatureK: rest.temperatureK,
        pressurePa: rest.pressurePa,
        quality: mixtureOnly(quality),
        phase: rest.phase,
      };
    },
  };
}

function fromTables(fluid: Fluid): Source {
  const tables = new FluidTables(fluid);
  const state = newPropertyState();
  const saturation = newSaturationState();
  return {
    saturation(temperatureK) {
      tables.saturation(temperatureK, saturation);
      const s = saturation;
      return {
        pressurePa: s.pressurePa,
        liquid: {
          densityKgPerM3: s.liquidDensityKgPerM3,
          internalEnergyJPerKg: s.liquidInternalEnergyJPerKg,
          enthalpyJPerKg: s.liquidEnthalpyJPerKg,
          entropyJPerKgK: s.liquidEntropyJPerKgK,
        },
        vapour: {
          densityKgPerM3: s.vapourDensityKgPerM3,
          internalEnergyJPerKg: s.vapourInternalEnergyJPerKg,
          enthalpyJPerKg: s.vapourEnthalpyJPerKg,
          entropyJPerKgK: s.vapourEntropyJPerKgK,
        },
      };
    },
    flash(densityKgPerM3, internalEnergyJPerKg) {
      const temperatureK = tables.flash(densityKgPerM3, internalEnergyJPerKg, state);
      const { pressurePa, quality } = state;
      const phase = phaseOf(fluid, { temperatureK, pressurePa, quality });
      return { temperatureK, pressurePa, quality: mixtureOnly(quality), phase };
    },
  };
}

const KEYS = ['temperatureK', 'densityKgPerM3', 'internalEnergyJPerKg'];
const FORMS = 'give {"temperatureK": T} or {"densityKgPerM3": R, "internalEnergyJPerKg": U}';

/** What is wrong with one line. */
class LineError extends Error {}

function readLine(line: string): Map<string, number> {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    throw new LineError(`not JSON; ${FORMS}`);
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new LineError(`not a JSON object; ${FORMS}`);
  const given = new Map<string, number>();
  for (const [key, number] of Object.entries(value)) {
    if (!KEYS.includes(key)) throw new LineError(`unknown key '${key}'; ${suggestion(key, KEYS)}`);
    if (typeof number !== 'number' || !Number.isFinite(number))
      throw new LineError(`${key} must be a finite number, in the SI unit of its name`);
    given.set(key, number);
  }
  return given;
}

function answer(source: Source, line: string): Saturation | Equilibrium {
  const given = readLine(line);
  const temperatureK = given.get('temperatureK');
  const densityKgPerM3 = given.get('densityKgPerM3');
  const energy = given.get('internalEnergyJPerKg');
  if (temperatureK !== undefined && given.size === 1) return source.saturation(temperatureK);
  if (densityKgPerM3 !== undefined && energy !== undefined && given.size === 2) {
    if (densityKgPerM3 <= 0) throw new LineError('densityKgPerM3 must be above 0');
    return source.flash(densityKgPerM3, energy);
  }
  throw new LineError(`these keys do not make a question; ${FORMS}`);
}

function answerOrError(source: Source, line: string): object {
  try {
    return answer(source, line);
  } catch (error) {
    if (error instanceof LineError || error instanceof RangeError) return { error: error.message };
    throw error;
  }
}

/** @throws InputError naming the refrigerants there are */
export function refrigerantNamed(name: string | undefined): Fluid {
  if (name === undefined)
    throw new InputError(`a refrigerant is missing; give one of ${FLUID_NAMES.join(', ')}`);
  const fluid = findFluid(name);
  if (fluid === undefined)
    throw new InputError(`there is no refrigerant '${name}'; give one of ${FLUID_NAMES.join(', ')}`);
  return fluid;
}

export const properties: CliCommand = {
  name: 'properties',
  summary: 'refrigerant properties for JSON lines on standard input',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    const { values, positionals } = splitArguments(args, { exact: { type: 'boolean' } }, 1);
    const fluid = refrigerantNamed(positionals[0]);
    const source = values.has('exact') ? fromEquation(fluid) : fromTables(fluid);
    for await (const line of terminal.lines()) {
      if (line.trim() !== '') terminal.out(`${JSON.stringify(answerOrError(source, line))}\n`);
    }
    return EXIT.completed;
  },
};
