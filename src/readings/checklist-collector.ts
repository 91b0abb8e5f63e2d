import type { CellOrigin, RawCell, RawRow } from '../util/raw-table.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { cellText, withTimeUnit } from './checklist-cell.js';
import { foldLabel } from './checklist-fold-label.js';
import { InspectionDraft } from './checklist-inspection-draft.js';
import type { LabelReader } from './checklist-label-reader.js';
import type { PlacedCell, ReshapedTable, UnplacedCell } from './checklist-reshaped-table.js';
import type { Dictionary } from './dictionary.js';
import type { PressureUnit } from './pressure-units.js';

/** The most rows that are held in memory to be put together. */
export const MOST_ROWS = 200_000;
const MOST_NOTES = 60;
/** The most columns that are not ours. A sheet with more labels of its own is no form. */
const MOST_EXTRA_COLUMNS = 500;

/** The units that stand beside a cell, or in its label or header. */
export interface Units {
  readonly unit: PressureUnit | null;
  readonly timeUnit: 'min' | 's' | null;
}

/** No units. */
export const NO_UNITS: Units = { unit: null, timeUnit: null };

/** Collects the inspections that are put together from another shape, and accounts for every cell. */
export class Collector {
  private readonly drafts: InspectionDraft[] = [];
  private readonly unplaced: UnplacedCell[] = [];
  private readonly used: CellOrigin[] = [];
  private readonly notes = new Set<string>();
  private readonly extraHeaders = new Map<string, string>();

  constructor(
    readonly dictionary: Dictionary,
    readonly labels: LabelReader,
  ) {}

  /** Begins an inspection. It becomes a row once a cell is placed in it. */
  begin(number: number): InspectionDraft {
    const draft = new InspectionDraft(number);
    this.drafts.push(draft);
    return draft;
  }

  /** Places a cell in the fields that it belongs to, and names it where the inspection has something else there. */
  place(draft: InspectionDraft, names: readonly string[], cell: RawCell, origin: CellOrigin, header: string, units: Units): void {
    const field = this.labels.field(names[0]!)!;
    const timed = field.kind === 'time' && units.timeUnit !== null ? withTimeUnit(cell, units.timeUnit, field) : cell;
    this.account(draft.place(names, timed, origin, { isPressure: field.kind === 'pressure', unit: units.unit }), cell, origin, header, names.join(' and '), names.map((name) => draft.cellOf(name)));
  }

  /** Places a cell in a column that is not ours. */
  placeExtra(draft: InspectionDraft, shown: string, cell: RawCell, origin: CellOrigin): void {
    const key = foldLabel(shown) || shown;
    const header = this.extraHeaders.get(key) ?? shown;
    if (!this.extraHeaders.has(key) && this.extraHeaders.size >= MOST_EXTRA_COLUMNS) {
      this.leave(cell, origin, shown, `at most ${MOST_EXTRA_COLUMNS} labels that are no fields`);
      return;
    }
    this.extraHeaders.set(key, header);
    this.account(draft.placeExtra(header, cell, origin), cell, origin, header, header, []);
  }

  private account(outcome: 'placed' | 'same' | 'differs', cell: RawCell, origin: CellOrigin, header: string, where: string, held: readonly RawCell[]): void {
    if (outcome === 'same') this.use(origin);
    if (outcome !== 'differs') return;
    const first = held.map(cellText).find((text) => text !== '');
    this.leave(cell, origin, header, `one value of ${where} for an inspection${first === undefined ? '' : `; the first one found, ${shorten(first)}, was kept`}. If this is another inspection, give it a date or an inspection_id of its own`);
  }

  /** Names a cell that has no place. */
  leave(cell: RawCell, { row, column }: CellOrigin, header: string, expected: string): void {
    this.unplaced.push({ row, column, header, found: cellText(cell), expected });
  }

  /** Notes that a cell helped to place something. */
  use({ row, column }: CellOrigin): void {
    this.used.push({ row, column });
  }

  /** Adds a sentence on what was taken how, once. */
  note(sentence: string): void {
    if (this.notes.size < MOST_NOTES) this.notes.add(sentence);
  }

  /** A unit and a date without anything else, such as a line with a signature, are no inspection. */
  private leaveBareDrafts(placed: Set<number>): void {
    for (const draft of this.drafts.filter(({ isBare }) => isBare)) {
      for (const [name, { cell, origin }] of draft.finish().fields) {
        if (!origin || placed.has(cellNumber(origin))) continue;
        placed.add(cellNumber(origin));
        this.leave(cell, origin, name, 'an inspection with readings');
      }
    }
  }

  /** The table, once all is collected. */
  table(): ReshapedTable {
    const drafts = this.drafts.filter(({ isBare }) => !isBare).map((draft) => ({ number: draft.number, ...draft.finish() }));
    const present = new Set<string>(drafts.flatMap(({ fields }) => [...fields.keys()]));
    const names = this.dictionary.fields.map(({ name }) => name).filter((name) => present.has(name));
    const extras = [...new Set(this.extraHeaders.values())];
    const rows = drafts.map(({ number, fields, extras: own }): RawRow => {
      const placed: (PlacedCell | undefined)[] = [...names.map((name) => fields.get(name)), ...extras.map((header) => own.get(header))];
      return { number, cells: placed.map((one) => one?.cell ?? null), origins: placed.map((one) => one?.origin ?? null) };
    });
    const placed = new Set<number>(rows.flatMap(({ origins }) => (origins ?? []).flatMap((origin) => (origin ? [cellNumber(origin)] : []))));
    this.leaveBareDrafts(placed);
    for (const cell of this.unplaced) placed.add(cellNumber(cell));
    const used = this.used.filter((origin) => !placed.has(cellNumber(origin)));
    const assumed = drafts.find(({ assumedUnit }) => assumedUnit !== null)?.assumedUnit;
    if (assumed) this.note(`Pressures without a unit were taken as ${assumed}, like the others of their inspection.`);
    this.note(`${rows.length} ${rows.length === 1 ? 'inspection was' : 'inspections were'} put together.`);
    return { header: [...names, ...extras], fieldCount: names.length, rows, unplaced: this.unplaced, used, notes: [...this.notes] };
  }
}

/** @throws TreadlebookError `input_unreadable` for more rows than are put together at once */
export function refuseTooManyRows(rows: readonly RawRow[], shape: string): void {
  if (rows.length <= MOST_ROWS) return;
  throw new TreadlebookError({
    code: 'input_unreadable',
    what: `${rows.length} rows are too many for ${shape}; at most ${MOST_ROWS} can be put together at once`,
    mend: 'split the file by year or by depot and read the parts one after the other',
  });
}

function cellNumber({ row, column }: CellOrigin): number {
  return row * 2 ** 15 + column;
}

/** A text cut to a length that fits into a sentence. */
export function shorten(text: string): string {
  return text.length <= 40 ? text : `${text.slice(0, 39)}…`;
}
