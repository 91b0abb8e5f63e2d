import fc from 'fast-check';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { FleetSummariser } from '../../src/fleet/fleet-summariser.js';
import type { LimitPlan } from '../../src/limits/compile-limit-set.js';
import { VERDICTS, type Verdict } from '../../src/limits/verdict.js';
import type { Field } from '../../src/readings/field.js';
import { readInspections } from '../../src/readings/read-inspections.js';
import type { RawCell, RawRow } from '../../src/util/raw-table.js';
import { extraCell } from '../../src/workbook/cell-values.js';
import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { periodCounts } from '../../src/workbook/period-counts.js';

/** A table before it is read: the header, then the rows. */
export type Cells = readonly (readonly RawCell[])[];

const digits = fc.integer({ min: 0, max: 200 }).map(String);
const awkward = fc.stringMatching(/^['"=+\-@,;|\t\r\n a5.]{1,8}$/);
const LIKE_FORMULAS = ['=1+1', "'=1", "''-x", '-5', "'0042", '@who', '+44 20', '007', '1e5', '1/2', 'TRUE', '#N/A', '_x000D_', '<&>', 'sep=;', 'a\r\nb', 'a\nb', 'a\rb', '\ufeff', '\u00a0', '__proto__', 'constructor', ' padded ', '"', '""'];
/** Any text that XML and CSV may be tried by. */
export const anyText = fc.oneof(fc.string({ unit: 'binary', maxLength: 12 }), awkward, fc.constantFrom(...LIKE_FORMULAS));

const pressure = fc.oneof(
  { weight: 4, arbitrary: digits },
  fc.tuple(digits, fc.constantFrom(' psi', ' kPa', 'kPa', ' bar', '.5', ',25', ' approx.', '±2')).map(([number, tail]) => number + tail),
  fc.tuple(fc.constantFrom('~', 'about ', '≈'), digits).map(([mark, number]) => mark + number),
  fc.tuple(fc.integer({ min: 60, max: 120 }), fc.integer({ min: 1, max: 8 }), fc.constantFrom('-', '–', ' to ')).map(([low, width, dash]) => `${low}${dash}${low + width}`),
  fc.constantFrom('n/a', '?', '-', 'never', 'none', '115/112', '１０４', '1 034', '104\u00a0psi', '7.2 bar'),
  // No gauge shows more than hundredths.
  fc.integer({ min: 0, max: 25_000 }).map((hundredths) => hundredths / 100),
);
const time = fc.oneof(
  digits,
  fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 59 })).map(([minutes, seconds]) => `${minutes}:${String(seconds).padStart(2, '0')}`),
  fc.constantFrom('60 s', '1 min', '4m 10s', '4.2 min', '0:47.5', '1.5', 'n/a', '?', 'soon'),
  fc.integer({ min: 0, max: 900 }),
  // 1:00 to 9:59, typed for minutes and seconds.
  fc.record({ value: fc.integer({ min: 60, max: 599 }).map((minutes) => minutes / 1440), format: fc.constantFrom('h:mm', '[h]:mm') }),
);
const day = fc.tuple(fc.integer({ min: 2020, max: 2030 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }));
const two = (part: number): string => String(part).padStart(2, '0');
const date = fc.oneof(
  { weight: 3, arbitrary: day.map(([year, month, dayOfMonth]) => `${year}-${two(month)}-${two(dayOfMonth)}`) },
  day.map(([year, month, dayOfMonth]) => `${dayOfMonth}/${month}/${year}`),
  day.map(([year, month, dayOfMonth]) => `${dayOfMonth} ${['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][month - 1]} ${year}`),
  fc.constantFrom('n/a', '31/2/2026', 'Friday', '9 Mar'),
  fc.record({ value: fc.integer({ min: 43_000, max: 47_000 }), format: fc.constantFrom('dd/mm/yyyy', 'yyyy-mm-dd') }),
);

/** A cell as people fill it in a field of its kind, and now and then any text. */
export function cellOf({ kind, choices }: Field): fc.Arbitrary<RawCell> {
  const usual: fc.Arbitrary<RawCell> =
    kind === 'pressure' ? pressure
    : kind === 'time' ? time
    : kind === 'date' ? date
    : kind === 'choice' ? fc.constantFrom(...choices!, ...choices!.map((choice) => choice.toUpperCase()), 'lorry')
    : kind === 'yes_no' ? fc.oneof(fc.constantFrom('yes', 'No', 'y', 'x', '✓', 'ok', '1', '0', 'n/a'), fc.boolean())
    : kind === 'count' || kind === 'quantity' ? fc.oneof(digits, fc.constantFrom('12,345', '~1500', '1 234', '1500 rpm', '-5', '1e3', '98020.5'), fc.nat())
    : anyText;
  return fc.oneof({ weight: 5, arbitrary: usual }, { weight: 1, arbitrary: anyText }, { weight: 2, arbitrary: fc.constant(null) });
}

/** A cell of a column that is the office's own. */
const extra: fc.Arbitrary<RawCell> = fc.oneof({ weight: 4, arbitrary: anyText }, fc.constant(null), fc.integer({ min: -99_999, max: 99_999 }).map((number) => number / 8), fc.boolean(), date);

/** A table with some of the fields, in any order, columns of the office's own between them, and rows of any cells. */
export function anyTable(fields: readonly Field[], own: fc.Arbitrary<string> = anyText): fc.Arbitrary<Cells> {
  const unit = fields.find(({ name }) => name === 'unit')!;
  const others = fields.filter((field) => field !== unit);
  const ourColumns = fc.subarray(others, { minLength: 1, maxLength: 14 }).map((chosen) => [unit, ...chosen].map((field) => ({ header: field.name, cell: cellOf(field) })));
  const ownColumns = fc.array(own.map((header) => ({ header, cell: extra })), { maxLength: 4 });
  return fc
    .tuple(ourColumns, ownColumns)
    .chain(([ours, theirs]) => fc.shuffledSubarray([...ours, ...theirs], { minLength: ours.length + theirs.length }))
    .chain((columns) => {
      const row = fc.tuple(fc.tuple(...columns.map(({ cell }) => cell)), fc.array(extra, { maxLength: 2 })).map(([cells, beyond]) => [...cells, ...beyond]);
      return fc.array(row, { minLength: 1, maxLength: 5 }).map((rows) => [columns.map(({ header }) => header), ...rows]);
    });
}

/** Reads and evaluates cells that stand in no file. */
export async function evaluateCells(plan: LimitPlan, cells: Cells): Promise<EvaluatedFleet> {
  const rows = cells.map((row, index): RawRow => ({ number: index + 1, cells: row }));
  const source = async function* (): AsyncGenerator<RawRow> {
    yield* rows;
  };
  const reader = await readInspections({ sheet: '', date1904: false, rows: source() }, { dictionary: plan.dictionary, name: 'cells' });
  const [evaluator, summariser] = [new RowEvaluator(plan), new FleetSummariser(plan)];
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) {
    const evaluation = evaluator.evaluate(inspection);
    evaluations.push(evaluation);
    summariser.add(evaluation);
  }
  const { rowsRead, rowsBlank, rowsSetAside, inspections } = reader.counts;
  const info = { name: 'cells', sheet: '', sha256: '0'.repeat(64), rows_read: rowsRead, rows_blank: rowsBlank, rows_set_aside: rowsSetAside, inspections };
  const counts = { inspections, verdicts: countedVerdicts(evaluations), period: periodCounts(evaluations, { from: null, to: null }) };
  return { plan, source: info, columns: reader.columns, counts, evaluations, summary: summariser.result(), problems: reader.problems, notes: [], asOf: null, baseline: null, baselineInfo: null };
}

function countedVerdicts(evaluations: readonly Evaluation[]): Record<Verdict, number> {
  return Object.fromEntries(VERDICTS.map((verdict) => [verdict, evaluations.filter((evaluation) => evaluation.verdict === verdict).length])) as Record<Verdict, number>;
}

/** What was understood and kept of each inspection, and the columns that are the office's own. */
export function understoodOf({ plan, columns, evaluations }: EvaluatedFleet): unknown {
  const { fields } = plan.dictionary;
  return {
    // A sheet has a column for cells beyond the header, without a header.
    own: columns.flatMap(({ role, header }) => (role === 'extra' && header !== '' ? [header] : [])),
    inspections: evaluations.map(({ inspection: { values, asFound, notRead, extra: kept } }) => ({
      values: fields.flatMap(({ name }, position) => (values[position] === null ? [] : [[name, rounded(values[position]!)]])),
      asFound: [...asFound].sort(([a], [b]) => (a < b ? -1 : 1)),
      notRead: [...notRead].sort(),
      extra: withoutBlankEnd(kept.map((cell) => String(extraCell(cell) ?? ''))),
    })),
  };
}

/** Nine digits after the point of numbers up to a thousand: what an arithmetic of doubles keeps. */
function rounded(value: string | number | boolean): string | number | boolean {
  return typeof value === 'number' ? Number(value.toPrecision(12)) : value;
}

function withoutBlankEnd(cells: readonly string[]): string[] {
  const last = cells.findLastIndex((cell) => cell.trim() !== '');
  return cells.slice(0, last + 1);
}
