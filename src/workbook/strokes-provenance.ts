import type { CellValue } from 'exceljs';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import { strokesRangeName } from './strokes-formulas.js';
import { strokesSha256 } from './strokes-sha256.js';

/** Labels of the lines of Provenance about the strokes. */
export const STROKES_LABELS = {
  input: 'Strokes, input',
  entriesSha256: 'Strokes, SHA-256 of the entries',
  leftOut: 'of these without room on the sheet (evaluate --json lists them)',
} as const;

/** The lines of Provenance about the strokes: what they were read from, and counts that add up. `row` is that of the first line. */
export function strokesProvenance({ strokes, columns, evaluation, source, leftOut = 0 }: EvaluatedStrokes, row: number): readonly (readonly [label: string, value: CellValue])[] {
  const { rows_read: read, rows_blank: blank, rows_set_aside: aside, strokes: count } = source;
  const filled = evaluation.chambers.filter(({ verdict }) => verdict !== null).length;
  const chambers = row + (leftOut > 0 ? 9 : 8);
  const parts = Array.from({ length: chambers - row - 4 }, (_, index) => row + 5 + index);
  return [
    [STROKES_LABELS.input, source.name],
    ['Strokes, sheet', source.sheet === '' ? 'none: the file is one table' : source.sheet],
    ['Strokes, SHA-256 of the bytes of the input', source.sha256],
    [STROKES_LABELS.entriesSha256, strokesSha256(strokes, columns.flatMap(({ role, header }) => (role === 'extra' ? [header] : [])))],
    ['Strokes, rows read below the header', read],
    ['of these blank', blank],
    ['of these set aside (totals, or held already)', aside],
    ...(leftOut > 0 ? [[STROKES_LABELS.leftOut, leftOut] as const] : []),
    ['of these with columns of your own alone', count - leftOut - filled],
    ['Brake chambers', filled],
    ['Rows on the sheet Strokes', { formula: `SUMPRODUCT(--(${strokesRangeName('verdict')}<>""))`, result: filled }],
    ['Do the strokes add up?', { formula: `IF(AND(B${row + 4}=${parts.map((part) => `B${part}`).join('+')},B${chambers}=B${chambers + 1}),"yes","NO: rows were added or deleted since")`, result: read === blank + aside + count ? 'yes' : 'NO: rows were added or deleted since' }],
  ];
}
