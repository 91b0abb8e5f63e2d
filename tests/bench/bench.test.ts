import { execFileSync } from 'node:child_process';
import { beforeAll, describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { JOBS } from './jobs.js';
import { growthExponent } from './linear-table.js';
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
    expect(printed).toMatch(/^\| csv to csv \|(?: [\d.]+ s, \d+ MB \|)+ -?[\d.]+ \|$/m);
  });
});

test('the exponent of growth is that of a power', () => {
  const points = [10, 100, 1000].map((size) => ({ size, cost: 7 * size ** 1.5 }));
  expect(growthExponent(points)).toBeCloseTo(1.5, 12);
});

test('the median is the middle value', () => {
  expect(median([9, 1, 5])).toBe(5);
});
