// The tank: heater, room for the liquid to grow, and air that must be let off.
import { describe, expect, test } from 'vitest';
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { TankService } from '../../../sim/plant/tank.ts';
import { boundary, equilibriumOf, isothermalNode, ROOM_K } from '../network/kit.ts';
import { MachineRig } from './machine-rig.ts';

const equilibrium = equilibriumOf('R-134a');
const TANK_M3 = 21.6e-3;

const within = (obtained: number, expected: number, share: number) =>
  expect(Math.abs(obtained / expected - 1), `${obtained} against ${expected}`).toBeLessThan(share);

describe('the heater', () => {
  test('200 W for 18 minutes take 10 kg in 21.6 L and its steel from 20 to 30 °C, +1.985 bar (heat balance: 215.8 kJ)', () => {
    const rig = new MachineRig({ contentKg: 10 });
    const { tank } = rig.machine;
    tank.wallUaOutWPerK = 0;
    const beforePa = tank.pressurePa;
    rig.hold(['tankHeater'], 18.0 * 60);
    const takenJ = tank.takenHeatJ;
    rig.hold([], 300);
    within(takenJ, 215_800, 0.02);
    within(tank.temperatureK - 293.15, 10, 0.02);
    within(tank.pressurePa - beforePa, 198_500, 0.02);
  });

  test('its thermostat holds a small content near 50 °C, far below where it would go without', () => {
    const rig = new MachineRig({ contentKg: 3, ambientC: 30 });
    let hottestK = 0;
    rig.hold(['tankHeater'], 3 * 3600, () => {
      hottestK = Math.max(hottestK, rig.machine.tank.wallK);
    });
    expect(hottestK).toBeGreaterThan(322);
    expect(hottestK).toBeLessThan(324.5);
    expect(rig.services.tank.heaterFuseOpen).toBe(false);
  });

  test('once its fuse has opened it does not heat again, however cold the tank becomes', () => {
    const rig = new MachineRig();
    rig.machine.tank.wallK = 345;
    rig.hold(['tankHeater'], 2);
    expect(rig.services.tank.heaterFuseOpen).toBe(true);
    rig.hold([], 3600);
    rig.hold(['tankHeater'], 10);
    expect(rig.machine.tank.wallHeatW).toBe(0);
  });
});

describe('liquid that warms in a full tank', () => {
  const full = (celsius: number): Node => {
    const node = makeNode({ name: 'tank', volumeM3: TANK_M3 }, ROOM_K);
    const filled = equilibrium.saturationAt(21 + 273.15);
    const refrigerantKg = TANK_M3 * (0.95 * filled.liquidDensityKgPerM3 + 0.05 * filled.vapourDensityKgPerM3);
    equilibrium.fill(node, celsius + 273.15, { refrigerantKg });
    return node;
  };

  test('95 % full at 21 °C it has no room left at 36.3 °C (equation of state)', () => {
    expect(full(35.3).liquidFraction).toBeLessThan(1);
    expect(full(37.3).liquidFraction).toBe(1);
  });

  test('and then rises by some 5.5 bar with each kelvin', () => {
    within(full(39).pressurePa - full(38).pressurePa, 550_000, 0.06);
  });
});

/** 10 kg and 5 g of air, held at 20 °C. */
function airyTank() {
  const tank = isothermalNode('tank', TANK_M3);
  equilibrium.fill(tank, ROOM_K, { refrigerantKg: 10, airKg: 0.005 });
  const outside = boundary(equilibrium, 101_325);
  const network = new Network(equilibrium, [tank], []);
  return { tank, network, service: new TankService(tank, [], outside, network.context) };
}

describe('air in the tank', () => {
  test('5 g over 10 kg add 30.6 kPa (ideal gas in 13.75 L of vapour)', () => {
    const { tank } = airyTank();
    within(tank.pressurePa - tank.saturationPa, 30_600, 0.01);
  });

  test('well mixed, letting off 63 % of it costs 382 g of refrigerant: the vapour volume once over', () => {
    const { tank, network, service } = airyTank();
    service.mixing = 1;
    for (let i = 0; tank.airKg > 0.005 / Math.E && i < 20_000; i++) {
      service.purge(0.1);
      network.equilibrium.settle(tank, 0.1);
    }
    within(service.purgedKg, 0.382, 0.02);
  });

  test('well mixed at 34 kPa of air each gram of it takes 69 g along: the ratio of the two densities', () => {
    const { tank, service } = airyTank();
    equilibrium.fill(tank, ROOM_K, { refrigerantKg: 10, airKg: (0.005 * 34) / 30.6 });
    service.mixing = 1;
    service.purge(0.1);
    const vapour = equilibrium.saturationAt(ROOM_K).vapourDensityKgPerM3;
    within(service.purgedKg / service.purgedAirKg, vapour / (34_000 / (287.05 * ROOM_K)), 0.02);
    within(service.purgedKg / service.purgedAirKg, 69, 0.02);
  });

  test('after a long rest the same gram costs about an eighth, and nobody vents more air than there is', () => {
    const { tank, service } = airyTank();
    service.mixing = 1;
    service.purge(0.1);
    const mixed = service.purgedKg / service.purgedAirKg;
    const rested = airyTank().service;
    rested.purge(0.1);
    expect(mixed / (rested.purgedKg / rested.purgedAirKg)).toBeGreaterThan(6);
    expect(mixed / (rested.purgedKg / rested.purgedAirKg)).toBeLessThan(13);
    for (let i = 0; i < 20_000; i++) service.purge(1);
    expect(tank.airKg).toBeGreaterThanOrEqual(0);
  });

  test('a return of liquid mixes the vapour within minutes; the layers come back within hours', () => {
    const rig = new MachineRig({ airKg: 0.005 }).connect();
    expect(rig.services.tank.mixing).toBe(0);
    rig.hold(['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'], 180);
    const stirred = rig.services.tank.mixing;
    expect(stirred).toBeGreaterThan(0.8);
    rig.hold([], 3 * 3600);
    within(rig.services.tank.mixing, stirred / Math.E, 0.02);
  });

  test('through the bench the purge valve lets off refrigerant and air, and the account knows it', () => {
    const rig = new MachineRig({ airKg: 0.005 });
    rig.hold(['airPurgeValve'], 5).hold([], 2);
    const truth = rig.plant.truth();
    expect(truth.purgedKg).toBeGreaterThan(0.001);
    expect(truth.purgedKg).toBeLessThan(0.01);
    expect(truth.tankAirKg).toBeLessThan(0.005);
    expect(Math.abs(truth.massDriftKg)).toBeLessThan(1e-9);
  });
});
