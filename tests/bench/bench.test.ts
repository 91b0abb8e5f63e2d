import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { JOBS } from './jobs.js';
import { growthExponent } from './linear-table.js';
import { readmeTable, withMeasured } from './readme-table.js';
import { median } from './results-table.js';

let printed = '';

beforeAll(() => {
  execFileSync(process.execPath, [packagePath('node_modules', 'typescript', 'bin', 'tsc'), '-p', packagePath('tests', 'bench')], { stdio: 'inherit' });
  printed = execFileSync(process.execPath, [packagePath('out', 'bench', 'main.js'), '--size', 'small'], { encoding: 'utf8' });
}, 300_000);

describe('the bench', () => {
  test.each(JOBS.flatMap(({ title, lines }) => lines.map(({ name }) => [title, name] as const)))('%s: %s has a line with numbers', (title, name) => {
    const table = printed.split(`## ${title}\n`)[1]!.split('\n## ')[0]!;
    const line = table.split('\n').find((one) => one.startsWith(`| ${name} |`));
    expect(line).toMatch(/^\| .+ \| [\d.]+ m?s ± [\d.]+ m?s \| [\d.]+ m?s \| [\d,]+ \| \d+ MB \| [\d.]* \|$/);
  });

  test('says how long a start takes, and how the cost grows', () => {
    expect(printed).toMatch(/^\| `treadlebook --help` \| [\d.]+ m?s ± [\d.]+ m?s \| [\d.]+ \|$/m);
    for (const name of ['parse', 'evaluate', 'summarise', 'csv to csv', 'csv to workbook', 'read', 'verify']) expect(printed).toMatch(new RegExp(`^\\| ${name} \\|(?: [\\d.]+ s, \\d+ MB \\|){2} -?[\\d.]+ \\| -?[\\d.]+ \\|$`, 'm'));
  });
});

test('the exponent of growth is that of a power', () => {
  const points = [10, 100, 1000].map((size) => ({ size, cost: 7 * size ** 1.5 }));
  expect(growthExponent(points)).toBeCloseTo(1.5, 12);
});

test('the median is the middle value', () => {
  expect(median([9, 1, 5])).toBe(5);
});

describe('the table of README', () => {
  const measured = [2, 1, 3].map((seconds) => ({ seconds, cpu: seconds, peak: 50_000_000, made: 1 }));
  const results = JOBS[0]!.lines.map((line, index) => ({ line, measured: measured.map((one) => ({ ...one, seconds: one.seconds * (index + 1) })) }));

  test('sets ours beside each other line, by the median', () => {
    expect(readmeTable([{ job: JOBS[0]!, results }], 50_000).slice(2)).toStrictEqual([`| ${JOBS[0]!.title} | 2.0 s | 50 MB | ${JOBS[0]!.lines[1]!.name} | 4.0 s | 50 MB | 0.50 of its time |`]);
  });

  test('takes the place of the one before, and of nothing else', () => {
    const page = 'above\n<!-- measured: begin -->\n\nold\n\n<!-- measured: end -->\nbelow\n';
    expect(withMeasured(page, ['new'])).toBe(page.replace('old', 'new'));
    expect(() => withMeasured('no place', ['new'])).toThrow(/no place between/);
  });

  test('has every line that is measured', () => {
    const readme = readFileSync(packagePath('README.md'), 'utf8');
    for (const { title, lines } of JOBS) {
      expect(readme).toContain(`| ${title} | `);
      for (const { name } of lines.slice(1)) expect(readme).toMatch(new RegExp(`\\| ${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')} \\| [\\d.]+ m?s \\| \\d+ MB \\| [\\d.]+ of its time \\|`));
    }
  });
});
