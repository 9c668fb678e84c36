// What the controller says in SI reaches its reader in the units that everything else is shown in.
import { describe, expect, test } from 'vitest';
import { toldIn } from '../../app/told.ts';
import { unitsFor } from '../../app/units.ts';
import { NOTICE_WORDINGS } from '../../controller/notices.ts';

const US = unitsFor('us', 101_325);
const SI = unitsFor('si', 101_325);

describe('US customary units', () => {
  // NIST SP 811 (2008), appendix B: 6894.757 Pa in a psi, 3386.389 Pa in an inch of mercury; 28.3495 g in an ounce.
  test.each([
    ['stands at 250 kPa absolute, and', 'stands at 21.6 psig, and'],
    ['stands at 60 kPa absolute', 'stands at 12.2 inHg vac'],
    ['rose by 21 kPa in 111 s', 'rose by 3.0 psi in 111 s'],
    ['30 kPa ± 5 kPa above', '4.4 psi ± 0.7 psi above'],
    ['at 270 Pa for', 'at 2025 micron for'],
    ['came to 90000 Pa', 'came to 13.05 psi abs'],
    ['by 0.40 Pa/s, about 83 kg a year', 'by 3 micron/s, about 182.98 lb a year'],
    ['145 g of it, 12.50 kg left', '5.11 oz of it, 27.56 lb left'],
    ['at -5 °C, 5 K above', 'at 23.0 °F, 9.0 °F above'],
  ])('%s', (text, told) => expect(toldIn(US, text)).toBe(told));
});

describe('SI', () => {
  test('an absolute pressure becomes a gauge one, as the dials show it; all else stays as it was written', () => {
    expect(toldIn(SI, 'at 250 kPa absolute')).toBe('at 1.49 bar g');
    expect(toldIn(SI, 'at 23 kPa absolute')).toBe('at −0.78 bar g');
    const text = 'rose by 21 kPa at 8 °C, 145 g of 0.60 kg, 270 Pa, 0.4 Pa/s';
    expect(toldIn(SI, text)).toBe(text);
  });
});

test('no figure of any notice is left in SI', () => {
  const wordings = Object.entries(NOTICE_WORDINGS).map(([code, { text, remedy }]) => {
    const filled = `${text} ${remedy}`.replace(/\{\w+\}/g, '7');
    return [code, toldIn(US, filled)] as const;
  });
  expect(wordings.length).toBeGreaterThan(100);
  const left = wordings.filter(([, told]) => /\d (kPa|Pa|bar|g|kg|°C|K)\b/.test(told));
  expect(left).toEqual([]);
});

test('what only looks like a figure stays: R-134a, a seed, seconds', () => {
  const text = 'R-134a 7 goes in 12 s, 5 min, 3 mL, case 9 Kilo';
  expect(toldIn(US, text)).toBe(text);
});
