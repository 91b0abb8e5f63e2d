import { execFile } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import Papa from 'papaparse';
import { fromBufferPromise } from 'yauzl';

const TIMEOUT_MS = 120_000;
/** Comma, double quote, UTF-8, from row 1; cell contents as shown; every sheet. */
const CSV_FILTER = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1';
const run = promisify(execFile);

/** What a test context can do for {@link requireOutside}. */
interface CanSkip {
  skip(note?: string): void;
}

/**
 * Asks for a program from outside the package. Where it is missing the test is skipped with the reason, and fails where
 * REQUIRE_OUTSIDE=1.
 */
export function requireOutside(context: CanSkip, program: string): void {
  if (isInstalled(program)) return;
  if (process.env['REQUIRE_OUTSIDE'] === '1') throw new Error(`${program} is required and is not installed`);
  context.skip(`${program} is not installed`);
}

/**
 * Recalculates a workbook with LibreOffice and gives the cells of every sheet as text: an empty text for an empty text
 * or a blank, `#DIV/0!` and the like for an error. Leave number formats off: a formatted cell comes out as it looks.
 *
 * @throws when the workbook holds stored results, which LibreOffice would give back instead of calculating
 */
export async function recalculate(bytes: Uint8Array): Promise<Map<string, string[][]>> {
  await refuseStoredResults(bytes);
  const folder = await mkdtemp(join(tmpdir(), 'recalculate-'));
  try {
    const [book, out] = [join(folder, 'book.xlsx'), join(folder, 'out')];
    await writeFile(book, bytes);
    const profile = pathToFileURL(join(folder, 'profile')).href;
    await run('soffice', ['--headless', `-env:UserInstallation=${profile}`, '--convert-to', CSV_FILTER, '--outdir', out, book], { timeout: TIMEOUT_MS, killSignal: 'SIGKILL' });
    const sheets = new Map<string, string[][]>();
    for (const file of (await readdir(out)).sort()) {
      const text = await readFile(join(out, file), 'utf8');
      sheets.set(file.replace(/^book-|\.csv$/g, ''), Papa.parse<string[]>(text, { delimiter: ',', skipEmptyLines: false }).data);
    }
    if (sheets.size === 0) throw new Error('LibreOffice made no sheets of the workbook');
    return sheets;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function refuseStoredResults(bytes: Uint8Array): Promise<void> {
  const zip = await fromBufferPromise(Buffer.from(bytes), { lazyEntries: true });
  for await (const entry of zip.eachEntry()) {
    if (!/^xl\/worksheets\/[^/]+\.xml$/.test(entry.fileName)) continue;
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
    if (/<(?:\/f|f\b[^>]*\/)>\s*<v>/.test(Buffer.concat(chunks).toString('utf8'))) {
      throw new Error(`${entry.fileName} holds stored results of formulas; write a twin of the workbook without them`);
    }
  }
}

function isInstalled(program: string): boolean {
  return (process.env['PATH'] ?? '').split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}
