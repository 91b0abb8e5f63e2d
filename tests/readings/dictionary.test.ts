import { describe, expect, it } from 'vitest';
import { baseName, fieldDictionary, fieldPosition } from '../../src/readings/dictionary.js';
import type { Field } from '../../src/readings/field.js';

const dictionary = fieldDictionary();
const field = (name: string): Field => dictionary.fields[fieldPosition(dictionary, name)]!;

describe('the columns of the readings table', () => {
  const own: Field = { name: 'bay', group: 'own', kind: 'text', title: 'Bay', help: 'x', spellings: [], width: 8 };

  it('have a group for those that a limit set adds, where theirs is none of the built-in ones', () => {
    const shipped = fieldDictionary().groups;
    const last = (added: Field): unknown => fieldDictionary([added]).groups.slice(shipped.length);
    expect(last(own)).toStrictEqual([{ group: 'added', title: 'Added columns' }]);
    expect(last({ ...own, group: shipped[0]!.group })).toStrictEqual([]);
    expect(fieldDictionary([own]).position.get('bay')).toBe(fieldDictionary().standardCount);
    expect(fieldDictionary()).toBe(fieldDictionary([]));
  });

  it('have no name twice', () => {
    expect(() => fieldDictionary([{ ...own, name: 'cut_in' }])).toThrow(expect.objectContaining({ code: 'limit_set_invalid', message: expect.stringContaining('columns, cut_in') as string }) as Error);
  });

  it('stand in the order of the file, each half-width behind its reading, and optional ones behind all others in a row', () => {
    const { fields, sheetOrder, standardCount, position } = fieldDictionary();
    expect([...sheetOrder].sort((a, b) => a - b)).toStrictEqual(fields.map((_, index) => index));
    const cutIn = sheetOrder.indexOf(position.get('cut_in')!);
    expect(fields[sheetOrder[cutIn + 1]!]).toStrictEqual({ name: 'cut_in_half_width', group: field('cut_in').group, kind: 'pressure', title: 'Cut-in, half-width', help: expect.stringContaining('range') as string, spellings: [], width: 9 });
    expect(fields.slice(0, standardCount).filter(({ when_used }) => when_used)).toStrictEqual([]);
    const spread = fields.filter((one) => one.spread).map(({ name }) => `${name}_half_width`);
    expect(fields.slice(standardCount).filter(({ when_used }) => !when_used).map(({ name }) => name).sort()).toStrictEqual(spread.sort());
  });

  it('leave an optional one out where a limit set adds one of its name', () => {
    const optional = fieldDictionary().fields.find(({ when_used }) => when_used)!;
    const { fields, standardCount, position } = fieldDictionary([{ ...own, name: optional.name }]);
    expect(fields.filter(({ name }) => name === optional.name)).toStrictEqual([{ ...own, name: optional.name }]);
    expect(position.get(optional.name)).toBe(standardCount - 1);
  });

  it('are found by name, and a half-width belongs to its reading', () => {
    expect([baseName('cut_in_half_width'), baseName('cut_in'), baseName('_half_width_cut')]).toStrictEqual(['cut_in', 'cut_in', '_half_width_cut']);
    expect(() => fieldPosition(dictionary, 'cut_un')).toThrow(expect.objectContaining({ code: 'defect', message: expect.stringContaining('cut_un') as string }) as Error);
  });
});
