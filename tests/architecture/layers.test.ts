import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const SRC = join(ROOT, 'src');

/** What each layer may import, beside itself and packages. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = (() => {
  const order = ['util', 'readings', 'expressions', 'limits', 'fleet', 'workbook', 'cli'];
  const allowed = Object.fromEntries(order.map((layer, index) => [layer, order.slice(0, index)]));
  for (const layer of order.slice(order.indexOf('expressions'))) allowed[layer]!.push('statistics');
  for (const layer of ['fleet', 'workbook', 'cli']) allowed[layer]!.push('physics');
  for (const layer of ['workbook', 'cli']) allowed[layer]!.push('formats', 'strokes');
  allowed['cli']!.push('sql');
  return { ...allowed, sql: ['util', 'statistics', 'readings', 'expressions', 'limits', 'fleet'], statistics: ['util'], physics: ['util'], formats: ['util'], strokes: ['util', 'readings', 'statistics'] };
})();

interface Edge {
  readonly from: string;
  readonly to: string;
}

const FILES = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
  .map((entry) => relative(SRC, join(entry.parentPath, entry.name)).split(sep).join('/'))
  .sort();

/** Every import of a file: static, of types only, of re-exports, and dynamic. */
function importsOf(file: string): string[] {
  return ts.preProcessFile(readFileSync(join(SRC, file), 'utf8'), true, true).importedFiles.map(({ fileName }) => fileName);
}

const EDGES: readonly Edge[] = FILES.flatMap((from) =>
  importsOf(from)
    .filter((specifier) => specifier.startsWith('.'))
    .map((specifier) => ({ from, to: posix.join(dirname(from), specifier).replace(/\.js$/, '.ts') })),
);

const layerOf = (file: string): string => (file.includes('/') ? file.split('/')[0]! : file);

/** The files of an import circle, or null. Imports of types count too. */
function findCircle(edges: readonly Edge[]): string[] | null {
  const next = new Map<string, string[]>();
  for (const { from, to } of edges) next.set(from, [...(next.get(from) ?? []), to]);
  const done = new Set<string>();
  const walk = (file: string, path: readonly string[]): string[] | null => {
    if (path.includes(file)) return [...path.slice(path.indexOf(file)), file];
    if (done.has(file)) return null;
    for (const to of next.get(file) ?? []) {
      const circle = walk(to, [...path, file]);
      if (circle) return circle;
    }
    done.add(file);
    return null;
  };
  for (const file of next.keys()) {
    const circle = walk(file, []);
    if (circle) return circle;
  }
  return null;
}

describe('the layers of src', () => {
  it('hold every file', () => {
    expect(FILES.length).toBeGreaterThan(50);
    expect([...new Set(FILES.map(layerOf))].filter((layer) => !Object.hasOwn(MAY_IMPORT, layer) && layer !== 'index.ts')).toStrictEqual([]);
  });

  it('import files that exist, by their .js names, and nothing outside src', () => {
    const odd = FILES.flatMap((file) => importsOf(file).filter((specifier) => specifier.startsWith('.') && !specifier.endsWith('.js')).map((specifier) => `${file}: ${specifier}`));
    expect(odd).toStrictEqual([]);
    expect(EDGES.filter(({ to }) => to.startsWith('..') || !existsSync(join(SRC, to)))).toStrictEqual([]);
  });

  it('point one way', () => {
    const upward = EDGES.filter(({ from, to }) => layerOf(from) !== 'index.ts' && layerOf(from) !== layerOf(to) && !(MAY_IMPORT[layerOf(from)] ?? []).includes(layerOf(to)));
    expect(upward).toStrictEqual([]);
  });

  it('have no circle of imports', () => {
    expect(findCircle(EDGES)).toBeNull();
  });

  it('import only the packages that are declared, and Node itself', () => {
    const { dependencies: needed, optionalDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as Record<'dependencies' | 'optionalDependencies', Record<string, string>>;
    const dependencies = { ...needed, ...optionalDependencies };
    const packageOf = (specifier: string): string => specifier.split('/').slice(0, specifier.startsWith('@') ? 2 : 1).join('/');
    const strange = FILES.flatMap((file) => importsOf(file).filter((specifier) => !/^(\.|node:)/.test(specifier) && !Object.hasOwn(dependencies, packageOf(specifier))).map((specifier) => `${file}: ${specifier}`));
    expect(strange).toStrictEqual([]);
  });

  it('are listed by src/index.ts, which holds exports from them and nothing else', () => {
    const source = ts.createSourceFile('index.ts', readFileSync(join(SRC, 'index.ts'), 'utf8'), ts.ScriptTarget.ES2022);
    const others = source.statements.filter((statement) => !(ts.isExportDeclaration(statement) && statement.moduleSpecifier)).map((statement) => statement.getText(source));
    expect(others).toStrictEqual([]);
    expect(source.statements.length).toBeGreaterThan(0);
  });
});

describe('the search for circles', () => {
  it('finds one, and none where there is none', () => {
    const edge = (from: string, to: string): Edge => ({ from, to });
    expect(findCircle([edge('a', 'b'), edge('b', 'c'), edge('c', 'b')])).toStrictEqual(['b', 'c', 'b']);
    expect(findCircle([edge('a', 'b'), edge('a', 'c'), edge('b', 'd'), edge('c', 'd')])).toBeNull();
  });
});
