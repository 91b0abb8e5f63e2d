import { execFile } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openXlsx, type XlsxSheet } from '../../src/formats/read-xlsx.js';
import { packagePath } from '../../src/util/package-path.js';
import { plainValue } from '../../src/util/raw-table.js';
import { codeSpans, sectionOf } from './document-table.js';
import { fencedBlocks } from './fenced-blocks.js';

const run = promisify(execFile);
const DOCUMENT = 'DEVELOPERS.md';
const blocks = fencedBlocks(DOCUMENT);
const copy = mkdtempSync(join(tmpdir(), 'walks-'));
afterAll(() => rmSync(copy, { recursive: true }));

const READINGS = `inspected_on,unit,vehicle_kind,released_primary_start,released_primary_end,released_secondary_start,released_secondary_end,released_time,cut_in,Purge,notes
2026-03-02,B-1,bus,110,109,110,107,1:00,90,0:12,
2026-03-02,T-1,truck,110,109,110,109,1:00,90,soon,
2026-03-02,T-2,truck,110,109,110,112,1:00,105,,`;

/** The block that a document gives for a place. */
function blockFor(about: string): string {
  const block = blocks.find((candidate) => candidate.about === about);
  if (!block) throw new Error(`${DOCUMENT} has no block for ${about}`);
  return block.text;
}

function editJson(path: string, change: (json: never) => unknown): void {
  writeFileSync(join(copy, path), JSON.stringify(change(JSON.parse(readFileSync(join(copy, path), 'utf8')) as never)));
}

function insert(path: string, before: string, added: string): void {
  const text = readFileSync(join(copy, path), 'utf8');
  expect(text.split(before)).toHaveLength(2);
  writeFileSync(join(copy, path), text.replace(before, () => added + before));
}

async function treadlebook(...args: string[]): Promise<string> {
  const { stdout } = await run(process.execPath, [join('dist', 'cli', 'main.js'), ...args], { cwd: copy, maxBuffer: 1 << 26 });
  return stdout;
}

async function sheetsOf(path: string): Promise<readonly XlsxSheet[]> {
  return (await openXlsx(new Uint8Array(readFileSync(join(copy, path))))).sheets;
}

async function rowsOf(path: string, name: string): Promise<unknown[][]> {
  const rows: unknown[][] = [];
  for await (const { cells } of (await sheetsOf(path)).find((sheet) => sheet.name === name)!.table().rows) rows.push(cells.map(plainValue));
  return rows;
}

/** Makes every change of the four walks in a copy of the source, as the document has them, and builds it. */
beforeAll(async () => {
  for (const part of ['src', 'workbooks', 'package.json', 'tsconfig.json', 'tsconfig.build.json']) cpSync(packagePath(part), join(copy, part), { recursive: true });
  symlinkSync(packagePath('node_modules'), join(copy, 'node_modules'), 'dir');
  editJson('workbooks/readings.json', (json: { fields: { name: string }[] }) => {
    json.fields.splice(json.fields.findIndex(({ name }) => name === 'cut_out') + 1, 0, JSON.parse(blockFor('workbooks/readings.json')) as { name: string });
    return json;
  });
  editJson('workbooks/limits/common-practice.json', (json: { checks: unknown[] }) => ({ ...json, checks: [...json.checks, ...(JSON.parse(blockFor('checks of workbooks/limits/common-practice.json')) as unknown[])] }));
  editJson('workbooks/measures.json', (json: unknown[]) => [...json, JSON.parse(blockFor('workbooks/measures.json'))]);
  insert('src/expressions/operators.ts', '} satisfies Record<string, Operator>;', `${blockFor('OPERATORS of src/expressions/operators.ts')}\n`);
  writeFileSync(join(copy, 'src/workbook/sheets/to-repeat-sheet.ts'), blockFor('src/workbook/sheets/to-repeat-sheet.ts'));
  insert('src/workbook/sheets/index.ts', '\n/** The sheets', `${blockFor('src/workbook/sheets/index.ts')}\n`);
  insert('src/workbook/sheets/index.ts', ', problemsSheet', ', toRepeatSheet');
  insert('src/workbook/sheet-purposes.ts', "  { sheet: 'Problems'", `${blockFor('src/workbook/sheet-purposes.ts')}\n`);
  await run(process.execPath, [packagePath('node_modules', 'typescript', 'bin', 'tsc'), '-p', 'tsconfig.build.json'], { cwd: copy });
  writeFileSync(join(copy, 'own.csv'), READINGS);
  await treadlebook('evaluate', 'own.csv', '-o', 'own.xlsx', '--quiet');
}, 240_000);

interface Result {
  inspections: { verdict: string; measures: Record<string, unknown>; checks: { check: string; limit: number; verdict: string; citation: string }[] }[];
  problems: { code: string; column: string; found: string }[];
}
const evaluation = async (): Promise<Result> => JSON.parse(await treadlebook('evaluate', 'own.csv', '--json', '--quiet')) as Result;

describe('the walks of DEVELOPERS', () => {
  test('a column is read by a spelling, listed, named where it is not understood, and in the sheets', async () => {
    expect(await treadlebook('fields')).toMatch(/purge_time +min:s +How long the air dryer blew off.*dryer purge/);
    const problems = (await evaluation()).problems.filter(({ column }) => column === 'purge_time');
    expect(problems.map(({ code, found }) => [code, found])).toStrictEqual([['not_understood', 'soon']]);
    const [, titles, names, first] = await rowsOf('own.xlsx', 'Readings');
    const at = names!.indexOf('purge_time');
    expect(titles![at]).toMatch(/^Dryer purge time/);
    expect(first![at]).toBe('0:12');
    await treadlebook('blank', '-o', 'blank.xlsx', '--rows', '2');
    const blank = (await rowsOf('blank.xlsx', 'Readings'))[2]!;
    expect(blank[blank.indexOf('purge_time') - 1]).toBe('cut_out');
  });

  // 61 FR 60635 (29 Nov 1996): 85 psi or greater for buses; 61 FR 6173 (16 Feb 1996): 100 psi or greater for trucks. 90 psi passes the one only, 105 psi the other too.
  test('a limit holds by kind of vehicle, with its citation, in JSON and in the sheet Limits', async () => {
    const found = (await evaluation()).inspections.map(({ checks }) => checks.filter(({ check }) => check === 'cut_in').map(({ limit, verdict, citation }) => [limit, verdict, citation]));
    expect(found).toStrictEqual([[[85, 'pass', '49 CFR 571.121 S5.1.1.1; 61 FR 60635 (29 Nov 1996)']], [[100, 'fail', '49 CFR 571.121 S5.1.1.1; 61 FR 6173 (16 Feb 1996)']], [[100, 'pass', '49 CFR 571.121 S5.1.1.1; 61 FR 6173 (16 Feb 1996)']]]);
    const lines = (await rowsOf('own.xlsx', 'Limits')).filter(([title]) => title === 'Governor cut-in (optional)');
    expect(lines.map((line) => line[4])).toStrictEqual([85, 100]);
    const rows = await rowsOf('own.xlsx', 'Fail rates');
    const rates = rows.slice(rows.findIndex(([heading]) => heading === 'By check')).find(([name]) => name === 'Governor cut-in');
    expect(rates?.slice(1, 3)).toStrictEqual([3, 1]);
  });

  // (110 - 109 + 110 - 107) / 2 = 2 psi in one minute.
  test('a measure with a new operator is computed, and is a formula in the sheet', async () => {
    expect((await evaluation()).inspections[0]!.measures['released_loss_mean']).toBe(2);
    const readings = (await sheetsOf('own.xlsx')).find(({ name }) => name === 'Readings')!;
    const formulas: (string | null | undefined)[][] = [];
    for await (const row of readings.rowsWithFormulas()) formulas.push([...row.formulas]);
    const at = (await rowsOf('own.xlsx', 'Readings'))[2]!.indexOf('computed.released_loss_mean');
    expect(formulas[3]![at]).toContain('AVERAGE(');
    expect((await rowsOf('own.xlsx', 'Limits')).flat()).toContain('the mean of Released loss, primary, Released loss, secondary');
  });

  test('a sheet stands in its place, holds its rows, and is named on Start here', async () => {
    const names = (await sheetsOf('own.xlsx')).map(({ name }) => name);
    expect(names[names.indexOf('To repeat') + 1]).toBe('Problems');
    const purposes = (await rowsOf('own.xlsx', 'Start here')).filter(([name]) => name === 'To repeat');
    expect(purposes.map(([, purpose]) => purpose)).toStrictEqual(['Which inspections could not be decided, and are to be made again?']);
    expect((await rowsOf('own.xlsx', 'To repeat')).slice(3).map(([date, unit]) => [date, unit])).toStrictEqual([['2026-03-02', 'T-2']]);
  });
});

describe('DEVELOPERS', () => {
  test('names files that exist, or that a walk makes', () => {
    const named = codeSpans(readFileSync(packagePath(DOCUMENT), 'utf8').replace(/```[^]*?```/g, '')).filter((span) => /^(src|tests|workbooks|samples|schemas)\//.test(span));
    const drawn = [...blocks.find(({ language }) => language === 'text')!.text.matchAll(/src\/[\w/-]+\.ts/g)].map(([path]) => path);
    expect(drawn.length).toBeGreaterThan(10);
    expect([...named, ...drawn].filter((path) => !existsSync(packagePath(...path.replace(/\/\*\.json$|\/$/, '').split('/'))))).toStrictEqual([]);
  });

  test('says of every dependency what it is for', () => {
    const { dependencies: needed, optionalDependencies } = JSON.parse(readFileSync(packagePath('package.json'), 'utf8')) as Record<'dependencies' | 'optionalDependencies', Record<string, string>>;
    const checkers = ['publint', '@arethetypeswrong/core'];
    const dependencies = [...Object.keys({ ...needed, ...optionalDependencies }), ...checkers];
    const named = [...sectionOf(DOCUMENT, 'Dependencies').matchAll(/\*\*([\w@/-]+)\*\*/g)].map(([, name]) => name!);
    expect(named.sort()).toStrictEqual(dependencies.sort());
  });

  test('has no json or ts block that no walk uses', () => {
    const used = ['workbooks/readings.json', 'checks of workbooks/limits/common-practice.json', 'workbooks/measures.json', 'OPERATORS of src/expressions/operators.ts', 'src/workbook/sheets/to-repeat-sheet.ts', 'src/workbook/sheets/index.ts', 'src/workbook/sheet-purposes.ts'];
    expect(blocks.filter(({ language }) => language === 'json' || language === 'ts').map(({ about }) => about)).toStrictEqual(used);
  });
});
