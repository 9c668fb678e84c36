import { describe, expect, it } from 'vitest';
import { InputError } from '../../../app/cli/command.ts';
import { properties } from '../../../app/cli/properties.ts';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { SaturationLine } from '../../../sim/fluids/saturation.ts';
import { randomStates } from '../../sim/fluids/states.ts';
import { fakeTerminal } from '../fake-terminal.ts';

// biome-ignore lint/suspicious/noExplicitAny: answers of any shape are compared field by field
type Answer = any;

async function ask(args: string[], input: (string | object)[]): Promise<Answer[]> {
  const lines = input.map((line) => (typeof line === 'string' ? line : JSON.stringify(line)));
  const terminal = fakeTerminal({ input: lines });
  expect(await properties.run(args, terminal)).toBe(0);
  expect(terminal.errors()).toBe('');
  return terminal
    .output()
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line));
}

describe.each([[[]], [['--exact']]])('coldbench properties with %j', (flags) => {
  // Saturation at 20 °C computed with CoolProp 8 from the same equations of state.
  it.each([
    ['R-134a', 571_710, 1225.3, 27.78, 182.3],
    ['R-1234yf', 591_840, 1109.7, 32.77, 149.4],
  ])(
    'answers saturation of %s at 20 °C',
    async (name, pressurePa, liquidDensity, vapourDensity, latentKJ) => {
      const [answer] = await ask([name, ...flags], [{ temperatureK: 293.15 }]);
      expect(answer.pressurePa / pressurePa).toBeCloseTo(1, 4);
      expect(answer.liquid.densityKgPerM3).toBeCloseTo(liquidDensity, 1);
      expect(answer.vapour.densityKgPerM3).toBeCloseTo(vapourDensity, 2);
      const latent = answer.vapour.enthalpyJPerKg - answer.liquid.enthalpyJPerKg;
      expect(latent / 1000).toBeCloseTo(latentKJ, 1);
      expect(answer.vapour.entropyJPerKgK - answer.liquid.entropyJPerKgK).toBeCloseTo(latent / 293.15, 2);
      const flowWork = answer.pressurePa / answer.vapour.densityKgPerM3;
      expect(answer.vapour.enthalpyJPerKg - answer.vapour.internalEnergyJPerKg).toBeCloseTo(flowWork, 2);
    },
  );

  it('gives a quality inside the dome and null outside it, and the word for the phase', async () => {
    const answers = await ask(
      ['r134a', ...flags],
      [
        { densityKgPerM3: 100, internalEnergyJPerKg: 310_000 },
        { densityKgPerM3: 1e-5, internalEnergyJPerKg: 410_000 },
        { densityKgPerM3: 1300, internalEnergyJPerKg: 220_000 },
        { densityKgPerM3: 512, internalEnergyJPerKg: 420_000 },
      ],
    );
    expect(answers.map(({ phase }) => phase)).toEqual(['two-phase', 'vapour', 'liquid', 'supercritical']);
    expect(answers[0].quality).toBeGreaterThan(0);
    expect(answers[0].quality).toBeLessThan(1);
    expect(answers.slice(1).map(({ quality }) => quality)).toEqual([null, null, null]);
  });

  it('answers a bad line with an error that names the remedy, and goes on', async () => {
    const answers = await ask(
      ['R-134a', ...flags],
      [
        'twenty degrees',
        '',
        '[293.15]',
        { temperatureC: 20 },
        { densityKgPerM3: 5 },
        { temperatureK: 293.15, densityKgPerM3: 5, internalEnergyJPerKg: 4e5 },
        { temperatureK: '293.15' },
        '{"temperatureK": 1e999}',
        { temperatureK: 400 },
        { densityKgPerM3: 0, internalEnergyJPerKg: 4e5 },
        { densityKgPerM3: 5, internalEnergyJPerKg: 4e6 },
        { densityKgPerM3: 9999, internalEnergyJPerKg: 4e5 },
        { temperatureK: 293.15 },
      ],
    );
    const errors = answers.map(({ error }) => error);
    expect(errors).toEqual([
      expect.stringContaining('not JSON; give {"temperatureK": T}'),
      expect.stringContaining('not a JSON object'),
      expect.stringContaining('did you mean temperatureK?'),
      expect.stringContaining('give {"temperatureK": T} or'),
      expect.stringContaining('give {"temperatureK": T} or'),
      expect.stringContaining('temperatureK must be a finite number'),
      expect.stringContaining('temperatureK must be a finite number'),
      expect.stringContaining('no saturation at 400 K'),
      expect.stringContaining('densityKgPerM3 must be above 0'),
      expect.stringContaining('4000000 J/kg'),
      expect.stringContaining('9999 kg/m³'),
      undefined,
    ]);
  });
});

describe('coldbench properties', () => {
  it.each(['R-134a', 'R-1234yf'])(
    'agrees with its own exact answers for %s at a thousand states',
    async (name) => {
      const fluid = findFluid(name)!;
      const range = { temperatureK: [223.15, 368.15], densityKgPerM3: [0.01, 1300] } as const;
      const states = [...randomStates(fluid, new SaturationLine(fluid), range, 1000, 31)];
      const lines = states.map(({ densityKgPerM3, internalEnergyJPerKg }) => ({
        densityKgPerM3,
        internalEnergyJPerKg,
      }));
      const [fast, exact] = await Promise.all([ask([name], lines), ask([name, '--exact'], lines)]);
      expect(fast).toHaveLength(states.length);
      for (const [i, answer] of fast.entries()) {
        const reference = exact![i];
        expect(Math.abs(answer.temperatureK - reference.temperatureK)).toBeLessThan(1e-3);
        expect(Math.abs(answer.pressurePa - reference.pressurePa)).toBeLessThan(
          1e-5 * reference.pressurePa + 20,
        );
        expect(Math.abs((answer.quality ?? 0) - (reference.quality ?? 0))).toBeLessThan(1e-5);
        expect(answer.phase, JSON.stringify(lines[i])).toBe(reference.phase);
      }
    },
  );

  it.each([
    [['R-22'], 'R-134a, R-1234yf'],
    [[], 'R-134a, R-1234yf'],
    [['R-134a', '--exakt'], '--exact'],
    [['R-134a', 'R-1234yf'], 'one argument too many'],
  ])('refuses the arguments %j in one line', async (args, remedy) => {
    const refused = properties.run(args, fakeTerminal());
    await expect(refused).rejects.toThrow(InputError);
    await expect(properties.run(args, fakeTerminal())).rejects.toThrow(remedy);
  });

  it('says in its help what quality is outside the dome', () => {
    expect(properties.help).toMatch(/quality .* null in any other phase/);
  });
});
