// The evaporator's air side and the vents.
import { describe, expect, test } from 'vitest';
import { makeNode } from '../../../sim/network/node.ts';
import { Cabin } from '../../../sim/plant/cabin.ts';

const K = 273.15;
const weather = (relativeHumidity: number) => ({ ambientK: 30 + K, barometerPa: 101_325, relativeHumidity });
const evaporator = (metalC: number) => {
  const node = makeNode({ name: 'evaporator', volumeM3: 1e-3, wallJPerK: 2000 }, 30 + K);
  node.wallK = metalC + K;
  return node;
};

describe('the cabin', () => {
  test('gives the evaporator the heat that its coil takes from the air', () => {
    const cabin = new Cabin(weather(0.5));
    const node = evaporator(6);
    cabin.blow(node, 1, 1);
    expect(node.wallUaOutWPerK * (node.surroundingsK - node.wallK)).toBeCloseTo(cabin.heatW, 6);
    expect(cabin.heatW).toBeGreaterThan(2000);
    expect(cabin.condensateKgPerS * 3600).toBeGreaterThan(0.5);
  });

  test('predicts the heat at a metal 1 K colder from the tangent', () => {
    const [here, colder] = [new Cabin(weather(0.5)), new Cabin(weather(0.5))];
    const node = evaporator(6);
    here.blow(node, 1, 1);
    const predicted = node.wallUaOutWPerK * (node.surroundingsK - (5 + K));
    colder.blow(evaporator(5), 1, 1);
    expect(Math.abs(predicted / colder.heatW - 1)).toBeLessThan(0.01);
  });

  test('vents what leaves the coil a little warmer, after the ducts have followed', () => {
    const cabin = new Cabin(weather(0.4));
    for (let s = 0; s < 120; s++) cabin.blow(evaporator(6), 1, 1);
    expect(cabin.ventAirK).toBeGreaterThan(cabin.coilAirK);
    expect(cabin.ventAirK - cabin.coilAirK).toBeLessThan(3);
    expect(cabin.ventAirK).toBeLessThan(14 + K);
  });

  test('half a coil without liquid cools half as well', () => {
    const [whole, half] = [new Cabin(weather(0.4)), new Cabin(weather(0.4))];
    whole.blow(evaporator(6), 1, 1);
    half.blow(evaporator(6), 0.5, 1);
    expect(half.heatW).toBeCloseTo(whole.heatW / 2, 6);
    expect(half.coilAirK).toBeGreaterThan(whole.coilAirK + 5);
  });

  test('never vents air warmer than the surroundings, and comes back to them when the blower rests', () => {
    const cabin = new Cabin(weather(0.4));
    cabin.blow(evaporator(45), 1, 60);
    expect(cabin.ventAirK).toBeLessThanOrEqual(30 + K);
    for (let s = 0; s < 120; s++) cabin.blow(evaporator(6), 1, 1);
    for (let s = 0; s < 180; s++) cabin.rest(1);
    expect(cabin.ventAirK).toBeCloseTo(30 + K, 1);
    expect(cabin.heatW).toBe(0);
  });
});
