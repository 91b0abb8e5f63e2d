import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('../../src/', import.meta.url));

const FILES: readonly ts.SourceFile[] = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
  .map((entry) => join(entry.parentPath, entry.name))
  .sort()
  .map((path) => ts.createSourceFile(relative(SRC, path).split(sep).join('/'), readFileSync(path, 'utf8'), ts.ScriptTarget.ES2022, true));

/** Every node of a file, and of all files, of a kind. */
function nodesOf<T extends ts.Node>(file: ts.SourceFile, is: (node: ts.Node) => node is T): T[] {
  const found: T[] = [];
  const walk = (node: ts.Node): void => {
    if (is(node)) found.push(node);
    node.forEachChild(walk);
  };
  walk(file);
  return found;
}

const everywhere = <T extends ts.Node>(is: (node: ts.Node) => node is T): { file: ts.SourceFile; node: T }[] => FILES.flatMap((file) => nodesOf(file, is).map((node) => ({ file, node })));
const isCallOrNew = (node: ts.Node): node is ts.CallExpression | ts.NewExpression => ts.isCallExpression(node) || ts.isNewExpression(node);

/** The constants at the top of a file that are made of nothing but written text, numbers, patterns and each other. */
function writtenConstants(file: ts.SourceFile): ReadonlySet<string> {
  const known = new Set<string>();
  for (const statement of file.statements) {
    if (!ts.isVariableStatement(statement) || !(statement.declarationList.flags & ts.NodeFlags.Const)) continue;
    for (const { name, initializer } of statement.declarationList.declarations) if (ts.isIdentifier(name) && initializer && isWritten(initializer, known)) known.add(name.text);
  }
  return known;
}

/** True for what stands in the source as it is: no name in it means anything that comes from outside. */
function isWritten(node: ts.Expression, known: ReadonlySet<string>): boolean {
  if (ts.isStringLiteralLike(node) || ts.isNumericLiteral(node) || ts.isRegularExpressionLiteral(node)) return true;
  if (ts.isIdentifier(node)) return known.has(node.text);
  if (ts.isTemplateExpression(node)) return node.templateSpans.every(({ expression }) => isWritten(expression, known));
  if (ts.isArrayLiteralExpression(node)) return node.elements.every((element) => isWritten(element, known));
  if (ts.isPropertyAccessExpression(node) && node.name.text === 'source') return isWritten(node.expression, known);
  if (ts.isTaggedTemplateExpression(node)) return node.tag.getText() === 'String.raw' && (ts.isNoSubstitutionTemplateLiteral(node.template) || isWritten(node.template, known));
  // ['a', 'b'].join('|')
  if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) return node.expression.name.text === 'join' && isWritten(node.expression.expression, known) && node.arguments.every((argument) => isWritten(argument, known));
  if (ts.isNewExpression(node)) return node.expression.getText() === 'RegExp' && (node.arguments ?? []).every((argument) => isWritten(argument, known));
  if (ts.isAsExpression(node) || ts.isParenthesizedExpression(node)) return isWritten(node.expression, known);
  return false;
}

describe('of mathjs', () => {
  it('only the parser and two numeric functions are taken, each by name, in one place', () => {
    const imports = everywhere(ts.isImportDeclaration).filter(({ node }) => (node.moduleSpecifier as ts.StringLiteral).text.startsWith('mathjs') && node.importClause!.isTypeOnly !== true);
    expect(imports.map(({ file, node }) => [file.fileName, node.importClause!.getText()])).toStrictEqual([['util/mathjs.ts', 'bundle']]);
    const { file } = imports[0]!;
    const taken = file.statements.filter((statement) => !ts.isImportDeclaration(statement)).map((statement) => statement.getText(file));
    expect(taken).toStrictEqual(['export const { parse, erf, quantileSeq } = bundle;']);
  });

  it('nothing is evaluated: no syntax tree of it is told to compile or evaluate itself', () => {
    const file = FILES.find(({ fileName }) => fileName === 'expressions/parse-expression.ts')!;
    const members = nodesOf(file, ts.isPropertyAccessExpression).map(({ name }) => name.text);
    expect(members).toContain('falseExpr');
    expect(members.filter((name) => ['compile', 'evaluate', 'eval', 'transform', 'toTex', 'toHTML', 'toString'].includes(name))).toStrictEqual([]);
  });
});

describe('no text from outside becomes', () => {
  it('code', () => {
    const odd = everywhere(isCallOrNew).filter(({ node }) => /^(?:globalThis\.)?(?:eval|Function|setTimeout|setInterval|setImmediate|execScript)$/.test(node.expression.getText()) || /\.constructor$|runIn(?:This|New)?Context$/.test(node.expression.getText()));
    // A timer takes a function that is written there, or a promise's own, never a text.
    const isFunction = (node: ts.Node | undefined): boolean => node !== undefined && (ts.isArrowFunction(node) || node.getText() === 'resolve');
    expect(odd.filter(({ node }) => !(/^set(?:Interval|Immediate|Timeout)$/.test(node.expression.getText()) && isFunction(node.arguments?.[0]))).map(({ file, node }) => `${file.fileName}: ${node.getText().slice(0, 80)}`)).toStrictEqual([]);
    const modules = everywhere(ts.isImportDeclaration).map(({ file, node }) => [file.fileName, (node.moduleSpecifier as ts.StringLiteral).text] as const);
    // A package of the older kind is loaded by name, and what runs in a thread of its own is a file of the program's own.
    expect(modules.filter(([, name]) => /^(?:node:)?(?:vm|child_process|worker_threads|module|repl|inspector)$/.test(name))).toStrictEqual([
      ['formats/xlsx-worker/reader-threads.ts', 'node:worker_threads'],
      ['formats/xlsx-worker/worker-connection.ts', 'node:worker_threads'],
      ['formats/xlsx-worker/xlsx-worker.ts', 'node:worker_threads'],
      ['workbook/excel-workbook.ts', 'node:module'],
      ['workbook/shards/shard-thread.ts', 'node:worker_threads'],
      ['workbook/shards/shard-worker.ts', 'node:worker_threads'],
      ['workbook/template-of.ts', 'node:module'],
    ]);
  });

  it('the name of a module', () => {
    const dynamic = everywhere(ts.isCallExpression).filter(({ node }) => node.expression.kind === ts.SyntaxKind.ImportKeyword || node.expression.getText() === 'require');
    expect(dynamic.length).toBeGreaterThan(10);
    expect(dynamic.filter(({ node }) => !ts.isStringLiteral(node.arguments[0]!)).map(({ file }) => file.fileName)).toStrictEqual([]);
  });

  it('a regular expression', () => {
    const made = everywhere(isCallOrNew).filter(({ node }) => node.expression.getText() === 'RegExp');
    const constants = new Map(FILES.map((file) => [file.fileName, writtenConstants(file)]));
    const open = made.filter(({ file, node }) => !(node.arguments ?? []).every((argument) => isWritten(argument, constants.get(file.fileName)!)));
    // The one place whose source is a parameter; its callers are looked at below.
    expect(open.map(({ file }) => file.fileName)).toStrictEqual(['readings/checklist-phrase-scan.ts']);
    expect(made.map(({ file }) => file.fileName)).toStrictEqual(['formats/neutralise-csv-text.ts', 'formats/neutralise-csv-text.ts', 'formats/xlsx-package/formula-pieces.ts', 'formats/xlsx-reader/shift-formula.ts', 'readings/checklist-phrase-scan.ts', 'readings/parse-pressure-text.ts', 'readings/parse-time-text.ts', 'workbook/normalise-formula.ts']);
    const callers = everywhere(ts.isCallExpression).filter(({ node }) => node.expression.getText() === 'wholeWords');
    expect(callers.length).toBeGreaterThan(3);
    expect(callers.filter(({ file, node }) => !node.arguments.every((argument) => isWritten(argument, constants.get(file.fileName)!))).map(({ file, node }) => `${file.fileName}: ${node.getText()}`)).toStrictEqual([]);
  });

  it('a regular expression by the way of match or search, which make one of a text', () => {
    const made = everywhere(ts.isCallExpression).filter(({ node }) => ts.isPropertyAccessExpression(node.expression) && ['match', 'matchAll', 'search'].includes(node.expression.name.text) && node.arguments.length === 1);
    const constants = new Map(FILES.map((file) => [file.fileName, writtenConstants(file)]));
    expect(made.length).toBeGreaterThan(2);
    expect(made.filter(({ file, node }) => !isWritten(node.arguments[0]!, constants.get(file.fileName)!)).map(({ file, node }) => `${file.fileName}: ${node.getText()}`)).toStrictEqual([]);
  });

  it('a pattern of replacement: what replaces is written here, or given by a function', () => {
    const made = everywhere(ts.isCallExpression).filter(({ node }) => ts.isPropertyAccessExpression(node.expression) && ['replace', 'replaceAll'].includes(node.expression.name.text) && node.arguments.length === 2);
    const constants = new Map(FILES.map((file) => [file.fileName, writtenConstants(file)]));
    const open = made.filter(({ file, node }) => !ts.isArrowFunction(node.arguments[1]!) && !isWritten(node.arguments[1]!, constants.get(file.fileName)!));
    // A date in digits, a function by its name, and pairs of words from a file of ours.
    expect(open.map(({ file, node }) => [file.fileName, node.arguments[1]!.getText()])).toStrictEqual([
      ['formats/xlsx-package/stamp-dates.ts', '`$1${date}`'],
      ['formats/xlsx-package/xml-text.ts', 'entity'],
      ['formats/xlsx-package/xml-text.ts', 'entity'],
      ['readings/header-words.ts', '` ${together} `'],
    ]);
  });
});
