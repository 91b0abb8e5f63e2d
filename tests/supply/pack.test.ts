import { readFileSync, readdirSync, rmSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { checkPackage, createPackageFromTarballData } from '@arethetypeswrong/core';
import { publint } from 'publint';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { packPackage } from './packed-package.js';
import type { PackedPackage } from './packed-package.js';

/** Everything that may be packed, and nothing else may. */
const MAY_BE_PACKED = [
  /^(?:README\.md|DEVELOPERS\.md|LICENSE|package\.json)$/,
  /^dist\/(?:[\w-]+\/)*[\w-]+(?:\.js|\.d\.ts)$/,
  /^workbooks\/(?:limits\/)?[\w-]+\.json$/,
  /^schemas\/[\w-]+\.(?:schema|csv-metadata)\.json$/,
  /^samples\/(?:[\w-]+\.(?:mjs|csv|json|png)|README\.md)$/,
  /^samples\/messy\/(?:[\w.-]+\.(?:csv|tsv|txt|json|xlsx|mjs)|README\.md)$/,
];

let packed: PackedPackage;
beforeAll(async () => {
  packed = await packPackage();
});
afterAll(() => rmSync(packed.folder, { recursive: true }));

const filesBelow = (folder: string, ending: string): string[] =>
  readdirSync(packagePath(folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(ending))
    .map((entry) => relative(packagePath(), join(entry.parentPath, entry.name)).split(sep).join('/'));

describe('what is packed', () => {
  test('is what may be, and nothing else', () => {
    expect(packed.files.map(({ path }) => path).filter((path) => !MAY_BE_PACKED.some((pattern) => pattern.test(path)))).toStrictEqual([]);
  });

  test('has every file of the source, compiled and typed, and all data', () => {
    const paths = new Set(packed.files.map(({ path }) => path));
    const compiled = filesBelow('src', '.ts').filter((path) => !path.endsWith('.d.ts')).flatMap((path) => ['.js', '.d.ts'].map((ending) => path.replace(/^src/, 'dist').replace(/\.ts$/, ending)));
    const due = [...compiled, ...filesBelow('workbooks', '.json'), ...filesBelow('schemas', '.json'), ...filesBelow('samples', '.mjs'), 'README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json'];
    expect(due.length).toBeGreaterThan(500);
    expect(due.filter((path) => !paths.has(path))).toStrictEqual([]);
    expect([...paths].filter((path) => path.startsWith('dist/') && !compiled.includes(path))).toStrictEqual([]);
  });

  test('is small', () => {
    expect(packed.size).toBeLessThan(1_300_000);
    expect(packed.unpackedSize).toBeLessThan(4_000_000);
    expect(packed.files.filter(({ size }) => size > 400_000 || size === 0)).toStrictEqual([]);
  });

  test('points at no source map, and at no place of the machine that built it', () => {
    const scripts = packed.files.map(({ path }) => path).filter((path) => /\.(?:js|ts|mjs|json|md)$/.test(path));
    const texts = scripts.map((path) => [path, readFileSync(packagePath(...path.split('/')), 'utf8')] as const);
    expect(texts.filter(([, text]) => /^\/\/[#@] sourceMappingURL/m.test(text) || text.includes(packagePath('src'))).map(([path]) => path)).toStrictEqual([]);
  });
});

describe('what others make of it', () => {
  test('publint, taken strictly, has nothing to say', async () => {
    const tarball = readFileSync(packed.tarball);
    const { messages } = await publint({ pack: { tarball: tarball.buffer.slice(tarball.byteOffset, tarball.byteOffset + tarball.byteLength) }, strict: true });
    expect(messages).toStrictEqual([]);
  });

  test('its types are found wherever its code is; CommonJS is told that it is a module', async () => {
    const analysis = await checkPackage(createPackageFromTarballData(new Uint8Array(readFileSync(packed.tarball))));
    if (analysis.types === false) throw new Error('the package has no types');
    expect(Object.keys(analysis.entrypoints).filter((name) => !analysis.entrypoints[name]?.isWildcard)).toStrictEqual(['.', './package.json']);
    expect(analysis.entrypoints['.']?.hasTypes).toBe(true);
    // node10 is the way in which TypeScript looked before "exports"; no Node that we run on does.
    const problems = analysis.problems.filter((problem) => !('resolutionKind' in problem && problem.resolutionKind === 'node10'));
    expect(problems.map((problem) => [problem.kind, 'entrypoint' in problem ? problem.entrypoint : null, 'resolutionKind' in problem ? problem.resolutionKind : null]).filter(([, entrypoint]) => entrypoint !== './schemas/*')).toStrictEqual([['CJSResolvesToESM', '.', 'node16-cjs']]);
  });
});
