import { execFile } from 'node:child_process';
import { mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';

const run = promisify(execFile);

/**
 * Has LibreOffice open a file and save it in another format, in a folder and profile of its own.
 *
 * @param filter the target, such as `xlsx`, `pdf` or `ods`
 * @returns the bytes of each file that it wrote, by name
 */
export function convertByLibreOffice(bytes: Uint8Array, name: string, filter: string): Promise<Map<string, Uint8Array>> {
  return convertAllByLibreOffice(new Map([[name, bytes]]), filter);
}

/**
 * Has LibreOffice open several files, one after the other, and save each in another format: it starts up once.
 *
 * @param readAs the filter by which the files are read; it chooses by itself when left out
 */
export async function convertAllByLibreOffice(books: ReadonlyMap<string, Uint8Array>, filter: string, readAs?: string): Promise<Map<string, Uint8Array>> {
  const folder = await mkdtemp(join(tmpdir(), 'treadlebook-'));
  try {
    const output = join(folder, 'out');
    for (const [name, bytes] of books) await writeFile(join(folder, name), bytes);
    const inputs = [...books.keys()].map((name) => join(folder, name));
    await run('soffice', ['--headless', `-env:UserInstallation=${pathToFileURL(join(folder, 'profile')).href}`, ...(readAs === undefined ? [] : [`--infilter=${readAs}`]), '--convert-to', filter, '--outdir', output, ...inputs], { timeout: 600_000 });
    const files = new Map<string, Uint8Array>();
    for (const file of await readdir(output)) files.set(file, new Uint8Array(await readFile(join(output, file))));
    return files;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Has LibreOffice open workbooks, compute what has no stored result, and save them; they come in the same order. It starts once for all of them. */
export async function savedByLibreOffice(books: readonly Uint8Array[]): Promise<Uint8Array[]> {
  const saved = await convertAllByLibreOffice(new Map(books.map((bytes, index) => [`${index}.xlsx`, bytes])), 'xlsx');
  return books.map((_, index) => {
    const workbook = saved.get(`${index}.xlsx`);
    if (!workbook) throw new Error(`LibreOffice wrote ${saved.size} of ${books.length} workbooks, and not number ${index}`);
    return workbook;
  });
}
