import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ExcelJS from 'exceljs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { comparisonSchema } from '../../src/workbook/comparison-json.js';
import { runInside } from './run-inside.js';

const FIRST = ['inspection_id,inspected_on,unit,site,cut_in,cut_out,notes', 'I-1,2026-03-01,K-101,North,100,120,', 'I-2,2026-03-02,K-102,North,98,118,', 'I-3,2026-03-03,K-103,South,101,119,'].join('\n');
const SECOND = ['inspection_id,inspected_on,unit,site,cut_in,cut_out,notes', 'I-4,2026-03-04,K-104,South,99,121,', 'I-2,2026-03-02,K-102,North,89,118,"\u001b[31mred"', 'I-1,2026-03-01,K-101,north,100,120,'].join('\n');

let folder = '';
const at = (name: string): string => join(folder, name);
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'treadlebook-compare-'));
  const files: Readonly<Record<string, string>> = {
    'first.csv': FIRST,
    'second.csv': SECOND,
    'turned.csv': [FIRST.split('\n')[0]!, ...FIRST.split('\n').slice(1).reverse()].join('\n'),
    'empty.csv': '',
    'no-unit.csv': 'colour\nred\n',
    'hostile.csv': 'unit,inspected_on,__proto__,constructor,toString\nK-1,2026-03-01,a,b,c\n',
    'hostile-other.csv': 'unit,inspected_on,toString,__proto__,constructor\nK-1,2026-03-01,x,y,z\n',
    'broken.json': '[{',
    'many-a.csv': ['unit,inspected_on,cut_in', ...Array.from({ length: 60 }, (_, index) => `K-${index},2026-03-01,100`)].join('\n'),
    'many-b.csv': ['unit,inspected_on,cut_in', ...Array.from({ length: 60 }, (_, index) => `K-${index},2026-03-01,101`)].join('\n'),
  };
  for (const [name, text] of Object.entries(files)) writeFileSync(at(name), text);
  const book = new ExcelJS.Workbook();
  for (const name of ['March', 'April']) {
    const sheet = book.addWorksheet(name);
    for (const line of FIRST.split('\n')) sheet.addRow(line.split(','));
  }
  await book.xlsx.writeFile(at('book.xlsx'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('treadlebook compare', () => {
  it('prints the differences in columns, the summary last, and exits with 1', async () => {
    const { code, out, err } = await runInside(['compare', at('first.csv'), at('second.csv')]);
    expect(out.split('\n')).toStrictEqual([
      'Cells that differ',
      '  unit   date        column  in A  A says  in B  B says   kind',
      '  K-101  2026-03-01  site    D2    North   D4    north    spelling',
      '  K-102  2026-03-02  cut_in  E3    98      E3    89       value',
      '  K-102  2026-03-02  notes   G3    -       G3    [31mred  blank',
      '',
      'In A only',
      '  row  unit   date        inspection',
      '  4    K-103  2026-03-03  I-3',
      '',
      'In B only',
      '  row  unit   date        inspection',
      '  2    K-104  2026-03-04  I-4',
      '',
      'Worst keyed columns',
      '  column  differences  agree',
      '  notes   1            0.00 %',
      '  site    1            50.00 %',
      '  cut_in  1            50.00 %',
      '',
      'A: first.csv, 3 inspections. B: second.csv, 3 inspections. In both: 2.',
      '13 cells compared, 10 agree.',
      '3 cells differ; 1 inspection in A only, 1 in B only. 76.92 % of the cells agree.',
      '',
    ]);
    expect([code, err]).toStrictEqual([1, '']);
  });

  it('exits with 0 when nothing differs but the order of the rows', async () => {
    const { code, out } = await runInside(['compare', at('first.csv'), at('turned.csv')]);
    expect(code).toBe(0);
    expect(out).toBe('A: first.csv, 3 inspections. B: turned.csv, 3 inspections. In both: 3.\n18 cells compared, 18 agree.\nThe two keyings are the same. 100.00 % of the cells agree.\n');
  });

  it('prints one JSON object with --json, and exits with 1 all the same', async () => {
    const { code, out, err } = await runInside(['compare', at('first.csv'), at('second.csv'), '--json']);
    const json = comparisonSchema.parse(JSON.parse(out));
    expect([code, err, json.matched, json.differences.length, json.missing.length, json.extra.length]).toStrictEqual([1, '', 2, 3, 1, 1]);
    expect((await runInside(['compare', at('first.csv'), at('first.csv'), '--json'])).code).toBe(0);
  });

  it.each(['xlsx', 'csv', 'json'])('writes .%s, keeps what exists, and replaces it when told', async (ending) => {
    const output = at(`out.${ending}`);
    const first = await runInside(['compare', at('first.csv'), at('second.csv'), '-o', output]);
    expect([first.code, first.err]).toStrictEqual([1, `Wrote ${output}.\n`]);
    const bytes = readFileSync(output);
    const again = await runInside(['compare', at('first.csv'), at('second.csv'), '-o', output]);
    expect(again.code).toBe(4);
    expect(again.err).toMatch(/^treadlebook: .*out\.\w+: the file exists already and was kept; .*--force/);
    expect((await runInside(['compare', at('first.csv'), at('second.csv'), '-o', output, '--force', '--quiet'])).code).toBe(1);
    expect(readFileSync(output).equals(bytes)).toBe(true);
  });

  it('says nothing under --quiet', async () => {
    expect(await runInside(['compare', at('first.csv'), at('second.csv'), '--quiet'])).toStrictEqual({ code: 1, out: '', err: '' });
  });

  it('cuts long tables and says where all of it is', async () => {
    const { out } = await runInside(['compare', at('many-a.csv'), at('many-b.csv')]);
    expect(out).toContain('\n  and 10 more; -o differences.csv lists them all\n');
    expect(out.split('\n').filter((line) => line.startsWith('  K-'))).toHaveLength(50);
    const written = await runInside(['compare', at('many-a.csv'), at('many-b.csv'), '-o', at('many.csv')]);
    expect(written.out).toContain('\n  and 10 more\n');
    expect(readFileSync(at('many.csv'), 'utf8').trimEnd().split('\r\n')).toHaveLength(61);
  });

  it('takes hostile column names as names', async () => {
    const { code, out, err } = await runInside(['compare', at('hostile.csv'), at('hostile-other.csv')]);
    expect([code, err]).toStrictEqual([1, '']);
    for (const line of ['  K-1   2026-03-01  __proto__    C2    a       D2    y       value', '  K-1   2026-03-01  constructor  D2    b       E2    z       value', '  K-1   2026-03-01  toString     E2    c       C2    x       value']) expect(out).toContain(line);
  });

  it('reads the sheet that is named, and says which sheets it left out', async () => {
    const named = await runInside(['compare', at('book.xlsx'), at('first.csv'), '--sheet', 'April']);
    expect([named.code, named.err]).toStrictEqual([0, '']);
    const first = await runInside(['compare', at('book.xlsx'), at('first.csv')]);
    expect([first.code, first.err]).toStrictEqual([0, 'book.xlsx: sheet March was compared, not April; --sheet names another.\n']);
  });

  it('has help that names its options', async () => {
    const { code, out } = await runInside(['compare', '--help']);
    expect(code).toBe(0);
    for (const option of ['--output', '--json', '--date-order', '--sheet', '--force', '--quiet']) expect(out).toContain(option);
  });

  it.each([
    ['no file', () => ['compare'], 2, /^treadlebook: compare: .*missing.*--help/],
    ['one file', () => ['compare', at('first.csv')], 2, /^treadlebook: compare: .*missing.*--help/],
    ['three files', () => ['compare', at('first.csv'), at('first.csv'), 'third.csv'], 2, /a word too many: "third.csv"/],
    ['standard input twice', () => ['compare', '-', '-'], 2, /standard input cannot be both/],
    ['an unknown option', () => ['compare', at('first.csv'), at('first.csv'), '--jsn'], 2, /--jsn is unknown; did you mean --json\?/],
    ['an unknown ending', () => ['compare', at('first.csv'), at('first.csv'), '-o', 'out.docx'], 2, /end it in \.xlsx, \.csv or \.json/],
    ['an unknown date order', () => ['compare', at('first.csv'), at('first.csv'), '--date-order', 'ymd'], 2, /write dmy .* or mdy/],
    ['a file that is not there', () => ['compare', at('first.csv'), at('absent.csv')], 3, /absent\.csv: there is no such file/],
    ['an empty file', () => ['compare', at('empty.csv'), at('first.csv')], 3, /empty\.csv/],
    ['a file without a unit', () => ['compare', at('first.csv'), at('no-unit.csv')], 3, /no-unit\.csv/],
    ['broken JSON', () => ['compare', at('first.csv'), at('broken.json')], 3, /broken\.json: it is not JSON/],
    ['an unknown sheet', () => ['compare', at('book.xlsx'), at('first.csv'), '--sheet', 'Apil'], 3, /did you mean April\?/],
    ['a folder that is not there', () => ['compare', at('first.csv'), at('first.csv'), '-o', at('absent/out.csv')], 4, /cannot be written/],
    ['an output that is an input', () => ['compare', at('first.csv'), at('second.csv'), '-o', at('second.csv'), '--force'], 4, /never overwritten/],
  ])('%s: one line and its exit code', async (_, args, expected, says) => {
    const { code, out, err } = await runInside(args());
    expect([code, out]).toStrictEqual([expected, '']);
    expect(err).toMatch(says);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).not.toMatch(/\bat .*:\d+:\d+|node_modules|TypeError/);
    expect(existsSync(at('out.docx'))).toBe(false);
  });
});
