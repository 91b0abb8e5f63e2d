import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { writeZip } from '../../../src/formats/xlsx-package/write-zip.js';
import { runPython } from '../outside-program.js';
import { noise } from './noise.js';
import { collect, inFolder } from './support.js';

// zlib and zipfile are other readers of RFC 1951 and of a zip than those of Node.
const READ = `
import hashlib, json, sys, zipfile
with zipfile.ZipFile(sys.argv[1]) as book:
    print(json.dumps([book.testzip(), [[info.filename, info.file_size, hashlib.sha256(book.read(info)).hexdigest()] for info in book.infolist()]]))
`;

it('a zip deflated in blocks is read by Python to the byte', async (context) => {
  const contents = [0, 1, 1_048_576, 1_048_577, 3_000_000].map((length) => Buffer.concat([noise(length), Buffer.from('104 psi '.repeat(length / 100))]));
  const zip = await collect(writeZip(contents.map((content, index) => ({ path: `part-${index}`, content })), 5));
  inFolder((folder) => {
    const file = join(folder, 'blocks.zip');
    writeFileSync(file, zip);
    const read = JSON.parse(runPython(context, ['zipfile'], READ, file)) as unknown;
    expect(read).toStrictEqual([null, contents.map((content, index) => [`part-${index}`, content.length, createHash('sha256').update(content).digest('hex')])]);
  });
});
