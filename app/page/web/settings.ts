// How this device shows things: units, colours, size. Kept on the device.
import { useState } from 'preact/hooks';
import { type UnitSystem, type Units, unitsFor } from '../../units.ts';
import { changed } from './store.ts';

export const UNIT_CHOICES = ['si', 'us', 'mixed'] as const;
export const THEMES = ['system', 'light', 'dark'] as const;
export const SIZES = ['normal', 'large', 'largest'] as const;

export type Settings = {
  readonly units: UnitSystem | 'mixed';
  readonly theme: (typeof THEMES)[number];
  readonly size: (typeof SIZES)[number];
};

const KEY = 'coldbench-display';
const DEFAULTS: Settings = { units: 'si', theme: 'system', size: 'normal' };

function stored(): Settings {
  try {
    return { ...DEFAULTS, ...JSON.parse(localStorage.getItem(KEY) ?? '{}') };
  } catch {
    return DEFAULTS;
  }
}

let settings = stored();

function show(): void {
  const { dataset } = document.documentElement;
  const dark = matchMedia('(prefers-color-scheme: dark)').matches;
  dataset.theme = settings.theme === 'system' ? (dark ? 'dark' : 'light') : settings.theme;
  dataset.size = settings.size;
}

export function beginSettings(): void {
  show();
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', show);
}

export function useSettings(): readonly [Settings, (change: Partial<Settings>) => void] {
  const [, draw] = useState(0);
  return [
    settings,
    (change) => {
      settings = { ...settings, ...change };
      try {
        localStorage.setItem(KEY, JSON.stringify(settings));
      } catch {
        // A device that keeps nothing shows what was chosen for as long as the page is open.
      }
      show();
      draw((count) => count + 1);
      changed();
    },
  ];
}

export const isMetricPressure = (): boolean => settings.units === 'si';
export const theme = (): string => document.documentElement.dataset.theme ?? 'light';

/** Mixed is what many workshops have: gauges in psi, scale and thermometer metric. */
export function unitsNow(ambientPa: number): Units {
  if (settings.units !== 'mixed') return unitsFor(settings.units, ambientPa);
  const { temperature, temperatureDifference, charge, content, flow } = unitsFor('si', ambientPa);
  return { ...unitsFor('us', ambientPa), temperature, temperatureDifference, charge, content, flow };
}

export const isFahrenheit = (): boolean => settings.units === 'us';
export const isOunces = (): boolean => settings.units === 'us';
/** Reports are in one system or the other. */
export const reportUnits = (): UnitSystem => (settings.units === 'us' ? 'us' : 'si');
