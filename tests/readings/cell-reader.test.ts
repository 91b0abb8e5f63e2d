import { describe, expect, it } from 'vitest';
import { CellReader } from '../../src/readings/cell-reader.js';
import type { EntryContext } from '../../src/readings/read-entry.js';
import type { RawCell } from '../../src/util/raw-table.js';

const CONTEXT: EntryContext = { unit: 'psi', columnUnit: null, dateOrder: null, date1904: false };

/** A reader of cells, and the cells that it really read. */
function counting(): { readonly reader: CellReader; readonly read: RawCell[] } {
  const read: RawCell[] = [];
  const reader = new CellReader((cell, context) => {
    read.push(cell);
    return { read: { entry: `${String(cell)} ${context.unit}`, halfWidth: null, trouble: null }, found: null };
  });
  return { reader, read };
}

describe('the cells of a column', () => {
  it('are read once for each short text and context, and anew for numbers and long texts', () => {
    const { reader, read } = counting();
    const other = { ...CONTEXT, unit: 'kPa' as const };
    const long = 'x'.repeat(21);
    const entries = [['104', CONTEXT], ['104', CONTEXT], ['104', other], ['104', CONTEXT], [104, CONTEXT], [104, CONTEXT], ['x'.repeat(20), CONTEXT], ['x'.repeat(20), CONTEXT], [long, CONTEXT], [long, CONTEXT]] as const;
    expect(entries.map(([cell, context]) => reader.read(cell, context).read.entry)).toStrictEqual(entries.map(([cell, context]) => `${cell} ${context.unit}`));
    expect(read).toStrictEqual(['104', '104', 104, 104, 'x'.repeat(20), long, long]);
  });

  it('are kept up to 2,000 texts, so that a column of names takes no room', () => {
    const { reader, read } = counting();
    for (const _ of [1, 2]) for (let index = 0; index < 2001; index++) reader.read(`${index}`, CONTEXT);
    expect(read).toHaveLength(2002);
    expect(read.at(-1)).toBe('2000');
  });
});
