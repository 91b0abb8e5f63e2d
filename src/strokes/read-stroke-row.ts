import { cleanCellText } from '../readings/clean-cell-text.js';
import type { Dictionary } from '../readings/dictionary.js';
import { fieldPosition } from '../readings/dictionary.js';
import { dateTimeText } from '../readings/date-time-text.js';
import { readEntry } from '../readings/read-entry.js';
import { plainValue, type RawCell } from '../util/raw-table.js';
import { convertLength, MM_PER_INCH, parseLengthUnit, type LengthUnit } from './length-units.js';
import { parseChamber, parseStrokeKind, type ChamberWords } from './parse-chamber.js';
import { parsePosition } from './parse-position.js';
import { parseStroke } from './parse-stroke.js';
import { LONGEST_STROKE_IN } from './stroke-words.js';
import { NO_ENTRIES, type StrokeEntry, type StrokeEntries, type StrokeField } from './stroke.js';

/** What a row means in the place where it stands. */
export interface StrokeRowContext {
  readonly dictionary: Dictionary;
  readonly dateOrder: 'dmy' | 'mdy' | null;
  readonly date1904: boolean;
  /** The units that headers name, by field. */
  readonly headerUnits: ReadonlyMap<string, LengthUnit>;
}

/** A cell of a row that could not be taken as it stood. */
export interface StrokeTrouble {
  readonly field: StrokeField;
  readonly code: 'not_understood' | 'implausible' | 'date_order_unknown';
  readonly expected: string;
}

/** What was understood of a row. */
export interface ReadStrokeRow {
  readonly entries: StrokeEntries;
  /** Texts that say more than the entries. */
  readonly asFound: ReadonlyMap<string, string>;
  readonly troubles: readonly StrokeTrouble[];
}

/** The cells of a row by field. */
export type StrokeCells = Readonly<Partial<Record<StrokeField, RawCell>>>;

/** Reads the cells of one row. A text that is not understood stays the entry, so that nothing is computed from it. */
export function readStrokeRow(cells: StrokeCells, context: StrokeRowContext): ReadStrokeRow {
  return new RowReader(cells, context).read();
}

/** What a cell says, as text. */
export function strokeCellText(cell: RawCell): string {
  const value = plainValue(cell);
  const shown = cell !== null && typeof cell === 'object' ? dateTimeText(cell) : null;
  if (shown !== null) return `${shown} (${(cell as { format: string }).format})`;
  return value === null ? '' : typeof value === 'boolean' ? (value ? 'TRUE' : 'FALSE') : String(value);
}

class RowReader {
  private readonly entries: Record<StrokeField, StrokeEntry> = { ...NO_ENTRIES };
  private readonly asFound = new Map<string, string>();
  private readonly troubles: StrokeTrouble[] = [];

  constructor(
    private readonly cells: StrokeCells,
    private readonly context: StrokeRowContext,
  ) {}

  read(): ReadStrokeRow {
    for (const field of ['inspection_id', 'unit', 'inspected_on'] as const) this.plain(field);
    this.position();
    this.chamber();
    this.lengths();
    for (const [field, cell] of Object.entries(this.cells) as [StrokeField, RawCell][]) {
      const text = strokeCellText(cell).trim();
      if (typeof cell === 'string' && text !== '' && text !== String(this.entries[field] ?? '') && !this.asFound.has(field)) this.asFound.set(field, text);
    }
    return { entries: this.entries, asFound: this.asFound, troubles: this.troubles };
  }

  private plain(field: 'inspection_id' | 'unit' | 'inspected_on'): void {
    const { dictionary, dateOrder, date1904 } = this.context;
    const cell = this.cells[field] ?? null;
    const { entry, trouble } = readEntry(dictionary.fields[fieldPosition(dictionary, field)]!, cell, { unit: 'psi', columnUnit: null, dateOrder, date1904 });
    this.entries[field] = trouble ? this.text(field) : (entry as string | null);
    if (trouble) this.troubles.push({ field, ...trouble });
  }

  private position(): void {
    const text = this.text('position');
    if (text === null) return;
    const position = parsePosition(text);
    this.entries.position = position ?? text;
    if (position === null) this.misread('position', 'an axle and a side, such as 1L, LF, 2R or axle 2 right');
  }

  private chamber(): void {
    const [typeText, sizeText, kindText] = [this.text('chamber_type'), this.text('chamber_size'), this.text('stroke_kind')];
    const ofType = typeText === null ? null : parseChamber(typeText);
    const ofSize = sizeText === null ? null : parseChamber(sizeText);
    const kind = kindText === null ? null : parseStrokeKind(kindText);
    this.entries.chamber_type = ofType?.type ?? ofSize?.type ?? (typeText !== null && ofType === null ? typeText : null);
    this.entries.chamber_size = ofSize?.size ?? ofType?.size ?? (sizeText !== null && ofSize === null ? sizeText : null);
    this.entries.stroke_kind = kindText !== null && kind === null ? kindText : moreExact([kind, ofSize?.kind, ofType?.kind]);
    if (typeText !== null && ofType === null) this.misread('chamber_type', 'clamp, bolt, rotochamber or DD-3, or a chamber such as 30, T30, 30/30 or 30L');
    if (sizeText !== null && ofSize === null) this.misread('chamber_size', 'a size such as 30, 30L, 24 long or, of a bolt type, A to G');
    if (kindText !== null && kind === null) this.misread('stroke_kind', 'standard, long, long 2-1/2 or long 3');
    const said = contradiction(ofType, ofSize, kind);
    if (said !== null) this.disagree(said.field, said.field === 'chamber_size' ? sizeText! : typeText!, said.other);
  }

  /** Two cells that contradict each other: the text as found stays, so that no limit is looked up. */
  private disagree(field: 'chamber_type' | 'chamber_size', text: string, other: string): void {
    this.entries[field] = text;
    this.misread(field, `what agrees with ${other} of this row; mend the one that is wrong`);
  }

  private lengths(): void {
    const unitText = this.text('stroke_unit');
    const unit = unitText === null ? null : parseLengthUnit(unitText);
    if (unitText !== null && (unit === null || unit === 'cm')) {
      this.entries.stroke_unit = unitText;
      this.misread('stroke_unit', 'in or mm');
    }
    const ofRow = unit === 'cm' ? null : unit;
    const readings = (['stroke', 'rated_stroke'] as const).map((field) => ({ field, result: parseStroke(this.cells[field] ?? null) }));
    const written = readings.flatMap(({ result }) => (result?.ok && result.value?.writtenUnit ? [result.value.writtenUnit] : []));
    const named = this.context.headerUnits.get('stroke');
    const entered: LengthUnit = ofRow ?? written[0] ?? named ?? 'in';
    if (unitText === null || ofRow !== null) this.entries.stroke_unit = ofRow ?? (entered === 'mm' ? 'mm' : null);
    for (const { field, result } of readings) {
      if (result === null) continue;
      if (!result.ok) {
        this.entries[field] = this.text(field);
        this.misread(field, result.hint === undefined ? result.expected : `${result.expected}; ${result.hint}`);
      } else if (result.value !== null) {
        const { value, writtenUnit } = result.value;
        const header = this.context.headerUnits.get(field);
        const from = writtenUnit ?? header ?? entered;
        this.entries[field] = convertLength(value, from, entered);
        if (from !== entered) this.asFound.set(field, writtenUnit === null ? `${strokeCellText(this.cells[field] ?? null).trim()} ${from}` : strokeCellText(this.cells[field] ?? null).trim());
        if (field === 'stroke') this.checkPlausible(this.entries.stroke as number, entered);
      }
    }
  }

  private checkPlausible(stroke: number, unit: LengthUnit): void {
    if (convertLength(stroke, unit, 'in') <= LONGEST_STROKE_IN) return;
    const inMm = unit === 'in' && stroke <= LONGEST_STROKE_IN * MM_PER_INCH;
    this.troubles.push({ field: 'stroke', code: 'implausible', expected: `a stroke of up to ${LONGEST_STROKE_IN} in; ${inMm ? 'if it was measured in millimetres, write mm into stroke_unit' : 'check it against the paper and type it again'}` });
  }

  private misread(field: StrokeField, expected: string): void {
    this.troubles.push({ field, code: 'not_understood', expected });
  }

  private text(field: StrokeField): string | null {
    const cell = this.cells[field] ?? null;
    const text = typeof cell === 'string' ? cell.trim() : strokeCellText(cell);
    return cleanCellText(text) === '' ? null : text;
  }
}

/** The cell of a chamber that another cell contradicts, and what about; null where they agree. It is one that holds more than its own word. */
function contradiction(ofType: ChamberWords | null, ofSize: ChamberWords | null, kind: string | null): { readonly field: 'chamber_type' | 'chamber_size'; readonly other: string } | null {
  const differ = (a: string | null | undefined, b: string | null | undefined): boolean => a != null && b != null && a !== b;
  if (differ(ofType?.type, ofSize?.type)) return { field: 'chamber_size', other: 'the chamber type' };
  if (differ(ofType?.size, ofSize?.size)) return { field: 'chamber_type', other: 'the size' };
  const kinds = [kind, ofSize?.kind, ofType?.kind].filter((one) => one != null);
  const exact = moreExact(kinds);
  if (kinds.every((one) => exact === one || exact!.startsWith(`${one} `))) return null;
  return { field: ofSize?.kind == null ? 'chamber_type' : 'chamber_size', other: 'the stroke kind' };
}

/** Of several kinds the one that says most: `long 3` says more than `long`. */
function moreExact(kinds: readonly (string | null | undefined)[]): string | null {
  return kinds.reduce<string | null>((best, kind) => (kind != null && kind.length > (best?.length ?? 0) && (best === null || kind.startsWith(`${best} `)) ? kind : best), null);
}
