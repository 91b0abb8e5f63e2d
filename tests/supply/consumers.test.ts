import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { installPacked, packPackage } from './packed-package.js';

const run = promisify(execFile);
const folder = mkdtempSync(join(tmpdir(), 'treadlebook-consumer-'));
afterAll(() => rmSync(folder, { recursive: true }));

beforeAll(async () => {
  const packed = await packPackage();
  await installPacked(packed, folder);
  rmSync(packed.folder, { recursive: true });
  writeFileSync(join(folder, 'package.json'), '{"name":"consumer","private":true,"type":"module"}');
});

const PROGRAM = join(folder, 'node_modules', 'treadlebook', 'dist', 'cli', 'main.js');
const { version } = JSON.parse(readFileSync(packagePath('package.json'), 'utf8')) as { version: string };

async function node(...args: string[]): Promise<string> {
  const { stdout } = await run(process.execPath, args, { cwd: folder, maxBuffer: 1e8 });
  return stdout;
}

/** One inspection that fails: 49 CFR 393 and the shipped common practice both allow far less than 40 psi in a minute. */
const CSV = 'inspected_on,unit,released_primary_start,released_primary_end,released_time\n2026-03-14,K-101,112,72,1:00\n';

describe('the packed program, with no package beside it but those it is shipped with', () => {
  test('runs', async () => {
    expect(readFileSync(PROGRAM, 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/);
    expect(await node(PROGRAM, '--version')).toBe(`${version}\n`);
  });

  test('evaluates, writes, reads back and verifies', { timeout: 120_000 }, async () => {
    writeFileSync(join(folder, 'one.csv'), CSV);
    await node(PROGRAM, 'evaluate', 'one.csv', '-o', 'one.xlsx', '-q');
    expect(await node(PROGRAM, 'verify', 'one.xlsx')).toContain('nothing was found');
    const read = JSON.parse(await node(PROGRAM, 'evaluate', 'one.xlsx', '--json', '-q')) as { inspections: { unit: string; verdict: string }[] };
    expect(read.inspections.map(({ unit, verdict }) => [unit, verdict])).toStrictEqual([['K-101', 'fail']]);
  });
});

describe('the packed library', () => {
  const use = `const fleet = await evaluateReadings(new TextEncoder().encode(${JSON.stringify(CSV)}), { format: 'csv' });\nconsole.log(fleet.evaluations[0].verdict);\n`;

  test('is imported by a module', async () => {
    writeFileSync(join(folder, 'use.mjs'), `import { evaluateReadings } from 'treadlebook';\n${use}`);
    expect(await node('use.mjs')).toBe('fail\n');
  });

  test('gives its schemas and its package.json by name, and nothing from inside', async () => {
    const script = `const ids = ['treadlebook/schemas/limit-set.schema.json', 'treadlebook/package.json', 'treadlebook/dist/util/sha256.js'].map((id) => { try { return import.meta.resolve(id).split('/').at(-1); } catch (error) { return error.code; } }); console.log(ids.join(' '));`;
    expect(await node('--input-type=module', '-e', script)).toBe('limit-set.schema.json package.json ERR_PACKAGE_PATH_NOT_EXPORTED\n');
  });

  test('is imported by CommonJS with import(), and by require() where Node takes a module so', async () => {
    writeFileSync(join(folder, 'use.cjs'), `import('treadlebook').then(async ({ evaluateReadings }) => {\n${use}});\n`);
    expect(await node('use.cjs')).toBe('fail\n');
    writeFileSync(join(folder, 'require.cjs'), `try { console.log(typeof require('treadlebook').evaluateReadings); } catch (error) { console.log(error.code); }\n`);
    // Node's change log: require() of a module without a flag came with 20.19 and 22.12; process.features tells of it.
    const takesModules = (process.features as { require_module?: boolean }).require_module === true;
    expect(await node('require.cjs')).toBe(takesModules ? 'function\n' : 'ERR_REQUIRE_ESM\n');
    expect(await node('--no-experimental-require-module', 'require.cjs')).toBe('ERR_REQUIRE_ESM\n');
  });
});

describe('a consumer in TypeScript', () => {
  const source = `import { evaluateReadings, TreadlebookError, workbookOf, writeFileAtomically, type Evaluation, type LimitSet, type Verdict } from 'treadlebook';
const fleet = await evaluateReadings('one.csv', { limits: 'common-practice' });
const verdicts: Verdict[] = fleet.evaluations.map((one: Evaluation) => one.verdict);
await writeFileAtomically('out.xlsx', workbookOf(fleet), true);
export function codeOf(error: unknown): string | null {
  return error instanceof TreadlebookError ? error.code : null;
}
export const id = (set: LimitSet): string => set.id;
export const count: number = verdicts.length;
// @ts-expect-error a verdict is a word from a short list
export const wrong: number = verdicts[0]!;
// @ts-expect-error there is no such option
await evaluateReadings('one.csv', { limit: 'common-practice' });
`;
  beforeAll(() => {
    mkdirSync(join(folder, 'node_modules', '@types'), { recursive: true });
    symlinkSync(packagePath('node_modules', '@types', 'node'), join(folder, 'node_modules', '@types', 'node'), 'dir');
    writeFileSync(join(folder, 'use.ts'), source);
  });

  test.each([
    ['nodenext, with every shipped declaration checked too', ts.ModuleKind.NodeNext, ts.ModuleResolutionKind.NodeNext, false],
    ['bundler', ts.ModuleKind.ESNext, ts.ModuleResolutionKind.Bundler, true],
  ])('resolved as %s, compiles', { timeout: 120_000 }, (_name, module, moduleResolution, skipLibCheck) => {
    const program = ts.createProgram([join(folder, 'use.ts')], {
      module, moduleResolution, noEmit: true, strict: true, skipLibCheck, target: ts.ScriptTarget.ES2022, lib: ['lib.es2022.d.ts'], types: ['node'], typeRoots: [join(folder, 'node_modules', '@types')],
    });
    const faults = ts.getPreEmitDiagnostics(program).map(({ file, messageText }) => `${file?.fileName ?? ''}: ${ts.flattenDiagnosticMessageText(messageText, ' ')}`);
    expect(faults).toStrictEqual([]);
    expect(program.getSourceFiles().some(({ fileName }) => fileName.endsWith('/treadlebook/dist/index.d.ts'))).toBe(true);
  });
});
