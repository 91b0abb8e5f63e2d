import { rmSync } from 'node:fs';
import { makeBenchFiles, type BenchFiles } from './bench-files.js';
import type { Measured } from './measure.js';

const MEASURED = ['parse', 'csv to csv', 'csv to workbook'] as const;

/** The slope of a straight line through the logarithms: 1 is linear, 2 quadratic. */
export function growthExponent(points: readonly { readonly size: number; readonly cost: number }[]): number {
  const logs = points.map(({ size, cost }) => [Math.log(size), Math.log(cost)] as const);
  const mean = (at: 0 | 1): number => logs.reduce((sum, log) => sum + log[at], 0) / logs.length;
  const [x, y] = [mean(0), mean(1)];
  return logs.reduce((sum, log) => sum + (log[0] - x) * (log[1] - y), 0) / logs.reduce((sum, log) => sum + (log[0] - x) ** 2, 0);
}

/** A Markdown table of processor time and peak memory at each size, with the exponent fitted to all sizes, of which a start takes its part, and to the largest two, where that part is small. */
export async function linearTable(folder: string, sizes: readonly number[], measure: (measurement: string, files: BenchFiles) => Measured): Promise<string[]> {
  const costs = new Map<string, Measured[]>(MEASURED.map((name) => [name, []]));
  for (const size of sizes) {
    const files = await makeBenchFiles(folder, size, false);
    for (const name of MEASURED) costs.get(name)!.push(measure(name, files));
    rmSync(files.csv);
  }
  const cell = ({ cpu, peak }: Measured): string => `${cpu.toFixed(2)} s, ${(peak / 1e6).toFixed(0)} MB`;
  return [
    `| CPU, peak | ${sizes.map((size) => size.toLocaleString('en')).join(' | ')} | exponent | of the last two |`,
    `|---|${sizes.map(() => '---|').join('')}---|---|`,
    ...MEASURED.map((name) => {
      const measured = costs.get(name)!;
      const points = sizes.map((size, index) => ({ size, cost: measured[index]!.cpu }));
      return `| ${name} | ${measured.map(cell).join(' | ')} | ${growthExponent(points).toFixed(2)} | ${growthExponent(points.slice(-2)).toFixed(2)} |`;
    }),
  ];
}
