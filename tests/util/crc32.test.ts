import { expect, test } from 'vitest';
import { crc32, crc32ByTable } from '../../src/util/crc32.js';

// The check value of CRC-32/ISO-HDLC, which zip uses: that of the digits 1 to 9.
test.each([['crc32', crc32], ['crc32ByTable', crc32ByTable]])('%s gives the check value, in one piece and in two', (_name, sum) => {
  expect(sum(Buffer.from('123456789'))).toBe(0xcbf43926);
  expect(sum(Buffer.from('6789'), sum(Buffer.from('12345')))).toBe(0xcbf43926);
  expect(sum(new Uint8Array())).toBe(0);
  // Nothing more leaves it as it is.
  for (const nothing of [new Uint8Array(), new Uint8Array(new ArrayBuffer(0)), Buffer.from(''), Buffer.alloc(0)]) expect(sum(nothing, 0xcbf43926)).toBe(0xcbf43926);
});
