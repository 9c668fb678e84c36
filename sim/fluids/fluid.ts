// The refrigerants there are: constants, equation of state and sources, read from data files.
import r134a from './data/r134a.json' with { type: 'json' };
import r1234yf from './data/r1234yf.json' with { type: 'json' };
import { HelmholtzEquation } from './equation.ts';
import type { IdealData, ResidualData } from './terms.ts';

/** Safety class by ISO 817 and ASHRAE 34. */
export type SafetyClass = 'A1' | 'A2L';

/** What a data file holds. Another refrigerant is another such file, imported here and added to `FILES`. */
type FluidFile = {
  readonly name: string;
  readonly safetyClass: string;
  readonly flammability?: { readonly source: string; readonly lowerLimitKgPerM3: number };
  readonly molarMassKgPerMol: number;
  readonly gasConstantJPerMolK: number;
  readonly criticalPoint: { readonly temperatureK: number; readonly densityKgPerM3: number };
  readonly range: { readonly minimumTemperatureK: number; readonly maximumTemperatureK: number };
  readonly equation: {
    readonly source: string;
    readonly reducingTemperatureK: number;
    readonly reducingDensityKgPerM3: number;
    readonly ideal: IdealData;
    readonly residual: ResidualData;
  };
  readonly diluteGasViscosity: DiluteGasViscosity;
};

/** Coefficients of η = prefactor·√(M·T)/(σ²·Ω(T/ε)); the data file gives form and source. */
export type DiluteGasViscosity = {
  readonly prefactor: number;
  readonly molarMassGPerMol: number;
  readonly sigmaNm: number;
  readonly epsilonK: number;
  /** ln Ω as a polynomial in ln(T/ε); empty means the Neufeld collision integral. */
  readonly logPolynomial: readonly number[];
};

export type Fluid = {
  readonly name: string;
  readonly safetyClass: SafetyClass;
  /** Vapour in room air from which a flame spreads; undefined where none does. */
  readonly lowerFlammableLimitKgPerM3: number | undefined;
  readonly molarMassKgPerMol: number;
  readonly gasConstantJPerKgK: number;
  /** Critical point of the equation itself, which may differ from the published one in the last figures. */
  readonly criticalTemperatureK: number;
  readonly criticalPressurePa: number;
  readonly criticalDensityKgPerM3: number;
  /** Where the equation is valid. */
  readonly minimumTemperatureK: number;
  readonly maximumTemperatureK: number;
  readonly equation: HelmholtzEquation;
  readonly diluteGasViscosity: DiluteGasViscosity;
  /** Where the equation of state is published. */
  readonly source: string;
};

const FILES: readonly FluidFile[] = [r134a, r1234yf];

function read(file: FluidFile): Fluid {
  const { safetyClass } = file;
  if (safetyClass !== 'A1' && safetyClass !== 'A2L') {
    throw new Error(
      `${file.name}: safety class ${safetyClass} is not one this machine is made for (A1, A2L)`,
    );
  }
  if (safetyClass !== 'A1' && file.flammability === undefined)
    throw new Error(`${file.name}: a refrigerant that burns needs its lower flammable limit`);
  const gasConstantJPerKgK = file.gasConstantJPerMolK / file.molarMassKgPerMol;
  const equation = new HelmholtzEquation(file.equation, gasConstantJPerKgK);
  const { temperatureK, densityKgPerM3 } = file.criticalPoint;
  return {
    name: file.name,
    safetyClass,
    lowerFlammableLimitKgPerM3: file.flammability?.lowerLimitKgPerM3,
    molarMassKgPerMol: file.molarMassKgPerMol,
    gasConstantJPerKgK,
    criticalTemperatureK: temperatureK,
    criticalPressurePa: equation.at(temperatureK, densityKgPerM3).pressurePa,
    criticalDensityKgPerM3: densityKgPerM3,
    minimumTemperatureK: file.range.minimumTemperatureK,
    maximumTemperatureK: file.range.maximumTemperatureK,
    equation,
    diluteGasViscosity: file.diluteGasViscosity,
    source: file.equation.source,
  };
}

const FLUIDS: readonly Fluid[] = FILES.map(read);

export const FLUID_NAMES: readonly string[] = FLUIDS.map((fluid) => fluid.name);

/** The refrigerant of that name, whatever its case and dashes (`R-134a`, `r134A`), or undefined. */
export function findFluid(name: string): Fluid | undefined {
  const plain = (text: string) => text.toLowerCase().replaceAll(/[-\s]/g, '');
  return FLUIDS.find((fluid) => plain(fluid.name) === plain(name));
}
