import { describe, expect, it } from 'vitest';
import { decodeText, decodeTextStream } from '../../src/formats/decode-text.js';
import { all, inChunks } from './csv-text.js';

const bytes = (...values: number[]): Uint8Array => Uint8Array.from(values);

describe('decodeText', () => {
  it('reads UTF-8 with and without its mark', () => {
    expect(decodeText(new TextEncoder().encode('7°, “ok”'))).toBe('7°, “ok”');
    expect(decodeText(new TextEncoder().encode('\ufeffunit'))).toBe('unit');
  });

  // RFC 2781, 3.1 and 4: the mark FE FF announces big-endian, FF FE little-endian; U+12345 is D808 DF45.
  it('reads UTF-16 by its mark', () => {
    expect(decodeText(bytes(0xfe, 0xff, 0xd8, 0x08, 0xdf, 0x45, 0x00, 0x3d))).toBe('\u{12345}=');
    expect(decodeText(bytes(0xff, 0xfe, 0x08, 0xd8, 0x45, 0xdf, 0x3d, 0x00))).toBe('\u{12345}=');
  });

  // WHATWG Encoding Standard, index-windows-1252: 80 euro sign, 92 right quote, 9F Y diaeresis, B0 degree, 81 stays a control.
  it('takes bytes that are not UTF-8 for Windows-1252', () => {
    expect(decodeText(bytes(0x80, 0x92, 0x9f, 0xb0, 0x81))).toBe('\u20ac\u2019\u0178\u00b0\u0081');
  });

  it('gives nothing for nothing', () => {
    expect(decodeText(bytes())).toBe('');
    expect(decodeText(bytes(0xef, 0xbb, 0xbf))).toBe('');
  });

  it('refuses what its mark belies, in one line that names the file and the mend', () => {
    expect(() => decodeText(bytes(0xff, 0xfe, 0x41), 'fleet.csv')).toThrow(
      expect.objectContaining({ code: 'input_unreadable', where: 'fleet.csv', mend: 'save the file as UTF-8' }),
    );
    expect(() => decodeText(bytes(0xef, 0xbb, 0xbf, 0xff))).toThrow(expect.objectContaining({ code: 'input_unreadable' }));
  });
});

describe('decodeTextStream', () => {
  it('joins characters that are cut between chunks', async () => {
    const text = `${'é'.repeat(40_000)}😀`;
    const pieces = await all(decodeTextStream(inChunks(new TextEncoder().encode(text), [7, 30_001])));
    expect(pieces.join('')).toBe(text);
    expect(pieces.length).toBeGreaterThan(1);
  });

  it('takes a short text with one bad byte for Windows-1252', async () => {
    expect(await all(decodeTextStream(inChunks(bytes(0x37, 0xb0), [1])))).toStrictEqual(['7°']);
  });

  it('refuses a bad byte that turns up late', async () => {
    const late = new Uint8Array(70_000).fill(0x61);
    late[69_999] = 0xb0;
    await expect(all(decodeTextStream(inChunks(late, [1000]), 'fleet.csv'))).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.csv', mend: 'save the file as UTF-8' });
  });
});
