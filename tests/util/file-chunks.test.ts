import { execFileSync, spawn } from 'node:child_process';
import { appendFileSync, mkdtempSync, renameSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileChunks } from '../../src/util/file-chunks.js';

/** More than a few chunks. */
const BYTES = Buffer.alloc(1_500_000, 'K-101,2026-03-14\n');

describe('the bytes of a file', () => {
  let folder: string;
  let path: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadlebook-chunks-'));
    path = join(folder, 'fleet.csv');
    writeFileSync(path, BYTES);
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  /** Reads the file, and does something to it after the first chunk. */
  async function readWhile(act: () => void): Promise<Buffer> {
    const chunks: Uint8Array[] = [];
    for await (const chunk of fileChunks(path)) {
      if (chunks.length === 0) act();
      chunks.push(chunk);
    }
    return Buffer.concat(chunks);
  }

  it('come whole, with how far the reading is', async () => {
    const seen: number[] = [];
    const chunks: Uint8Array[] = [];
    for await (const chunk of fileChunks(path, (bytes, size) => seen.push(bytes / size))) chunks.push(chunk);
    expect(Buffer.concat(chunks).equals(BYTES)).toBe(true);
    expect(seen.length).toBeGreaterThan(3);
    expect(seen.at(-1)).toBe(1);
    expect(seen).toStrictEqual([...seen].sort((a, b) => a - b));
  });

  it('come whole when the file is removed, or another takes its place, meanwhile', async () => {
    expect((await readWhile(() => rmSync(path))).equals(BYTES)).toBe(true);
    writeFileSync(path, BYTES);
    writeFileSync(join(folder, 'new.csv'), 'another');
    expect((await readWhile(() => renameSync(join(folder, 'new.csv'), path))).equals(BYTES)).toBe(true);
  });

  it.each([
    ['shrinks', () => truncateSync(path, 1000)],
    ['grows', () => appendFileSync(path, 'K-102,2026-03-15\n')],
    ['is written anew', () => writeFileSync(path, Buffer.alloc(BYTES.length, 'x'))],
  ])('are refused when the file %s meanwhile', async (_what, act) => {
    await expect(readWhile(act)).rejects.toMatchObject({ code: 'input_unreadable', where: path, what: 'the file was changed while it was read', mend: 'wait until it is written, then try again' });
  });

  it('of a pipe come as they are, with no size', async () => {
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    spawn('bash', ['-c', `cat "${path}" > "${pipe}"`]);
    const chunks: Uint8Array[] = [];
    for await (const chunk of fileChunks(pipe, (_bytes, size) => expect(size).toBe(0))) chunks.push(chunk);
    expect(Buffer.concat(chunks).equals(BYTES)).toBe(true);
  });

  it('need a file that is there', async () => {
    await expect(fileChunks(join(folder, 'none')).next()).rejects.toMatchObject({ code: 'input_missing' });
    await expect(fileChunks(folder).next()).rejects.toMatchObject({ code: 'input_unreadable', what: 'this is a folder' });
    await expect(fileChunks(join(path, 'x')).next()).rejects.toMatchObject({ code: 'input_unreadable', what: 'it cannot be opened (ENOTDIR)' });
  });
});
