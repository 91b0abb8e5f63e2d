import type { Line } from './jobs.js';
import type { Measured } from './measure.js';

/** A line and what its runs gave. */
export interface LineResult {
  readonly line: Line;
  readonly measured: readonly Measured[];
}

/** The middle value; of an even count, the upper of the two. */
export function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function seconds(value: number): string {
  return value < 1 ? `${(value * 1000).toFixed(0)} ms` : `${value.toFixed(2)} s`;
}

function withSpread(values: readonly number[]): string {
  return `${seconds(median(values))} ± ${seconds((Math.max(...values) - Math.min(...values)) / 2)}`;
}

/** The Markdown table of one job, of which the first line is ours. */
export function resultsTable(results: readonly LineResult[], inspections: number): string[] {
  const cpuOf = ({ measured }: LineResult): number => median(measured.map(({ cpu }) => cpu));
  const ours = results[0]!;
  return [
    '| | time | CPU | inspections/s | peak | beside |',
    '|---|---|---|---|---|---|',
    ...results.map((result) => {
      const times = result.measured.map((one) => one.seconds);
      const peak = median(result.measured.map((one) => one.peak)) / 1e6;
      const beside = result === ours ? '' : (cpuOf(ours) / cpuOf(result)).toFixed(2);
      return `| ${result.line.name} | ${withSpread(times)} | ${seconds(cpuOf(result))} | ${Math.round(inspections / median(times)).toLocaleString('en')} | ${peak.toFixed(0)} MB | ${beside} |`;
    }),
  ];
}

/** The Markdown table of what it takes to start: the first line is the bare program. */
export function startTable(lines: readonly { readonly name: string; readonly seconds: readonly number[] }[]): string[] {
  const bare = median(lines[0]!.seconds);
  return ['| | time | of a bare start |', '|---|---|---|', ...lines.map(({ name, seconds: times }) => `| ${name} | ${withSpread(times)} | ${(median(times) / bare).toFixed(2)} |`)];
}
