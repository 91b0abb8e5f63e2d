import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';

const INDEX = packagePath('src', 'index.ts');
const program = ts.createProgram([INDEX], { module: ts.ModuleKind.NodeNext, moduleResolution: ts.ModuleResolutionKind.NodeNext, target: ts.ScriptTarget.ES2022, noEmit: true, skipLibCheck: true, types: [] });
const checker = program.getTypeChecker();
const exported = checker.getExportsOfModule(checker.getSymbolAtLocation(program.getSourceFile(INDEX)!)!).map((symbol) => ({ name: symbol.name, symbol: checker.getAliasedSymbol(symbol) }));

const documentation = (symbol: ts.Symbol): string => ts.displayPartsToString(symbol.getDocumentationComment(checker)).trim();

describe('every export of src/index.ts', () => {
  test('is found', () => {
    expect(exported.length).toBeGreaterThan(100);
    expect(exported.map(({ name }) => name)).toEqual(expect.arrayContaining(['evaluateReadings', 'TreadlebookError', 'Verdict']));
  });

  test('says in a sentence what it is', () => {
    const silent = exported.filter(({ symbol }) => documentation(symbol).length < 20);
    expect(silent.map(({ name }) => name)).toStrictEqual([]);
  });

  test('that is a class says so of each public method', () => {
    const silent = exported.flatMap(({ name, symbol }) =>
      [...(symbol.flags & ts.SymbolFlags.Class ? (symbol.members?.values() ?? []) : [])]
        .filter((member) => member.flags & ts.SymbolFlags.Method && !member.name.startsWith('__#') && !(ts.getCombinedModifierFlags(member.valueDeclaration!) & ts.ModifierFlags.Private))
        .filter((member) => documentation(member) === '')
        .map((member) => `${name}.${member.name}`),
    );
    expect(silent).toStrictEqual([]);
  });
});
