import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { EXIT } from '../../src/cli/exit-codes.js';
import { INPUT_CAPS } from '../../src/formats/input-caps.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { limitSetIds, loadLimitSet, parseLimitSet } from '../../src/limits/load-limit-set.js';
import { VERDICTS } from '../../src/limits/verdict.js';
import { fieldDictionary, fieldPosition } from '../../src/readings/dictionary.js';
import type { Field } from '../../src/readings/field.js';
import { readEntry } from '../../src/readings/read-entry.js';
import { packagePath } from '../../src/util/package-path.js';
import { cautions } from '../../src/workbook/cautions.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { evaluationJson } from '../../src/workbook/evaluation-json.js';
import { MOST_LIVE_INSPECTIONS } from '../../src/workbook/build-workbook.js';
import { programVersion } from '../../src/workbook/program-version.js';
import { EVERY_PART, sheetPurposes } from '../../src/workbook/sheet-purposes.js';
import { codeSpans, sectionOf, tableOf } from './document-table.js';
import { fencedBlocks } from './fenced-blocks.js';

const README = 'README.md';
const text = readFileSync(packagePath(README), 'utf8');
const dictionary = fieldDictionary();

describe('README', () => {
  test('shows the cautions word for word', () => {
    expect(sectionOf(README, 'Cautions').trim().split('\n')).toStrictEqual(cautions().map((caution) => `- ${caution}`));
  });

  test('says what each sheet answers as the workbook does', () => {
    expect(tableOf(README, 'What each sheet answers')).toStrictEqual([...sheetPurposes(EVERY_PART)]);
  });

  test('lists every cap with its default', () => {
    const caps = Object.entries(INPUT_CAPS).flatMap(([format, named]) => Object.entries<{ readonly most: number; readonly of: string }>(named).map(([name, { most, of }]) => [`\`${format}.${name}\``, String(most), of]));
    expect(tableOf(README, 'Caps')).toStrictEqual(caps);
  });

  test('names every column in its group', () => {
    const rowsOf = (fields: readonly Field[]): string[][] => dictionary.groups.flatMap(({ group, title }) => {
      const names = fields.filter((field) => field.group === group).map(({ name }) => `\`${name}\``);
      return names.length === 0 ? [] : [[title, names.join(' ')]];
    });
    const inSheetOrder = dictionary.sheetOrder.map((position) => dictionary.fields[position]!);
    expect(tableOf(README, 'The columns')).toStrictEqual(rowsOf(dictionary.fields.slice(0, dictionary.standardCount)));
    expect(tableOf(README, 'Columns that are shown when used')).toStrictEqual(rowsOf(inSheetOrder.filter((field) => field.when_used)));
  });

  const ways: [string, string, string, string][] = tableOf(README, 'How readings may be written').map(([kind, understood, not]) => {
    const field = { pressure: 'released_primary_start', 'warning pressure': 'light_on_at', time: 'released_time', date: 'inspected_on', 'yes or no': 'audible_leak' }[kind!] ?? 'cut_in';
    return [kind!, field, understood!, not!];
  });
  test.each(ways)('is right about how a %s may be written', (_, name, understood, not) => {
    const field = dictionary.fields[fieldPosition(dictionary, name)]!;
    const trouble = (cell: string): string => readEntry(field, cell, { unit: 'psi', columnUnit: null, dateOrder: 'dmy', date1904: false }).trouble?.code ?? 'understood';
    for (const cell of codeSpans(understood)) expect([cell, trouble(cell)]).toStrictEqual([cell, 'understood']);
    for (const cell of codeSpans(not)) expect([cell, trouble(cell)]).toStrictEqual([cell, 'not_understood']);
    expect(codeSpans(understood).length).toBeGreaterThan(0);
  });

  test('lists the limit sets with the status of their sources', () => {
    const rows = limitSetIds().map((id) => {
      const { authority, checks, conditions } = loadLimitSet(id);
      const statuses = new Set([...checks, ...conditions].map(({ source }) => source.status));
      return [`\`${id}\``, authority, ['read', 'secondary', 'memory', 'common practice'].filter((status) => statuses.has(status as 'read')).join(', ')];
    });
    expect(tableOf(README, 'Limit sets')).toStrictEqual(rows);
  });

  test('shows a limit set of one\'s own that is the sample, and holds', () => {
    const [block, ...others] = fencedBlocks(README).filter(({ language }) => language === 'json');
    expect(others).toStrictEqual([]);
    expect(`${block!.text}\n`).toBe(readFileSync(packagePath('samples', 'our-own-limits.json'), 'utf8'));
    const shipped = loadLimitSet('common-practice').checks.map(({ check }) => check);
    const { checks, set } = compileLimitSet(parseLimitSet(block!.text, README));
    expect(checks.map(({ check }) => check).filter((check) => !shipped.includes(check))).toStrictEqual(['first_drop', 'audible']);
    expect(set.checks.filter(({ check }) => check === 'warning').map(({ at_least }) => at_least)).toStrictEqual([65]);
  });

  test('explains every verdict', () => {
    expect(tableOf(README, 'Verdicts').map(([verdict]) => verdict)).toStrictEqual([...VERDICTS]);
  });

  test('explains every problem code', () => {
    const codes = [...readFileSync(packagePath('src', 'readings', 'problem.ts'), 'utf8').matchAll(/^ {2}\| '(\w+)'/gm)].map(([, code]) => `\`${code}\``);
    expect(codes.length).toBeGreaterThan(0);
    expect(tableOf(README, 'Problems').map(([code]) => code!).sort()).toStrictEqual(codes.sort());
  });

  test('explains every exit code', () => {
    expect(tableOf(README, 'Exit codes').map(([code]) => Number(code))).toStrictEqual(Object.values(EXIT));
  });

  test('names the keys of the JSON output', async () => {
    const fleet = await evaluateReadings(packagePath('samples', 'invented-fleet.csv'));
    const printed = JSON.parse([...evaluationJson(fleet)].join('')) as { inspections: [{ checks: [object] }] };
    const [inspection] = printed.inspections;
    const named = sectionOf(README, 'The JSON output').split('\n').filter((line) => line.startsWith('- ')).map((line) => codeSpans(line.slice(line.indexOf(':'))));
    expect(named).toStrictEqual([printed, inspection, inspection.checks[0]].map((object) => Object.keys(object)));
  });

  test('has a script for every use, and a use for every script', () => {
    const links = [...sectionOf(README, 'Start: as a library').matchAll(/\]\(samples\/([\w-]+\.mjs)\)/g)].map(([, name]) => name!);
    const scripts = readdirSync(packagePath('samples')).filter((name) => name.endsWith('.mjs') && name !== 'make-fleet.mjs');
    expect(links.sort()).toStrictEqual(scripts.sort());
  });

  test('says from when on there are no live formulas, and has notes for this version', () => {
    expect(text).toContain(`Above ${MOST_LIVE_INSPECTIONS.toLocaleString('en')} inspections`);
    expect(text).toContain(`### ${programVersion()}\n`);
  });
});

describe.each([README, 'DEVELOPERS.md'])('%s', (document) => {
  test('links to files that exist, but for the two pictures', () => {
    const links = [...readFileSync(packagePath(document), 'utf8').matchAll(/\]\(([^)#]+)\)/g)].map(([, target]) => target!);
    expect(links.length).toBeGreaterThan(0);
    const missing = links.filter((target) => !target.includes('://') && !target.includes('picture-') && !existsSync(packagePath(...target.split('/'))));
    expect(missing).toStrictEqual([]);
  });
});
