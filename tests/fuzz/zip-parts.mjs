import yauzl from 'yauzl';
import yazl from 'yazl';

/** The parts of a zip by name; null where it is none. */
export async function partsOf(bytes) {
  try {
    const zip = await new Promise((resolve, reject) => yauzl.fromBuffer(Buffer.from(bytes), { lazyEntries: true }, (error, opened) => (error ? reject(error) : resolve(opened))));
    return await new Promise((resolve, reject) => {
      const parts = new Map();
      zip.on('error', reject);
      zip.on('end', () => resolve(parts));
      zip.on('entry', (entry) => {
        zip.openReadStream(entry, (error, stream) => {
          if (error) return reject(error);
          const chunks = [];
          stream.on('data', (chunk) => chunks.push(chunk));
          stream.on('error', reject);
          stream.on('end', () => {
            parts.set(entry.fileName, Buffer.concat(chunks));
            zip.readEntry();
          });
        });
      });
      zip.readEntry();
    });
  } catch {
    return null;
  }
}

/** A zip of these parts; null where a name is none that a zip may hold. */
export async function zipOf(parts) {
  const zip = new yazl.ZipFile();
  try {
    for (const [name, content] of parts) zip.addBuffer(Buffer.from(content), name, { mtime: new Date(2026, 0, 1), compress: false });
  } catch {
    return null;
  }
  zip.end();
  const chunks = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk);
  return Buffer.concat(chunks);
}
