import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/help.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetSchema } from '../../src/limits/limit-set.js';
import { limitSetIds, loadLimitSet } from '../../src/limits/load-limit-set.js';
import { fieldDictionary } from '../../src/readings/dictionary.js';
import { cautions } from '../../src/workbook/cautions.js';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { runInside } from './run-inside.js';
import { inFolder, PACKAGE, runProgram } from './run-program.js';

describe('help', () => {
  it.each([[['--help']], [['-h']], [['help']], ...COMMANDS.map((command) => [[command, '--help']]), [['evaluate', '-h', '--nonsense']], [['help', 'blank']]])('%j: examples first, every caution, on standard output', async (args) => {
    const { code, out, err } = await runInside(args);
    expect([code, err]).toStrictEqual([0, '']);
    expect(out.split('\n').slice(0, 2)).toStrictEqual(['Examples', expect.stringMatching(/^ {2}\S.*treadlebook |^ {2}treadlebook /)]);
    for (const caution of cautions()) expect(out).toContain(caution);
    expect(out).toMatch(/2 usage; 3 input cannot be read; 4 output cannot be written/);
  });

  it('of the program names every command, and of a command every option', async () => {
    const { out } = await runInside(['--help']);
    for (const command of COMMANDS) expect(out).toContain(`treadlebook ${command}`);
    const evaluate = (await runInside(['evaluate', '--help'])).out;
    for (const option of ['--output', '--limits', '--json', '--from', '--to', '--as-of', '--by', '--baseline', '--date-order', '--sheet', '--map', '--show-map', '--units', '--strict', '--force', '--quiet']) expect(evaluate).toContain(option);
  });

  it('stands on standard error with exit 2 when no command is given', async () => {
    const { code, out, err } = await runInside([]);
    expect([code, out]).toStrictEqual([2, '']);
    expect(err).toMatch(/^Examples\n/);
  });
});

it('--version prints the version of package.json', async () => {
  const { version } = JSON.parse(readFileSync(join(PACKAGE, 'package.json'), 'utf8')) as { version: string };
  for (const option of ['--version', '-V']) expect(await runInside([option])).toStrictEqual({ code: 0, out: `${version}\n`, err: '' });
});

describe('treadlebook limits', () => {
  it('lists the sets, and marks the one that is used when none is named', async () => {
    const { code, out, err } = await runInside(['limits']);
    expect([code, err]).toStrictEqual([0, '']);
    for (const id of limitSetIds()) expect(out).toContain(id);
    expect(out).toMatch(/^No one authority\n {2}common-practice +State-inspection style check, common practice \(the default\) \[common practice\]\n\nUnited States\n/);
    expect(out).toMatch(/^ {2}us-nevada +Nevada, air-brake performance \[secondary\]$/m);
    for (const line of out.split('\n')) expect(line.length).toBeLessThan(140);
    const json = JSON.parse((await runInside(['limits', '--json'])).out) as { id: string; default: boolean }[];
    expect(json.map(({ id }) => id)).toStrictEqual(limitSetIds());
    expect(json.filter((set) => set.default).map(({ id }) => id)).toStrictEqual(['common-practice']);
  });

  it.each(limitSetIds())('shows %s with the source and status of every limit', async (id) => {
    const { out } = await runInside(['limits', id]);
    const set = loadLimitSet(id);
    for (const { source } of set.checks) expect(out).toContain(`${source.citation}: ${source.printed} [${source.status}]`);
    expect(out).toContain(set.notice);
    if (set.interval === undefined) expect(out).toContain('\nNext inspection: the set names no interval\n');
    else {
      const { months, source } = set.interval;
      expect(out).toMatch(new RegExp(`\\nNext inspection: due ${months} months after the latest\\n {2}\\S`));
      expect(out).toContain(`  ${source.citation}: ${source.printed} [${source.status}]\n`);
    }
    const { sha256, ...shown } = JSON.parse((await runInside(['limits', id, '--json'])).out) as Record<string, unknown>;
    expect(limitSetSchema.parse(shown)).toStrictEqual(set);
    expect(sha256).toBe(compileLimitSet(set).sha256);
  });
});

it.each([
  [{ days: 1 }, 'Next inspection: due 1 day after the latest'],
  [{ days: 90 }, 'Next inspection: due 90 days after the latest'],
  [null, 'Next inspection: the set names no interval'],
])('treadlebook limits shows the interval %j of a set of one\'s own', async (interval, line) => {
  await inFolder(async (folder) => {
    const source = { citation: 'Our own rule', printed: '(as often as we like)', status: 'memory' };
    const set = { format: 'treadlebook-limits', version: 1, id: 'own', title: 'Own', authority: 'Us', notice: 'Ours.', checks: [{ check: 'released', title: 'Released', measure: 'released_loss', at_most: 1, unit: 'psi/min', source }], ...(interval && { interval: { ...interval, source } }) };
    writeFileSync(join(folder, 'own.json'), JSON.stringify(set));
    const { code, out } = await runInside(['limits', join(folder, 'own.json')]);
    expect(code).toBe(0);
    expect(out.split('\n')).toContain(line);
    expect(out.trimEnd().endsWith(interval ? `${line}\n  Our own rule: (as often as we like) [memory]` : line)).toBe(true);
  });
});

it('treadlebook fields lists every column with its spellings', async () => {
  const { fields, sheetOrder } = fieldDictionary();
  const { code, out, err } = await runInside(['fields']);
  expect([code, err]).toStrictEqual([0, '']);
  const json = JSON.parse((await runInside(['fields', '--json'])).out) as { name: string; spellings: string[]; help: string; when_used: boolean }[];
  expect(json.map(({ name }) => name)).toStrictEqual(sheetOrder.map((position) => fields[position]!.name).filter((name) => !name.endsWith('_half_width')));
  expect(json.filter((field) => field.when_used).map(({ name }) => name)).toContain('suspension_start');
  for (const { name, spellings, help } of json) {
    expect(out).toMatch(new RegExp(`^ {2}${name} `, 'm'));
    for (const words of [help, ...spellings]) expect(out).toContain(words);
  }
});

describe('treadlebook blank', () => {
  it('writes a workbook with the rows that are asked for, or a table with the header alone', { timeout: 30_000 }, async () => {
    await inFolder(async (folder) => {
      expect(await runInside(['blank', '-o', join(folder, 'entry.xlsx'), '--rows', '7', '--limits', 'us-nevada'])).toStrictEqual({ code: 0, out: '', err: `Wrote ${join(folder, 'entry.xlsx')}.\n` });
      expect(await runInside(['blank', '-o', join(folder, 'entry.csv'), '--quiet'])).toStrictEqual({ code: 0, out: '', err: '' });
      const { fields, standardCount } = fieldDictionary();
      expect(readFileSync(join(folder, 'entry.csv'), 'utf8')).toBe(`${fields.slice(0, standardCount).map(({ name }) => name).join(',')}\r\n`);
      const names = (await openXlsx(readFileSync(join(folder, 'entry.xlsx')))).definedNames;
      expect(names.get('readings_unit')).toMatch(/\$4:\$[A-Z]+\$10$/);
      expect(readdirSync(folder).sort()).toStrictEqual(['entry.csv', 'entry.xlsx']);
    });
  });

  it('is refused when it is evaluated without a row, in one line', { timeout: 30_000 }, async () => {
    await inFolder(async (folder) => {
      await runInside(['blank', '-o', join(folder, 'entry.xlsx'), '--rows', '3']);
      const run = await runProgram(['evaluate', 'entry.xlsx', '-o', 'out.xlsx'], { folder });
      expect(run).toMatchObject({ code: 3, out: '', err: 'treadlebook: entry.xlsx: there is no inspection below the header; type or paste at least one row\n' });
      expect(readdirSync(folder)).toStrictEqual(['entry.xlsx']);
    });
  });
});
