import type { Job } from './jobs.js';
import { median, type LineResult } from './results-table.js';

/** Between these lines of README stands what was measured last. */
const [BEGIN, END] = ['<!-- measured: begin -->', '<!-- measured: end -->'];

/** A job and what its lines gave, ours first. */
export interface JobResult {
  readonly job: Job;
  readonly results: readonly LineResult[];
}

const time = ({ measured }: LineResult): number => median(measured.map(({ seconds }) => seconds));
const memory = ({ measured }: LineResult): string => `${(median(measured.map(({ peak }) => peak)) / 1e6).toFixed(0)} MB`;
const shown = (seconds: number): string => (seconds < 1 ? `${(seconds * 1000).toFixed(0)} ms` : `${seconds.toFixed(1)} s`);

/** The lines of README's table: ours beside each floor and each other program, by the clock. */
export function readmeTable(jobs: readonly JobResult[], inspections: number): string[] {
  return [
    `| ${inspections.toLocaleString('en')} inspections | Treadlebook | memory | beside | its time | its memory | ours takes |`,
    '|---|---|---|---|---|---|---|',
    ...jobs.flatMap(({ job, results: [ours, ...others] }) => {
      const own = `${job.title} | ${shown(time(ours!))} | ${memory(ours!)}`;
      if (others.length === 0) return [`| ${own} | | | | |`];
      return others.map((other, index) => `| ${index === 0 ? own : ' | | '} | ${other.line.name} | ${shown(time(other))} | ${memory(other)} | ${(time(ours!) / time(other)).toFixed(2)} of its time |`);
    }),
  ];
}

/** README with these lines in the place of those measured before. */
export function withMeasured(readme: string, lines: readonly string[]): string {
  const [begin, end] = [readme.indexOf(BEGIN), readme.indexOf(END)];
  if (begin < 0 || end < begin) throw new Error(`README has no place between ${BEGIN} and ${END}`);
  return `${readme.slice(0, begin + BEGIN.length)}\n\n${lines.join('\n')}\n\n${readme.slice(end)}`;
}
