import { placeOfRow } from '../util/continued-sheets.js';
import { CellComparer, type DifferenceKind } from './compare-cells.js';
import { comparedColumns, type ColumnPlace, type ComparedColumn, type Keying } from './compare-columns.js';
import { RowComparer } from './compare-rows.js';
import { fieldPosition, type Dictionary } from './dictionary.js';
import { entryText } from './entry-text.js';
import type { Inspection } from './inspection.js';
import { MATCHED_BY, matchInspections, type MatchedBy } from './match-inspections.js';

/** What is needed to find the paper of an inspection; texts as they were keyed. */
export interface InspectionIdentity {
  readonly inspection_id: string;
  readonly inspected_on: string;
  readonly unit: string;
}

/** An inspection that only one of the keyings has. */
export interface UnmatchedInspection extends InspectionIdentity {
  readonly row: number;
}

/** One cell that was keyed in two ways. */
export interface Difference extends InspectionIdentity {
  readonly row_a: number;
  readonly row_b: number;
  /** The cells as a spreadsheet names them, such as `D7`, or `'Readings 2'!D7` on a sheet on which the table goes on; empty where a keying has no such column. */
  readonly cell_a: string;
  readonly cell_b: string;
  /** The field's name, or the header of a column that is not ours. */
  readonly column: string;
  /** The texts as found. Two that look alike but mean different things say what they mean: `720 = 104.427202 psi`. */
  readonly text_a: string;
  readonly text_b: string;
  readonly kind: DifferenceKind;
}

/** How well one column was keyed. */
export interface ColumnAgreement {
  readonly column: string;
  readonly compared_cells: number;
  readonly agreeing_cells: number;
  readonly differences: number;
  /** The share of the compared cells that agree. */
  readonly agreement: number;
}

/** Where two keyings differ. */
export interface Comparison {
  readonly matched: number;
  readonly matched_by: Readonly<Record<MatchedBy, number>>;
  /** In the first keying only. */
  readonly missing: readonly UnmatchedInspection[];
  /** In the second keying only. */
  readonly extra: readonly UnmatchedInspection[];
  /** Cells of matched inspections that are filled in at least one of the two. */
  readonly compared_cells: number;
  readonly agreeing_cells: number;
  /** The share of the compared cells that agree; null when no cell was compared. */
  readonly agreement: number | null;
  /** Every column that was compared, the worst keyed first. */
  readonly columns: readonly ColumnAgreement[];
  /** In the order of the first keying, and of its columns. */
  readonly differences: readonly Difference[];
}

/**
 * Compares two keyings of the same paper cell by cell: numbers by their value, pressures in psi, texts without the spaces at
 * their ends, what was not understood as text. Rows in another order make no difference.
 *
 * @example compareInspections(dictionary, a, b).differences[0]?.column // 'released_primary_end'
 */
export function compareInspections(dictionary: Dictionary, a: Keying, b: Keying): Comparison {
  const cells = new CellComparer(fieldPosition(dictionary, 'pressure_unit'));
  const columns = comparedColumns(dictionary, a, b);
  const rows = new RowComparer(cells, columns, a, b);
  const matches = matchInspections(rows, dictionary);
  const identityOf = identities(dictionary);
  const compared = columns.map(() => 0);
  const agreeing = columns.map(() => 0);
  const differences: Difference[] = [];
  for (const match of matches) {
    const [inA, inB] = [a.inspections[match.a]!, b.inspections[match.b]!];
    rows.forEachFilled(match.a, match.b, (kind, column, index) => {
      compared[index]! += 1;
      if (kind === 'same') agreeing[index]! += 1;
      else differences.push({ row_a: inA.row, row_b: inB.row, ...placesOf(column, a, b, inA, inB), column: column.name, ...textsOf(cells, column, inA, inB), kind, ...identityOf(inA) });
    });
  }
  return {
    matched: matches.length,
    matched_by: Object.fromEntries(MATCHED_BY.map((way) => [way, matches.filter(({ by }) => by === way).length])) as Record<MatchedBy, number>,
    missing: unmatched(a, new Set(matches.map((match) => match.a)), identityOf),
    extra: unmatched(b, new Set(matches.map((match) => match.b)), identityOf),
    ...agreementOf(sum(compared), sum(agreeing)),
    columns: worstFirst(columns, compared, agreeing),
    differences,
  };
}

/** Whether two keyings are the same. */
export function keyingsAgree({ differences, missing, extra }: Pick<Comparison, 'differences' | 'missing' | 'extra'>): boolean {
  return differences.length === 0 && missing.length === 0 && extra.length === 0;
}

function identities(dictionary: Dictionary): (inspection: Inspection) => InspectionIdentity {
  const textOf = (name: keyof InspectionIdentity): ((inspection: Inspection) => string) => {
    const position = fieldPosition(dictionary, name);
    const field = dictionary.fields[position]!;
    return ({ values, asFound }) => entryText(field, values[position] ?? null) || (asFound.get(name) ?? '');
  };
  const [id, date, unit] = [textOf('inspection_id'), textOf('inspected_on'), textOf('unit')];
  return (inspection) => ({ inspection_id: id(inspection), inspected_on: date(inspection), unit: unit(inspection) });
}

function unmatched(keying: Keying, matched: ReadonlySet<number>, identityOf: (inspection: Inspection) => InspectionIdentity): UnmatchedInspection[] {
  return keying.inspections.flatMap((inspection, at) => (matched.has(at) ? [] : [{ row: inspection.row, ...identityOf(inspection) }]));
}

function placesOf(column: ComparedColumn, a: Keying, b: Keying, inA: Inspection, inB: Inspection): Pick<Difference, 'cell_a' | 'cell_b'> {
  return { cell_a: cellName(column.a, a, inA), cell_b: cellName(column.b, b, inB) };
}

function cellName(place: ColumnPlace, keying: Keying, { row, extra }: Inspection): string {
  const { sheet = '' } = keying;
  const on = placeOfRow(sheet, row);
  if (place.letters !== '') return `${on.sheet === sheet ? '' : `'${on.sheet}'!`}${place.letters}${on.row}`;
  if (place.extra < 0 || place.extra >= extra.length) return '';
  const ownColumns = keying.columns.filter(({ role }) => role === 'extra').length;
  return keying.cellsBeyond?.get(row)?.[place.extra - ownColumns] ?? '';
}

/** The texts of two cells; where they look alike, with what each means. */
function textsOf(cells: CellComparer, column: ComparedColumn, inA: Inspection, inB: Inspection): Pick<Difference, 'text_a' | 'text_b'> {
  const [a, b] = [cells.text(column, column.a, inA), cells.text(column, column.b, inB)];
  if (a !== b) return { text_a: a, text_b: b };
  return { text_a: `${a} = ${cells.meaning(column, inA)}`.trim(), text_b: `${b} = ${cells.meaning(column, inB)}`.trim() };
}

function worstFirst(columns: readonly ComparedColumn[], compared: readonly number[], agreeing: readonly number[]): ColumnAgreement[] {
  return columns
    .map(({ name }, index) => ({ column: name, compared_cells: compared[index]!, agreeing_cells: agreeing[index]!, differences: compared[index]! - agreeing[index]!, agreement: agreeing[index]! / compared[index]! }))
    .filter((column) => column.compared_cells > 0)
    .sort((x, y) => y.differences - x.differences || x.agreement - y.agreement);
}

function agreementOf(compared: number, agreeing: number): Pick<Comparison, 'compared_cells' | 'agreeing_cells' | 'agreement'> {
  return { compared_cells: compared, agreeing_cells: agreeing, agreement: compared === 0 ? null : agreeing / compared };
}

function sum(counts: readonly number[]): number {
  return counts.reduce((total, count) => total + count, 0);
}
