import { expect, it } from 'vitest';
import { capsOf, type XlsxCaps } from '../../../src/formats/input-caps.js';
import { ZipParts } from '../../../src/formats/xlsx-reader/zip-parts.js';
import { makeZip, withRepeated } from '../make-xlsx.js';

const PICTURE = 'xl/media/image1.png';

async function lengthOf(bytes: Uint8Array, part: string, changes: Partial<XlsxCaps> = {}): Promise<number> {
  let length = 0;
  for await (const chunk of (await ZipParts.open(bytes, capsOf('xlsx', changes), 'fleet.xlsx')).read(part)) length += chunk.length;
  return length;
}

it('refuses more than a hundred bytes for each byte of the file, once they come to more than a gigabyte', async () => {
  const bytes = withRepeated('', PICTURE, '', '\0', 1_080_000_000, '');
  await expect(lengthOf(bytes, PICTURE)).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.xlsx', what: 'its parts hold more than 100 bytes for each byte of the file', mend: 'if you trust the file, raise the cap xlsx.inflation above 100' });
  expect(await lengthOf(bytes, PICTURE, { inflation: 10_000 })).toBeGreaterThan(1_080_000_000);
}, 60_000);

it('gives a stored part in pieces', async () => {
  const parts = await ZipParts.open(await makeZip({ a: 'x'.repeat(200_000) }, false), capsOf('xlsx'), 'fleet.xlsx');
  const lengths: number[] = [];
  for await (const chunk of parts.read('a')) lengths.push(chunk.length);
  expect(lengths).toStrictEqual([65_536, 65_536, 65_536, 3_392]);
});
