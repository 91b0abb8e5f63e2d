import { describe, expect, it } from 'vitest';
import { formatAsFound } from '../../src/readings/as-found-text.js';
import { isStrokeTable, readStrokes, type ReadStrokes } from '../../src/strokes/read-strokes.js';
import { strokeDictionary } from '../../src/strokes/stroke-dictionary.js';
import { NO_ENTRIES, STROKE_FIELDS, type StrokeEntries } from '../../src/strokes/stroke.js';
import type { RawCell, RawTable } from '../../src/util/raw-table.js';

function tableOf(rows: readonly (readonly RawCell[])[], sheet = ''): RawTable {
  return {
    sheet,
    date1904: false,
    rows: (async function* () {
      yield* rows.map((cells, index) => ({ number: index + 1, cells }));
    })(),
  };
}

const read = (rows: readonly (readonly RawCell[])[], options: { readonly dateOrder?: 'dmy' | 'mdy' } = {}): Promise<ReadStrokes> => readStrokes(tableOf(rows), { name: 'strokes.csv', ...options });
const problems = ({ problems: found }: ReadStrokes): unknown[] => found.map(({ code, cell, column, found: text }) => [code, cell, column, text]);
const HEADER = [...STROKE_FIELDS];

/** The entries of one row that is given by its fields. */
async function entriesOf(row: Partial<Record<keyof StrokeEntries, RawCell>>): Promise<{ readonly entries: Partial<StrokeEntries>; readonly problems: unknown[]; readonly asFound: Record<string, string> }> {
  const full = { unit: 'K-1', inspected_on: '2026-03-14', position: '1L', ...row };
  const found = await read([HEADER, HEADER.map((field) => full[field as keyof typeof full] ?? null)]);
  const { entries, asFound } = found.strokes[0]!;
  const changed = Object.fromEntries(Object.entries(entries).filter(([field, value]) => value !== null && !['unit', 'inspected_on'].includes(field) && (field !== 'position' || value !== '1L')));
  return { entries: changed, problems: found.problems.map(({ code, column }) => [code, column]), asFound: Object.fromEntries(asFound) };
}

describe('a table of strokes', () => {
  it('is found by headers as people write them, below a title, with columns of the user in between', async () => {
    const found = await read([
      ['Brake adjustment, March', null, null, null, null, null, null],
      ['Truck no.', 'Date measured', 'Wheel position', 'Weather', 'Chamber', 'Pushrod travel (mm)', '__proto__'],
      ['K-1', '14 Mar 2026', 'LF', 'dry', 'T30L', '57', 'x'],
      [null, null, null, null, null, null, null],
      ['K-1', '14 Mar 2026', 'RF', null, '30 long', 57.15, null],
      ['Total', null, null, null, null, '114.15', null],
    ]);
    expect(found.strokes.map(({ row, entries, extra }) => [row, entries, extra])).toStrictEqual([
      [3, { ...NO_ENTRIES, unit: 'K-1', inspected_on: '2026-03-14', position: '1L', chamber_size: '30', stroke_kind: 'long', stroke: 57, stroke_unit: 'mm' }, ['dry', 'x']],
      [5, { ...NO_ENTRIES, unit: 'K-1', inspected_on: '2026-03-14', position: '1R', chamber_size: '30', stroke_kind: 'long', stroke: 57.15, stroke_unit: 'mm' }, [null, null]],
    ]);
    expect(found.counts).toStrictEqual({ rowsRead: 4, rowsBlank: 1, rowsSetAside: 1, strokes: 2 });
    expect(problems(found)).toStrictEqual([['row_set_aside', 'A6', '', 'Total | 114.15']]);
    expect(found.columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : []))).toStrictEqual(['Weather', '__proto__']);
  });

  it('is told from a table of readings', async () => {
    expect(await isStrokeTable(tableOf([['unit', 'inspected_on', 'position', 'stroke']]))).toBe(true);
    expect(await isStrokeTable(tableOf([['unit', 'inspected_on', 'chamber', 'travel']]))).toBe(true);
    expect(await isStrokeTable(tableOf([['unit', 'inspected_on', 'released_primary_start', 'released_primary_end']]))).toBe(false);
    expect(await isStrokeTable(tableOf([['unit', 'inspected_on', 'stroke']]))).toBe(false);
    expect(await isStrokeTable(tableOf([]))).toBe(false);
    await expect(read([['unit', 'position'], ['K-1', '1L']])).rejects.toMatchObject({ code: 'header_missing', message: expect.stringMatching(/^strokes\.csv: no header row with the columns unit, position and stroke/) as string });
  });

  it('has its dates read in the order that is given, or that the column proves', async () => {
    const rows = [['unit', 'date', 'position', 'stroke'], ['K-1', '4/3/2026', '1L', '1'], ['K-1', '25/3/2026', '1R', '1']];
    expect((await read(rows)).strokes.map(({ entries }) => entries.inspected_on)).toStrictEqual(['2026-03-04', '2026-03-25']);
    const doubtful = await read(rows.slice(0, 2));
    expect([doubtful.strokes[0]!.entries.inspected_on, problems(doubtful)]).toStrictEqual(['4/3/2026', [['date_order_unknown', 'B2', 'inspected_on', '4/3/2026']]]);
    expect((await read(rows.slice(0, 2), { dateOrder: 'mdy' })).strokes[0]!.entries.inspected_on).toBe('2026-04-03');
  });

  it('names what is missing, stands twice, or has no header', async () => {
    const found = await read([
      ['unit', 'inspected_on', 'position', 'Size', 'stroke', 'stroke'],
      ['K-1', '2026-03-14', '1L', '30', '1', '2'],
      ['k-1', '2026-03-14', 'LF', '30', '1.5', null, 'beyond'],
      [null, '2026-03-14', null, '30', '1.5', null],
    ]);
    expect(problems(found)).toStrictEqual([
      ['header_twice', 'F1', 'stroke', 'stroke'],
      ['cells_beyond_header', 'G3', '', 'beyond'],
      ['position_twice', 'C3', 'position', '1L'],
      ['required_blank', 'A4', 'unit', ''],
      ['required_blank', 'C4', 'position', ''],
    ]);
    expect(found.strokes.map(({ extra }) => extra)).toStrictEqual([['2', null], [null, 'beyond'], [null, null]]);
  });
});

describe('a row', () => {
  it.each<[Partial<Record<keyof StrokeEntries, RawCell>>, Partial<StrokeEntries>, Record<string, string>]>([
    [{ chamber_size: '30', stroke: '1 3/4' }, { chamber_size: '30', stroke: 1.75 }, { stroke: '1 3/4' }],
    [{ chamber_size: 30, stroke: 1.75 }, { chamber_size: '30', stroke: 1.75 }, {}],
    [{ chamber_type: '30LS', stroke: '44 mm' }, { chamber_size: '30', stroke_kind: 'long', stroke: 44, stroke_unit: 'mm' }, { chamber_type: '30LS', stroke: '44 mm' }],
    [{ chamber_type: 'clamp', chamber_size: '24L', stroke_kind: 'Long' }, { chamber_type: 'clamp', chamber_size: '24', stroke_kind: 'long 2-1/2' }, { chamber_size: '24L', stroke_kind: 'Long' }],
    [{ chamber_type: 'T24', chamber_size: 24, stroke_kind: 'std' }, { chamber_size: '24', stroke_kind: 'standard' }, { chamber_type: 'T24', stroke_kind: 'std' }],
    // 44 mm in a row of inches: 44 / 25.4 in.
    [{ stroke: '44 mm', stroke_unit: 'inches' }, { stroke: 44 / 25.4, stroke_unit: 'in' }, { stroke: '44 mm', stroke_unit: 'inches' }],
    [{ stroke: '1 3/4"', stroke_unit: 'MM' }, { stroke: 44.45, stroke_unit: 'mm' }, { stroke: '1 3/4"', stroke_unit: 'MM' }],
    [{ stroke: '60 mm', rated_stroke: '3 in' }, { stroke: 60, rated_stroke: 76.2, stroke_unit: 'mm' }, { stroke: '60 mm', rated_stroke: '3 in' }],
    [{ stroke: 'n/a' }, {}, { stroke: 'n/a' }],
    [{ position: 'axle 2 right' }, { position: '2R' }, { position: 'axle 2 right' }],
    [{ position: 3 }, { position: '3' }, {}],
    [{ inspection_id: '=1+1', stroke: 1 }, { inspection_id: '=1+1', stroke: 1 }, {}],
  ])('%j is understood', async (row, entries, asFound) => {
    expect(await entriesOf(row)).toStrictEqual({ entries, problems: [], asFound });
  });

  it.each<[Partial<Record<keyof StrokeEntries, RawCell>>, Partial<StrokeEntries>, unknown]>([
    [{ stroke: 'worn' }, { stroke: 'worn' }, ['not_understood', 'stroke']],
    // 1-3/4 became 3 January 2004 in a spreadsheet (ECMA-376: serial 37989).
    [{ stroke: { value: 37989, format: 'm/d/yy' } }, { stroke: '2004-01-03 (m/d/yy)' }, ['not_understood', 'stroke']],
    [{ stroke: 44 }, { stroke: 44 }, ['implausible', 'stroke']],
    [{ stroke: 1, stroke_unit: 'cm' }, { stroke: 1, stroke_unit: 'cm' }, ['not_understood', 'stroke_unit']],
    [{ position: 'under the bed' }, { position: 'under the bed' }, ['not_understood', 'position']],
    [{ chamber_type: 'disc' }, { chamber_type: 'disc' }, ['not_understood', 'chamber_type']],
    [{ chamber_size: 'big' }, { chamber_size: 'big' }, ['not_understood', 'chamber_size']],
    [{ stroke_kind: 'extra' }, { stroke_kind: 'extra' }, ['not_understood', 'stroke_kind']],
    // Cells that contradict each other are not reconciled: no limit may be looked up from either.
    [{ chamber_type: '30L', chamber_size: '24' }, { chamber_type: '30L', chamber_size: '24', stroke_kind: 'long' }, ['not_understood', 'chamber_type']],
    [{ chamber_type: 'clamp', chamber_size: 'bolt A' }, { chamber_type: 'clamp', chamber_size: 'bolt A' }, ['not_understood', 'chamber_size']],
    [{ chamber_size: '30L', stroke_kind: 'standard' }, { chamber_size: '30L', stroke_kind: 'standard' }, ['not_understood', 'chamber_size']],
    [{ chamber_type: '30L', stroke_kind: 'standard' }, { chamber_type: '30L', chamber_size: '30', stroke_kind: 'standard' }, ['not_understood', 'chamber_type']],
  ])('%j stays as found and is named', async (row, entries, problem) => {
    expect(await entriesOf(row)).toMatchObject({ entries, problems: [problem] });
  });
});

describe('texts as found beside a row', () => {
  const header = ['computed.verdict', ...HEADER, 'as_found'];
  const row = (entries: Partial<StrokeEntries>, kept: Record<string, string>): RawCell[] => [null, ...HEADER.map((field) => ({ unit: 'K-1', inspected_on: '2026-03-14', position: '1L', ...entries })[field] ?? null), formatAsFound(new Map(Object.entries(kept)))];

  it('come back where they say what the row says, and are named where the row was changed', async () => {
    const kept = { chamber_type: '30LS', stroke: '44 mm', position: 'LF' };
    const found = await read([header, row({ chamber_size: '30', stroke_kind: 'long', stroke: 44, stroke_unit: 'mm' }, kept), row({ position: '1R', chamber_size: '24', stroke_kind: 'long', stroke: 45, stroke_unit: 'mm' }, kept)]);
    expect(found.strokes.map(({ asFound }) => Object.fromEntries(asFound))).toStrictEqual([kept, {}]);
    expect(problems(found)).toStrictEqual([['as_found_outdated', 'F3', 'chamber_type', '30LS'], ['as_found_outdated', 'J3', 'stroke', '44 mm'], ['as_found_outdated', 'E3', 'position', 'LF']]);
  });

  it('of a field that there is not are named, whatever it is called', async () => {
    const found = await read([header, row({}, { constructor: 'x' })]);
    expect(problems(found)).toStrictEqual([['as_found_outdated', '', 'constructor', 'x']]);
  });
});

it('every column of the table is a field with its title and help', () => {
  const { fields } = strokeDictionary();
  expect(fields.map(({ name }) => name)).toStrictEqual(HEADER);
  const spellings = fields.flatMap((field) => [field.name.replaceAll('_', ' '), ...new Set(field.spellings.filter((spelling) => spelling !== field.title.toLowerCase()))]);
  expect(spellings.filter((one, index) => spellings.indexOf(one) !== index)).toStrictEqual([]);
});
