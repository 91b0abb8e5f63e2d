import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { keepWorkbook, type ReadingsInput } from '../../src/workbook/readings-input.js';

const folder = mkdtempSync(join(tmpdir(), 'treadlebook-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function* inPieces(text: string, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < text.length; at += size) yield Buffer.from(text.slice(at, at + size));
}

async function readThrough(input: ReadingsInput): Promise<string> {
  if (typeof input === 'string' || input instanceof Uint8Array) return '';
  const pieces: Uint8Array[] = [];
  for await (const chunk of input) pieces.push(chunk);
  return Buffer.concat(pieces).toString();
}

const textOrNull = (bytes: Uint8Array | null): string | null => (bytes === null ? null : Buffer.from(bytes).toString());

it.each([1, 2, 3, 100])('a stream in pieces of %i is passed on whole, and kept when it is a zip', async (size) => {
  for (const [text, kept] of [['PK\u0003\u0004zip', 'PK\u0003\u0004zip'], ['unit,inspected_on', null], ['P', null], ['', null]] as const) {
    const { input, bytes } = keepWorkbook(inPieces(text, size));
    expect(await readThrough(input)).toBe(text);
    expect(textOrNull(await bytes())).toBe(kept);
  }
});

it('bytes and files are left as they are, and looked at again when they are a zip', async () => {
  for (const [text, kept] of [['PK\u0003\u0004', 'PK\u0003\u0004'], ['unit', null], ['', null]] as const) {
    const path = join(folder, 'file');
    writeFileSync(path, text);
    expect(keepWorkbook(path).input).toBe(path);
    expect(textOrNull(await keepWorkbook(path).bytes())).toBe(kept);
    const given = new Uint8Array(Buffer.from(text));
    expect(keepWorkbook(given).input).toBe(given);
    expect(textOrNull(await keepWorkbook(given).bytes())).toBe(kept);
  }
  expect(await keepWorkbook(join(folder, 'gone')).bytes()).toBeNull();
});
