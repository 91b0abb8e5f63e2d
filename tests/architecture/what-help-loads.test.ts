import { readFileSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('../../src/', import.meta.url));

/** What a file imports as it is loaded: no types, and nothing that is imported when it is called for. */
function loadedWith(file: string): string[] {
  const { statements } = ts.createSourceFile(file, readFileSync(join(SRC, file), 'utf8'), ts.ScriptTarget.ES2022);
  return statements.flatMap((statement) => {
    const isType = ts.isImportDeclaration(statement) ? statement.importClause?.isTypeOnly : ts.isExportDeclaration(statement) ? statement.isTypeOnly : true;
    const from = ts.isImportDeclaration(statement) || ts.isExportDeclaration(statement) ? statement.moduleSpecifier : undefined;
    return isType === true || from === undefined ? [] : [(from as ts.StringLiteral).text];
  });
}

/** Everything that is loaded with some files: files of ours and packages. */
function allLoadedWith(files: readonly string[]): Set<string> {
  const loaded = new Set<string>();
  const load = (file: string): void => {
    if (loaded.has(file)) return;
    loaded.add(file);
    for (const specifier of loadedWith(file)) {
      if (specifier.startsWith('.')) load(posix.join(dirname(file), specifier).replace(/\.js$/, '.ts'));
      else loaded.add(specifier);
    }
  };
  files.forEach(load);
  return loaded;
}

describe('the start of the program', () => {
  it('loads no package, since --help needs none and loading one takes as long as all the rest', () => {
    const loaded = allLoadedWith(['cli/main.ts', 'cli/run.ts']);
    expect([...loaded].filter((name) => !name.startsWith('node:') && !name.endsWith('.ts'))).toStrictEqual([]);
    expect(loaded).toContain('workbook/cautions.ts');
  });

  it('is told from a file that does load packages', () => {
    expect([...allLoadedWith(['workbook/evaluate-readings.ts'])]).toEqual(expect.arrayContaining(['zod', 'mathjs/lib/browser/math.js']));
  });
});
