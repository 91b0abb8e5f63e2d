import { execFileSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { openXlsx, type XlsxBook } from '../../../src/formats/read-xlsx.js';
import { openXlsxInWorker, type WorkerBook } from '../../../src/formats/xlsx-worker/open-xlsx-in-worker.js';
import { WorkerConnection } from '../../../src/formats/xlsx-worker/worker-connection.js';
import { packagePath } from '../../../src/util/package-path.js';
import { all } from '../csv-text.js';
import { makeXlsx, sheetXml, stringsXml, stylesXml, workbookXml } from '../make-xlsx.js';
import { withFolder } from '../outside-program.js';

const open: WorkerBook[] = [];
afterEach(() => open.splice(0).forEach((book) => book.close()));

async function inWorker(...parameters: Parameters<typeof openXlsxInWorker>): Promise<WorkerBook> {
  const book = await openXlsxInWorker(...parameters);
  open.push(book);
  return book;
}

/** So many rows of a text, a date, a truth value, a blank and a formula that all share. */
function rowsXml(count: number): string {
  return Array.from({ length: count }, (_, index) => index + 1)
    .map((row) => `<row r="${row}"${row % 7 === 0 ? ' hidden="1"' : ''}><c r="A${row}" t="s"><v>${row % 2}</v></c><c r="B${row}" s="1"><v>${45_000 + row}</v></c><c r="C${row}" t="b"><v>1</v></c><c r="E${row}"><f t="shared" si="0"${row === 1 ? ` ref="E1:E${count}">B1*2` : '>'}</f><v>${row}</v></c></row>`)
    .join('');
}

const PARTS = { 'xl/sharedStrings.xml': stringsXml(`<si><t>é 😀</t></si><si><t>${'long '.repeat(20)}</t></si>`), 'xl/styles.xml': stylesXml([0, 14]) };

async function everything(book: XlsxBook): Promise<unknown> {
  const sheets = [];
  for (const { name, state, table, rowsWithFormulas, stored } of book.sheets) {
    const asStored = stored();
    sheets.push({ name, state, rows: await all(table().rows), formulas: await all(rowsWithFormulas()), stored: await all(asStored.rows), hiddenColumns: asStored.hiddenColumns });
  }
  const { date1904, definedNames, application, findings } = book;
  return { date1904, definedNames, application, findings, sheets };
}

/** The rows before an error, and the error as it is told. */
async function untilError(book: XlsxBook): Promise<unknown> {
  const numbers: number[] = [];
  try {
    for await (const { number } of book.sheets[0]!.table().rows) numbers.push(number);
  } catch (error) {
    const { code, where, what, mend, message, name } = error as Record<string, unknown>;
    return { numbers, code, where, what, mend, message, name };
  }
  return { numbers };
}

describe('a workbook read by a worker', () => {
  it('says the same as one read here, over many batches', async () => {
    const sheet = sheetXml(rowsXml(1700)).replace('<sheetData>', '<cols><col min="2" max="3" hidden="1"/></cols><sheetData>');
    const workbook = workbookXml('<workbookPr date1904="1"/><sheets><sheet name="S" sheetId="1" r:id="rId1"/><sheet name="H" sheetId="2" state="hidden" r:id="rId1"/></sheets><definedNames><definedName name="all">S!$A$1</definedName></definedNames>');
    const bytes = await makeXlsx('', { ...PARTS, 'xl/worksheets/sheet1.xml': sheet, 'xl/workbook.xml': workbook, 'docProps/app.xml': '<Properties><Application>X</Application></Properties>' });
    expect(await everything(await inWorker(bytes))).toStrictEqual(await everything(await openXlsx(bytes)));
  });

  it('gives cells that share a formula the same one, from batch to batch', async () => {
    const rows = await all((await inWorker(await makeXlsx(rowsXml(1700), PARTS))).sheets[0]!.stored().rows);
    expect(new Set(rows.slice(1).map(({ formulas }) => formulas[4])).size).toBe(1);
  });

  it('refuses as one read here does, and gives the rows before the damage', async () => {
    for (const bytes of [await makeXlsx(`${rowsXml(900)}<row r="x"/>`, PARTS), await makeXlsx(rowsXml(3))]) {
      expect(await untilError(await inWorker(bytes, { name: 'fleet.xlsx' }))).toStrictEqual(await untilError(await openXlsx(bytes, { name: 'fleet.xlsx' })));
    }
    await expect(openXlsxInWorker(Buffer.from('%PDF-1.7'), { name: 'fleet.xlsx' })).rejects.toMatchObject({ name: 'TreadlebookError', code: 'input_unreadable', where: 'fleet.xlsx', what: 'the file is a PDF', mend: 'export the table as .xlsx or .csv' });
    await expect(openXlsxInWorker(new Uint8Array())).rejects.toMatchObject({ code: 'input_empty' });
  });

  it('can be walked again after a walk was broken off, and two walks at once', async () => {
    const { sheets: [sheet] } = await inWorker(await makeXlsx(rowsXml(5000), PARTS));
    for await (const row of sheet!.table().rows) if (row.number === 3) break;
    const [one, other] = [sheet!.table().rows[Symbol.asyncIterator](), sheet!.table().rows[Symbol.asyncIterator]()];
    for (let number = 1; number <= 5000; number += 1) expect([(await one.next()).value?.number, (await other.next()).value?.number]).toStrictEqual([number, number]);
    expect([(await one.next()).done, (await other.next()).done]).toStrictEqual([true, true]);
  });

  it('takes caps', async () => {
    expect(await untilError(await inWorker(await makeXlsx(rowsXml(5), PARTS), { rows: 4 }))).toMatchObject({ what: 'the row number 5 is beyond the 4 rows of a sheet' });
  });

  it('says so when it was closed', async () => {
    const book = await inWorker(await makeXlsx(rowsXml(3), PARTS));
    book.close();
    expect(await untilError(book)).toMatchObject({ numbers: [], code: 'input_unreadable', what: 'the workbook was closed before it was read to its end' });
  });
});

describe('what befalls the worker', () => {
  it.each([16, 64])('too much memory: %i MB are not enough for a flood of strings', async (memoryMegabytes) => {
    const strings = stringsXml(Array.from({ length: 200_000 }, (_, index) => `<si><t>${String(index).padStart(400, 'x')}</t></si>`).join(''));
    const book = await inWorker(await makeXlsx('<row r="1"><c r="A1" t="s"><v>0</v></c></row>', { 'xl/sharedStrings.xml': strings }), { name: 'fleet.xlsx', memoryMegabytes });
    expect(await untilError(book)).toMatchObject({ code: 'input_unreadable', where: 'fleet.xlsx', what: `reading it takes more than ${memoryMegabytes} MB of memory` });
    expect(await untilError(book)).toMatchObject({ what: `reading it takes more than ${memoryMegabytes} MB of memory` });
  }, 60_000);

  it('silence: not even the start is quick enough for a hundredth of a millisecond', async () => {
    // No thread that has started already has this bound on its memory.
    await expect(inWorker(await makeXlsx(rowsXml(3), PARTS), { name: 'fleet.xlsx', stallSeconds: 1e-5, memoryMegabytes: 65 })).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.xlsx', what: 'reading it came to a standstill: nothing was heard for 0.00001 seconds' });
  });

  it('a fault of the reader, told by the worker or ending it', async () => {
    const limits = { memoryMegabytes: 64, stallSeconds: 30 };
    const noBytes = new WorkerConnection({ bytes: null as unknown as Uint8Array, options: { name: 'fleet.xlsx' } }, limits);
    await expect(noBytes.opened()).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.xlsx', what: expect.stringMatching(/^the reader broke off \(TypeError/) as string });
    const noSuchSheet = new WorkerConnection({ bytes: await makeXlsx(rowsXml(3), PARTS), options: { name: 'fleet.xlsx' } }, limits);
    await noSuchSheet.opened();
    await expect(noSuchSheet.walk(99, 'table').next()).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.xlsx', what: expect.stringMatching(/^the reader broke off \(/) as string });
  });
});

/** Runs a script against the built library, with a workbook of 5,000 rows, in a process of its own. */
async function runAlone(script: string): Promise<string> {
  const bytes = await makeXlsx(rowsXml(5000), PARTS);
  const built = packagePath('dist', 'formats', 'xlsx-worker', 'open-xlsx-in-worker.js');
  expect(existsSync(built)).toBe(true);
  return withFolder((folder) => {
    writeFileSync(join(folder, 'book.xlsx'), bytes);
    const whole = `import { readFileSync } from 'node:fs'; const { openXlsxInWorker } = await import(${JSON.stringify(pathToFileURL(built).href)}); const bytes = readFileSync('book.xlsx'); ${script}`;
    return execFileSync(process.execPath, ['--expose-gc', '--input-type=module', '-e', whole], { cwd: folder, encoding: 'utf8', timeout: 9000 });
  });
}

describe('a process with a worker', () => {
  it('ends although the workbook is neither walked to its end nor closed', async () => {
    expect(await runAlone('const book = await openXlsxInWorker(bytes); for await (const row of book.sheets[0].table().rows) if (row.number === 2) break; const rest = book.sheets[0].table().rows; console.log((await rest.next()).value.number);')).toBe('1\n');
  });

  it('lives while someone waits for rows', async () => {
    expect(await runAlone('let n = 0; const book = await openXlsxInWorker(bytes); for await (const row of book.sheets[0].table().rows) n += 1; console.log(n);')).toBe('5000\n');
  });

  /** Counts the threads that are started, and what is printed is that count. */
  const counted = (script: string): string => `let started = 0; process.on('worker', () => { started += 1; }); const rows = async (book, most = Infinity) => { let n = 0; for await (const row of book.sheets[0].table().rows) if ((n += 1) === most) break; return n; }; ${script} console.log(started);`;

  it('lets it read the next workbook, after a refusal too, and nothing of one is in the other', async () => {
    const script = `
      for (let turn = 0; turn < 3; turn += 1) {
        const book = await openXlsxInWorker(bytes, { rows: turn === 1 ? 4 : 1e6 });
        console.log(await rows(book).catch(({ what }) => what));
        book.close();
        console.log(await openXlsxInWorker(Buffer.from('%PDF-1.7')).catch(({ what }) => what));
      }`;
    expect(await runAlone(counted(script))).toBe(`${['5000', 'the row number 5 is beyond the 4 rows of a sheet', '5000'].map((line) => `${line}\nthe file is a PDF\n`).join('')}1\n`);
  });

  it('takes another where the first is in the midst of a sheet, has another bound, or broke off', async () => {
    expect(await runAlone(counted('for (let turn = 0; turn < 2; turn += 1) { const book = await openXlsxInWorker(bytes); await book.sheets[0].table().rows.next(); book.close(); }'))).toBe('2\n');
    expect(await runAlone(counted('for (const memoryMegabytes of [64, 65]) (await openXlsxInWorker(bytes, { memoryMegabytes })).close();'))).toBe('2\n');
    expect(await runAlone(counted('let last; process.on(\'worker\', (worker) => (last = worker)); (await openXlsxInWorker(bytes)).close(); const broken = openXlsxInWorker(bytes).then((book) => book.close(), () => undefined); await last.terminate(); await broken; await openXlsxInWorker(bytes);'))).toBe('2\n');
  });

  it('keeps two threads at most for the next, which do not keep it alive', async () => {
    const script = 'const open = () => Promise.all([1, 2, 3, 4].map(() => openXlsxInWorker(bytes))); (await open()).forEach((book) => book.close()); (await open()).forEach((book) => book.close());';
    expect(await runAlone(counted(script))).toBe('6\n');
  });

  it('loses the worker of a workbook that was forgotten, with a walk half done', async () => {
    const script = `
      let ended = false;
      process.once('worker', (worker) => worker.once('exit', () => { ended = true; }));
      await (async () => { const book = await openXlsxInWorker(bytes); await book.sheets[0].table().rows.next(); })();
      for (let turn = 0; turn < 500 && !ended; turn += 1) { globalThis.gc(); await new Promise((resolve) => setTimeout(resolve, 20)); }
      console.log(ended);`;
    expect(await runAlone(script)).toBe('true\n');
  });
});
