// Publications that several checks cite, in the words the table shows.

export const ISO_2533 = 'ISO 2533:1975, standard atmosphere';
export const IEC_60534 = 'IEC 60534-2-1:2011, worked out by its formulae';
export const KINETIC_THEORY = 'kinetic theory of gases (Knudsen)';
export const ENERGY_BALANCE = 'energy balance with property values of CoolProp 8';
/** An independent program with the same equations of state. */
const R134A_REFERENCE = 'Tillner-Roth & Baehr 1994, evaluated by CoolProp 8';
const R1234YF_REFERENCE = 'Lemmon & Akasaka 2022, evaluated by CoolProp 8';
export const IAPWS_SR1 = 'IAPWS SR1-86(1992), Wagner & Pruss 1993';

export const referenceOf = (refrigerant: 'R-134a' | 'R-1234yf'): string =>
  refrigerant === 'R-134a' ? R134A_REFERENCE : R1234YF_REFERENCE;
