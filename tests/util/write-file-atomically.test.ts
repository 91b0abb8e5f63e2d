import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { writeFileAtomically } from '../../src/util/write-file-atomically.js';

async function* breaksAfter(text: string): AsyncGenerator<string> {
  yield text;
  throw new RangeError('the source broke');
}

describe('a file that is written whole or not at all', () => {
  let folder: string;
  let path: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadlebook-write-'));
    path = join(folder, 'out.csv');
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('holds every piece, text and bytes, and nothing stays beside it', async () => {
    await writeFileAtomically(path, ['unit\n', new Uint8Array([0x4b, 0x2d, 0x31]), '\n'], false);
    expect(readFileSync(path, 'utf8')).toBe('unit\nK-1\n');
    expect(readdirSync(folder)).toStrictEqual(['out.csv']);
  });

  it('is kept when it exists, and replaced when that is asked for', async () => {
    writeFileSync(path, 'before');
    await expect(writeFileAtomically(path, ['after'], false)).rejects.toMatchObject({ code: 'output_exists', where: path });
    expect(readFileSync(path, 'utf8')).toBe('before');
    await writeFileAtomically(path, ['after'], true);
    expect(readFileSync(path, 'utf8')).toBe('after');
    expect(readdirSync(folder)).toStrictEqual(['out.csv']);
  });

  it('is kept when it came up while the pieces were being written', async () => {
    const pieces = (async function* (): AsyncGenerator<string> {
      yield 'mine';
      writeFileSync(path, 'theirs');
    })();
    await expect(writeFileAtomically(path, pieces, false)).rejects.toMatchObject({ code: 'output_exists' });
    expect(readFileSync(path, 'utf8')).toBe('theirs');
    expect(readdirSync(folder)).toStrictEqual(['out.csv']);
  });

  it('stays as it was when the source breaks, whose error is passed on', async () => {
    writeFileSync(path, 'before');
    await expect(writeFileAtomically(path, breaksAfter('half'), true)).rejects.toThrow(RangeError);
    expect(readFileSync(path, 'utf8')).toBe('before');
    expect(readdirSync(folder)).toStrictEqual(['out.csv']);
  });

  it('leads to an error with the mend where it cannot be written', async () => {
    await expect(writeFileAtomically(join(folder, 'no', 'out.csv'), ['x'], false)).rejects.toMatchObject({ code: 'output_unwritable', mend: 'the folder does not exist; make it first' });
    mkdirSync(path);
    await expect(writeFileAtomically(path, ['x'], true)).rejects.toMatchObject({ code: 'output_unwritable' });
    expect(readdirSync(folder)).toStrictEqual(['out.csv']);
  });
});
