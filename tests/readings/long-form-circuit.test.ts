import { describe, expect, test } from 'vitest';
import { parseCircuit } from '../../src/readings/long-form-circuit.js';

describe('parseCircuit', () => {
  test.each(['P', 'Pri. tank', 'primary circuits', 'First circuit', 'No. 1', 'air tanks 1', 'I'])('%s is the primary', (text) => {
    expect(parseCircuit(text)).toBe('primary');
  });

  test.each(['s', 'Secondary system', 'the second gauge', 'No. 2 reservoir', 'brake side 2', 'sec. needle', 'brakes, secondary', 'II'])('%s is the secondary', (text) => {
    expect(parseCircuit(text)).toBe('secondary');
  });

  test.each(['both needles', 'P/S', '1 and 2', 'Primary and secondary tanks', 'pri & sec reservoirs'])('%s are both', (text) => {
    expect(parseCircuit(text)).toBe('both');
  });

  test.each(['', 'front', 'rear', 'wet', 'third', 'tank', 'piano primary', 'nod primary', 'primarysecondary'])('"%s" is none', (text) => {
    expect(parseCircuit(text)).toBeNull();
  });
});
