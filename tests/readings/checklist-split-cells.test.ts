import { describe, expect, test } from 'vitest';
import { splitCells } from '../../src/readings/checklist-split-cells.js';
import type { RawCell } from '../../src/util/raw-table.js';
import { dictionary } from './reshape-support.js';

function split(name: string, ...cells: readonly RawCell[]): unknown {
  const { value, unitCells, units, remarks } = splitCells(cells.map((cell, column) => ({ cell, origin: { row: 1, column } })), dictionary.fields[dictionary.position.get(name)!]!);
  return [value.cell, unitCells.map(({ cell }) => cell), units.unit ?? units.timeUnit, remarks.map(({ cell }) => cell)];
}

describe('splitCells', () => {
  test('one cell is the value, even a unit', () => {
    expect(split('cut_in', 'kPa')).toStrictEqual(['kPa', [], null, []]);
  });

  test('the value and its unit, whatever the order, and remarks behind them', () => {
    expect(split('cut_in', '720', 'kPa', 'slow', 'twice')).toStrictEqual(['720', ['kPa'], 'kPa', ['slow', 'twice']]);
    expect(split('cut_in', 'kPa', '720')).toStrictEqual(['720', ['kPa'], 'kPa', []]);
    expect(split('released_time', '1', 'min', 'cold')).toStrictEqual(['1', ['min'], 'min', ['cold']]);
    expect(split('odometer', '12345', 'KM')).toStrictEqual(['12345', ['KM'], null, []]);
  });

  test('a unit that is not one of the first two cells is a remark', () => {
    expect(split('cut_in', '720', 'slow', 'kPa')).toStrictEqual(['720', [], null, ['slow', 'kPa']]);
  });

  test('without a unit all that follows is a remark', () => {
    expect(split('cut_in', '720', 'min')).toStrictEqual(['720', [], null, ['min']]);
    expect(split('unit', '101', 'km')).toStrictEqual(['101', [], null, ['km']]);
    expect(split('released_time', '60', 'psi')).toStrictEqual(['60', [], null, ['psi']]);
  });

  test.each(['mm:ss', 'm:ss', 'm:s', 'min:sec', 'MM:SS'])('%s is how a time is written', (form) => {
    expect(split('released_time', '4:10', form)).toStrictEqual(['4:10', [form], null, []]);
  });

  test.each(['hmm:ss', 'mm:ssx'])('%s is not', (form) => {
    expect(split('released_time', '4:10', form)).toStrictEqual(['4:10', [], null, [form]]);
  });
});
