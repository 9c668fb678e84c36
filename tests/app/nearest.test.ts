import { expect, test } from 'vitest';
import { nearest, suggestion } from '../../app/cli/nearest.ts';

test('a misspelt word finds the word that was meant', () => {
  expect(nearest('chargeg', ['chargeG', 'volumeL'])).toEqual(['chargeG']);
  expect(nearest('cahrt', ['chart', 'run'])).toEqual(['chart']);
  expect(nearest('prop', ['properties', 'run'])).toEqual(['properties']);
});

test('a word that is near nothing finds nothing, and the whole list is offered', () => {
  expect(nearest('banana', ['chart', 'run'])).toEqual([]);
  expect(suggestion('banana', ['chart', 'run'])).toBe('known: chart, run');
});
