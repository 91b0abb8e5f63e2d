import { execFile } from 'node:child_process';
import { createWriteStream, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import ExcelJS from 'exceljs';
import { afterAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';

const require = createRequire(import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'treadlebook-supply-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('exceljs with the versions that are put in place of others', () => {
  test('streams a workbook out and in (archiver, unzipper, tmp)', async () => {
    const file = join(folder, 'streamed.xlsx');
    const writer = new ExcelJS.stream.xlsx.WorkbookWriter({ filename: file });
    const sheet = writer.addWorksheet('S');
    sheet.addRow(['K-101', 7]).commit();
    sheet.commit();
    await writer.commit();
    const rows: unknown[] = [];
    for await (const streamed of new ExcelJS.stream.xlsx.WorkbookReader(file, {})) for await (const row of streamed) rows.push((row.values as unknown[]).slice(1));
    expect(rows).toStrictEqual([['K-101', 7]]);
  });

  test('writes and reads CSV (fast-csv)', async () => {
    const book = new ExcelJS.Workbook();
    book.addWorksheet('S').addRow(['a "b", c', 7]);
    const file = join(folder, 'table.csv');
    await book.csv.writeFile(file);
    const row = (await new ExcelJS.Workbook().csv.readFile(file)).getRow(1);
    expect([row.cellCount, row.getCell(1).value, row.getCell(2).value]).toStrictEqual([2, 'a "b", c', 7]);
  });

  test('gives a rule its own identifier (uuid)', async () => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('S');
    sheet.addConditionalFormatting({ ref: 'A1:A2', rules: [{ type: 'dataBar', priority: 1, cfvo: [{ type: 'min' }, { type: 'max' }], gradient: false } as never] });
    const again = new ExcelJS.Workbook();
    await again.xlsx.load(await book.xlsx.writeBuffer());
    const [formatting] = (again.worksheets[0] as unknown as { conditionalFormattings: { rules: { x14Id: string }[] }[] }).conditionalFormattings;
    expect(formatting?.rules[0]?.x14Id).toMatch(/^\{[0-9A-F]{8}(?:-[0-9A-F]{4}){3}-[0-9A-F]{12}\}$/);
  });

  test('gathers files by patterns (glob, minimatch and brace-expansion, below archiver)', async () => {
    mkdirSync(join(folder, 'tree', 'deep'), { recursive: true });
    for (const name of ['a.txt', 'b.md', 'c.csv']) writeFileSync(join(folder, 'tree', 'deep', name), name);
    interface Archive { pipe(stream: NodeJS.WritableStream): void; glob(pattern: string, options: { cwd: string }): void; finalize(): Promise<void> }
    const archive = (require('archiver') as (format: string) => Archive)('zip');
    const file = join(folder, 'tree.zip');
    const written = createWriteStream(file);
    archive.pipe(written);
    archive.glob('**/*.{txt,csv}', { cwd: join(folder, 'tree') });
    await Promise.all([archive.finalize(), new Promise<void>((resolve) => written.on('close', () => resolve()))]);
    const { files } = await (require('unzipper') as { Open: { file(path: string): Promise<{ files: { path: string }[] }> } }).Open.file(file);
    expect(files.map(({ path }) => path).sort()).toStrictEqual(['deep/a.txt', 'deep/c.csv']);
    interface Utils { file: { expand(options: object, patterns: string[]): string[] } }
    for (const place of ['archiver-utils', 'zip-stream/node_modules/archiver-utils']) {
      const utils = require(packagePath('node_modules', ...place.split('/'))) as Utils;
      expect(utils.file.expand({ cwd: join(folder, 'tree') }, ['deep/*.{md,txt}']).sort()).toStrictEqual(['deep/a.txt', 'deep/b.md']);
    }
  });
});

test('the program loads none of what only the streaming parts of exceljs need', async () => {
  const script = `
    const { createRequire } = await import('node:module');
    const library = await import(${JSON.stringify(pathToFileURL(packagePath('dist', 'index.js')).href)});
    const fleet = await library.evaluateReadings(${JSON.stringify(packagePath('samples', 'invented-fleet.csv'))});
    let bytes = 0;
    for await (const chunk of library.workbookOf(fleet)) bytes += chunk.length;
    const loaded = Object.keys(createRequire(import.meta.url).cache).map((path) => path.replaceAll('\\\\', '/').split('/node_modules/').at(-1).split('/').slice(0, 1)[0]);
    console.log(JSON.stringify({ bytes, loaded: [...new Set(loaded)].sort() }));`;
  const { stdout } = await promisify(execFile)(process.execPath, ['--input-type=module', '-e', script]);
  const { bytes, loaded } = JSON.parse(stdout) as { bytes: number; loaded: string[] };
  expect(bytes).toBeGreaterThan(100_000);
  expect(loaded).toEqual(expect.arrayContaining(['exceljs', 'jszip']));
  const unwanted = ['archiver', 'archiver-utils', 'brace-expansion', 'glob', 'minimatch', 'readdir-glob', 'tmp', 'unzipper'];
  expect(loaded.filter((name) => unwanted.includes(name))).toStrictEqual([]);
});
