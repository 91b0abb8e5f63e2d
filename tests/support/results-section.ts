import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { expect } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';

/** How a run of the program ended. */
interface Ending {
  readonly code: number | null;
  readonly signal?: string | null;
  readonly err: string;
}

/**
 * One section of a published table of faults: each line a fault that was tried and what came of it, told by the test that tried it. Where the moment
 * decides, the line says what is true of every run.
 */
export class ResultsSection {
  readonly #outcomes = new Map<string, string>();
  readonly #path: string;

  /**
   * @param file the table, a path within the package
   * @param title the title of the table
   * @param heading the heading of this section, which no other has
   */
  constructor(
    file: string,
    private readonly title: string,
    private readonly heading: string,
  ) {
    this.#path = packagePath(...file.split('/'));
  }

  /** Notes what came of a fault; of one that is tried in several ways the same must come each time. */
  came(fault: string, ...outcomes: readonly string[]): void {
    const outcome = outcomes.filter((one) => one !== '').join('; ');
    expect([fault, this.#outcomes.get(fault) ?? outcome]).toStrictEqual([fault, outcome]);
    this.#outcomes.set(fault, outcome);
  }

  /** Holds the published section to what came (WRITE_RESULTS=1 writes it anew; then one file of tests at a time). */
  expectPublished(): void {
    const lines = [`## ${this.heading}`, '', '| fault | what came of it |', '|---|---|', ...[...this.#outcomes].map(([fault, outcome]) => `| ${cell(fault)} | ${cell(outcome)} |`)];
    const text = existsSync(this.#path) ? readFileSync(this.#path, 'utf8') : `# ${this.title}\n`;
    const sections = text.trimEnd().split(/\n\n(?=## )/);
    const at = sections.findIndex((section) => section.startsWith(`${lines[0]}\n`));
    if (process.env['WRITE_RESULTS'] === '1') {
      sections.splice(at === -1 ? sections.length : at, at === -1 ? 0 : 1, lines.join('\n'));
      writeFileSync(this.#path, `${sections.join('\n\n')}\n`);
      return;
    }
    expect(this.#outcomes.size).toBeGreaterThan(0);
    expect(sections[at]?.split('\n')).toStrictEqual(lines);
  }
}

/** How a run ended, in words: its exit code or signal, and the line that it said. */
export function endingOf({ code, signal, err }: Ending): string {
  return `${code === null ? `ended by ${signal}` : `exit ${code}`}${err === '' ? '' : `: ${err.trim().replace(/^treadlebook: /, '')}`}`;
}

function cell(text: string): string {
  const shown = text.replace(/[\u0000-\u001f\u007f-\u00a0\u00ad\u200b-\u200f\u2028-\u202e\ufdd0\ufeff\ufffe\uffff]/g, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`);
  const short = shown.length > 300 ? `${shown.slice(0, 297)}...` : shown;
  return short.replaceAll('|', '\\|').replaceAll('<', '&lt;');
}
