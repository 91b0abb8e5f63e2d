import { expect } from 'vitest';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import type { ReshapedTable } from '../../src/readings/checklist-reshaped-table.js';
import { readInspections, type InspectionReader } from '../../src/readings/read-inspections.js';
import type { Inspection } from '../../src/readings/inspection.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';
import { plainValue } from '../../src/util/raw-table.js';

export const dictionary = fieldDictionary();

/** Rows from a drawing of a sheet: bars part the cells, the first line is row 1. */
export function sheet(drawing: string, first = 1): RawRow[] {
  const lines = drawing.replace(/^\n/, '').replace(/\n\s*$/, '').split('\n');
  return lines.map((line, index) => ({ number: first + index, cells: line.split('|').map((cell) => cell.trim()) }));
}

/** Each row as an object, without its blank cells. */
export function records({ header, rows }: ReshapedTable): Record<string, RawCell>[] {
  return rows.map(({ cells }) => Object.fromEntries(cells.flatMap((cell, index) => (cell === null ? [] : [[header[index]!, cell] as const]))));
}

/** What was found in the unplaced cells. */
export function unplacedTexts({ unplaced }: ReshapedTable): string[] {
  return unplaced.map(({ found }) => found);
}

/** Each non-blank cell stands in a row of the table, or helped to place another, or is unplaced; and in one of them only. */
export function expectEveryCellOnce(table: ReshapedTable, rows: readonly RawRow[], headerRow: number): void {
  const key = ({ row, column }: { row: number; column: number }): string => `${row}:${column}`;
  const output = new Set(table.rows.flatMap(({ origins }) => (origins ?? []).flatMap((origin) => (origin ? [key(origin)] : []))));
  const unplaced = table.unplaced.map(key);
  const used = new Set(table.used.map(key));
  expect(new Set(unplaced).size).toBe(unplaced.length);
  const isBlank = (cell: RawCell): boolean => plainValue(cell) === null || String(plainValue(cell)).trim() === '';
  for (const { number, cells } of rows) {
    if (number <= headerRow) continue;
    for (const [column, cell] of cells.entries()) {
      const at = key({ row: number, column });
      const places = [output.has(at), used.has(at), unplaced.includes(at)].filter(Boolean).length;
      expect(places, `${at} ${JSON.stringify(cell)}`).toBe(isBlank(cell) ? 0 : 1);
    }
  }
  for (const { cells, origins } of table.rows) {
    expect(cells).toHaveLength(table.header.length);
    expect(origins).toHaveLength(table.header.length);
  }
}

/** Reads a reshaped table as the readings table that it is. */
export async function readReshaped(table: ReshapedTable): Promise<{ readonly inspections: readonly Inspection[]; readonly reader: InspectionReader; readonly value: (index: number, field: string) => unknown }> {
  const rows = (async function* () {
    yield { number: 0, cells: table.header };
    yield* table.rows;
  })();
  const reader = await readInspections({ sheet: '', date1904: false, rows }, { dictionary, name: 'test' });
  const inspections: Inspection[] = [];
  for await (const inspection of reader.inspections) inspections.push(inspection);
  return { inspections, reader, value: (index, field) => inspections[index]!.values[dictionary.position.get(field)!] ?? null };
}
