import { beforeEach, describe, expect, test } from 'vitest';
import { LabelReader } from '../../src/readings/checklist-label-reader.js';
import { readLongFormHeader, type LongFormColumn, type LongFormHeader } from '../../src/readings/long-form-header.js';
import { dictionary, sheet } from './reshape-support.js';

let labels: LabelReader;
beforeEach(() => {
  labels = new LabelReader(dictionary);
});

function headerOf(drawing: string): LongFormHeader | null {
  const [row, ...below] = sheet(drawing);
  return readLongFormHeader(row!, () => below, labels);
}

/** What a column is beside those of a plain list, by its name and by what it holds. */
function columnOf(name: string, ...cells: readonly string[]): LongFormColumn {
  return headerOf([`unit | test | start | end | ${name}`, ...cells.map((cell) => `101 | released | 105 | 104 | ${cell}`)].join('\n'))!.columns[4]!;
}

const VALUE = { role: 'reading', moment: 'value', circuit: null, unit: null, timeUnit: null };

describe('readLongFormHeader, columns', () => {
  test.each([
    ['Date', { role: 'key', field: 'inspected_on' }],
    ['Inspection no', { role: 'key', field: 'inspection_id' }],
    ['Tank', { role: 'circuit' }],
    ['Unit of pressure', { role: 'measure' }],
    ['Notes', { role: 'field', field: 'notes', unit: null }],
    ['Cut-in (kPa)', { role: 'field', field: 'cut_in', unit: 'kPa' }],
    ['Value', VALUE],
    ['Value (kPa)', { ...VALUE, unit: 'kPa' }],
    ['Primary', { ...VALUE, circuit: 'primary' }],
    ['Secondary start (bar)', { ...VALUE, moment: 'start', circuit: 'secondary', unit: 'bar' }],
    ['Minutes', { ...VALUE, moment: 'time', timeUnit: 'min' }],
    ['Secs', { ...VALUE, moment: 'time', timeUnit: 's' }],
    ['Duration', { ...VALUE, moment: 'time' }],
    ['Time', { ...VALUE, moment: 'time' }],
    ['---', { role: 'blank' }],
    ['Gizmo', { role: 'extra' }],
    ['Brakes applied', { role: 'extra' }],
    ['Build-up 85-100', { role: 'extra' }],
    ['Air', { role: 'extra' }],
  ])('%s: %j', (name, column) => {
    expect(columnOf(name)).toStrictEqual(column);
  });

  test('a second column called unit is the unit of the readings where it holds nothing else', () => {
    expect(columnOf('Unit', 'psi', 'min', '-', 'RPM', 'km', 'mi', 'miles')).toStrictEqual({ role: 'measure' });
    expect(columnOf('Unit', 'psi', 'T-7')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Unit', 'xrpm')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Unit', 'kmx')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Unit')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Notes', 'psi')).toStrictEqual({ role: 'field', field: 'notes', unit: null });
    expect(columnOf('Gizmo', 'psi')).toStrictEqual({ role: 'extra' });
  });

  test('a unit of pressure is one whatever it holds', () => {
    expect(columnOf('Unit of pressure', 'T-7')).toStrictEqual({ role: 'measure' });
  });

  test('a result is a reading where more than half of it are numbers', () => {
    expect(columnOf('Result', '105', '~104', '≈ 7', 'pass')).toStrictEqual(VALUE);
    expect(columnOf('Result', '105', 'pass')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Result', 'pass', 'fail')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Result', 'x7', 'x8', 'x9')).toStrictEqual({ role: 'extra' });
    expect(columnOf('Result')).toStrictEqual({ role: 'extra' });
  });

  test.each(['Min', 'Mins', 'Minute', 'Minutes', 'Sec', 'Secs', 'Second', 'Seconds', 'Duration'])('a time beside %s is a time of day', (clock) => {
    const { columns } = headerOf(`unit | test | start | end | time | ${clock}`)!;
    expect(columns[4]).toStrictEqual({ role: 'extra' });
    expect(columns[5]).toMatchObject({ role: 'reading', moment: 'time' });
  });

  test('what stands twice counts once, and columns of the office keep their own names', () => {
    const { headers, columns } = headerOf('unit | test | start | end | Start | Primary start | Gizmo | GIZMO: | notes | Remarks | gizmo')!;
    expect(columns.map(({ role }) => role)).toStrictEqual(['key', 'test', 'reading', 'reading', 'extra', 'reading', 'extra', 'extra', 'field', 'extra', 'extra']);
    expect(headers).toStrictEqual(['unit', 'test', 'start', 'end', 'Start', 'Primary start', 'Gizmo', 'GIZMO: (2)', 'notes', 'Remarks', 'gizmo (3)']);
  });
});

describe('readLongFormHeader, rows', () => {
  test.each([
    ['a start and an end', 'unit | test | start | end'],
    ['a value', 'unit | test | value'],
    ['a name with a full stop', 'Veh. | unit | test | value'],
    ['blank columns', 'unit | | test | value'],
  ])('heads a list: %s', (_, drawing) => {
    expect(headerOf(drawing)!.row).toBe(1);
  });

  test.each([
    ['no unit', 'date | test | value'],
    ['no test', 'unit | date | value'],
    ['no readings', 'unit | test | date'],
    ['a start alone', 'unit | test | start'],
    ['an end alone', 'unit | test | end'],
    ['a time alone', 'unit | test | minutes'],
    ['a number among the words', 'unit | test | value | 105'],
    ['a text that begins with a number', 'unit | test | value | 105 psi'],
    ['a text that begins with a point', 'unit | test | value | .5'],
    ['nothing', ''],
  ])('heads none: %s', (_, drawing) => {
    expect(headerOf(drawing)).toBeNull();
  });

  test('nor do numbers of a workbook', () => {
    expect(readLongFormHeader({ number: 1, cells: ['unit', 'test', 'value', 105] }, () => [], labels)).toBeNull();
    expect(readLongFormHeader({ number: 1, cells: ['unit', 'test', 'value', { value: 46095, format: 'yyyy-mm-dd' }] }, () => [], labels)).toBeNull();
    expect(readLongFormHeader({ number: 1, cells: ['unit', 'test', 'value', null] }, () => [], labels)?.columns).toHaveLength(4);
  });
});
