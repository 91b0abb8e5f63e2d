import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { makeBenchFiles, type BenchFiles } from './bench-files.js';
import type { Measured } from './measure.js';
import { WRITTEN } from './measurements.js';

/** In this order: the last two read the workbook that the one before them wrote. */
const MEASURED = ['parse', 'evaluate', 'summarise', 'csv to csv', 'csv to workbook', 'read', 'verify'] as const;
/** A workbook of a million takes minutes to verify, so its growth is fitted below that. */
const MOST: Readonly<Partial<Record<(typeof MEASURED)[number], number>>> = { verify: 50_000 };

/** The slope of a straight line through the logarithms: 1 is linear, 2 quadratic. */
export function growthExponent(points: readonly { readonly size: number; readonly cost: number }[]): number {
  const logs = points.map(({ size, cost }) => [Math.log(size), Math.log(cost)] as const);
  const mean = (at: 0 | 1): number => logs.reduce((sum, log) => sum + log[at], 0) / logs.length;
  const [x, y] = [mean(0), mean(1)];
  return logs.reduce((sum, log) => sum + (log[0] - x) * (log[1] - y), 0) / logs.reduce((sum, log) => sum + (log[0] - x) ** 2, 0);
}

/** A Markdown table of processor time and peak memory at each size, with the exponent fitted to all sizes, of which a start takes its part, and to the largest two, where that part is small. */
export async function linearTable(folder: string, sizes: readonly number[], measure: (measurement: string, files: BenchFiles) => Measured): Promise<string[]> {
  const costs = new Map<string, { readonly size: number; readonly measured: Measured }[]>(MEASURED.map((name) => [name, []]));
  for (const size of sizes) {
    const files = { ...(await makeBenchFiles(folder, size, false)), xlsx: join(folder, WRITTEN) };
    for (const name of MEASURED) if (size <= (MOST[name] ?? Infinity)) costs.get(name)!.push({ size, measured: measure(name, files) });
    for (const file of [files.csv, files.xlsx]) rmSync(file);
  }
  const cell = (one: { readonly measured: Measured } | undefined): string => (one === undefined ? 'not measured' : `${one.measured.cpu.toFixed(2)} s, ${(one.measured.peak / 1e6).toFixed(0)} MB`);
  return [
    `| CPU, peak | ${sizes.map((size) => size.toLocaleString('en')).join(' | ')} | exponent | of the last two |`,
    `|---|${sizes.map(() => '---|').join('')}---|---|`,
    ...MEASURED.map((name) => {
      const points = costs.get(name)!.map(({ size, measured }) => ({ size, cost: measured.cpu }));
      return `| ${name} | ${sizes.map((_, index) => cell(costs.get(name)![index])).join(' | ')} | ${growthExponent(points).toFixed(2)} | ${growthExponent(points.slice(-2)).toFixed(2)} |`;
    }),
  ];
}
