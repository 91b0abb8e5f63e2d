import { parseLimitSet } from '../../src/limits/load-limit-set.js';
import type { LimitSet } from '../../src/limits/limit-set.js';
import { writeCsv, type CsvCell } from '../../src/formats/write-csv.js';
import { textOf } from '../workbook/bytes-of.js';

/**
 * Starts of texts that a spreadsheet program may take for a formula: the signs and control characters that OWASP, "CSV Injection",
 * lists, in either width, bare, behind spaces and apostrophes, and behind what parts cells; and the commands that such texts carry.
 */
export const PAYLOADS = [
  '=1+1', '+1+1', '-1+1', '@SUM(1)', '\t=1+1', '\r=1+1', '\n=1+1', '\0=1+1', ' =1+1', "'=1+1", '＝1+1', '＋1', '－1', '＠SUM(1)',
  "=cmd|' /C calc'!A0", '=HYPERLINK("https://example.org/?"&A1,"open")', '=WEBSERVICE("https://example.org/")', '{=1+1}', ';=1+1', '",=1+1,"', '"&1+1&"', '<f>1+1</f>', ']]><f>1+1</f>', '&amp;=1', '_x003D_1+1', '&D&F',
] as const;

/** Everything from outside that a workbook, a report or a comparison is made from. */
export interface HostileInput {
  readonly readings: Uint8Array;
  /** The same, keyed with a few differences. */
  readonly keyedAgain: Uint8Array;
  readonly strokes: Uint8Array;
  readonly limits: LimitSet;
  readonly names: { readonly readings: string; readonly baseline: string; readonly keyedAgain: string };
}

const SHAPE = PAYLOADS.length;

/**
 * A fleet in which every text is `start(n)` followed by what it stands for: with a payload for every start, or with harmless letters,
 * of which each fleet has the same shape.
 */
export async function hostileFleet(start: (index: number) => string): Promise<HostileInput> {
  const text = (index: number, what: string): string => `${start(index % SHAPE)}${what}`;
  return {
    readings: Buffer.from(await csvOf(readings(text, 'note'))),
    keyedAgain: Buffer.from(await csvOf(readings(text, 'remark').filter((_, index) => index !== 3))),
    strokes: Buffer.from(await csvOf(strokes(text))),
    limits: limits((what) => plain(text(what.length, what))),
    names: { readings: text(0, 'fleet'), baseline: text(1, 'before'), keyedAgain: text(3, 'again') },
  };
}

/** A limit set may hold no control characters and nothing that is read as one. */
function plain(text: string): string {
  return text.replace(/[\u0000-\u001f]/g, '').replaceAll('_x', 'x');
}

const csvOf = (rows: readonly (readonly CsvCell[])[]): Promise<string> => textOf(writeCsv(rows));

type TextOf = (index: number, what: string) => string;

function readings(text: TextOf, note: string): CsvCell[][] {
  const header = ['inspection_id', 'inspected_on', 'unit', 'vehicle_kind', 'site', 'inspector', 'pressure_unit', 'gauge_step', 'released_primary_start', 'released_primary_end', 'released_secondary_start', 'released_secondary_end', 'released_time', 'applied_primary_start', 'applied_primary_end', 'applied_time', 'light_on_at', 'cut_in', 'cut_out', 'audible_leak', 'leak_place', 'defects', 'notes', 'repaired_on', 'retest_of', text(2, 'own'), text(4, 'own')];
  const rows = Array.from({ length: 2 * SHAPE }, (_, row): CsvCell[] => {
    const of = row % SHAPE;
    const fails = row % 3 === 0;
    return [
      text(row, `id ${row}`), `2026-0${1 + (row % 6)}-${10 + of % 19}`, text(of, `unit ${of}`), row === 7 ? text(0, 'kind') : 'truck', text(of, `site ${of}`), text(of, `inspector ${of}`), row === 11 ? text(1, 'unit of pressure') : 'psi', 5,
      row === 5 ? text(2, 'pressure') : 104, fails ? 96 : 102, 104, 103, row === 9 ? text(3, 'time') : '1:00', 100, 97, '1:00', row === 13 ? text(0, 'never') : 60, 100, 122,
      row === 15 ? text(4, 'heard') : 'yes', text(of, `place ${of}`), text(row, `defect ${row}`), text(row, `${note} ${row}`), row === 17 ? text(14, 'repaired') : null, row === 19 ? text(15, 'retest of') : null, text(row, `cell ${row}`), row % 4 === 0 ? row + 0.5 : text(row, `other ${row}`),
    ];
  });
  return [header, ...rows];
}

function strokes(text: TextOf): CsvCell[][] {
  const header = ['inspection_id', 'unit', 'inspected_on', 'position', 'chamber_type', 'stroke', 'stroke_unit', text(5, 'own of strokes')];
  return [header, ...Array.from({ length: SHAPE }, (_, row): CsvCell[] => [text(row, `id ${row}`), text(row, `unit ${row}`), '2026-01-10', row === 2 ? text(6, 'position') : '1L', row === 3 ? text(7, 'chamber') : '30', row === 4 ? text(8, 'stroke') : '1.5', row === 5 ? text(9, 'inch') : 'in', text(row, `cell of stroke ${row}`)])];
}

function limits(text: (what: string) => string): LimitSet {
  const source = (what: string): object => ({ citation: text(`citation of ${what}`), printed: text(`printed of ${what}`), status: 'common practice', note: text(`note of ${what}`) });
  return parseLimitSet(JSON.stringify({
    format: 'treadlebook-limits', version: 1, extends: 'common-practice', id: 'hostile', title: text('title of the set'), authority: text('authority'), notice: text('notice'),
    columns: [
      { name: 'bay', kind: 'text', title: text('bay'), help: text('help for the bay') },
      { name: 'road', kind: 'choice', title: text('road'), choices: ['dry', 'wet'], help: text('road help') },
      { name: 'load', kind: 'pressure', title: text('load'), help: text('help for the load') },
    ],
    measures: [{ measure: 'span', title: text('span'), unit: 'psi', expression: 'cut_out - cut_in', meaning: text('meaning of the span'), says: [{ say: text('the span is {value}') }], recheck: [{ when: 'cut_in > 300', say: text('too high') }] }],
    checks: [
      { check: 'span', title: text('span check'), measure: 'span', at_most: 10, unit: 'psi', source: source('the span') },
      { check: 'span_shown', title: text('span without number'), measure: 'span', no_number: true, unit: 'psi', source: source('no number') },
    ],
    conditions: [{ checks: ['span'], recheck_when: 'cut_in > 200', say: text('not for {cut_in}'), source: source('the condition') }],
    interval: { months: 3, source: source('the interval') },
  }), 'hostile.json');
}
