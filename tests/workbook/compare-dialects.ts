import ExcelJS from 'exceljs';
import fc from 'fast-check';

/** One sheet of paper: what it says, apart from how anyone writes it. Pressures in kPa, time in seconds. */
export interface Paper {
  readonly id: string;
  readonly date: string;
  readonly unit: string;
  readonly primary: number | null;
  readonly cutOut: number | null;
  readonly seconds: number | null;
  readonly leak: boolean | null;
  readonly notes: string;
  readonly bay: number | null;
}

/** How someone writes down papers. */
export interface Dialect {
  readonly headers: 'names' | 'titles' | 'spellings';
  readonly pressure: 'number' | 'kPa' | 'bar' | 'comma bar';
  readonly time: 'm:ss' | 's' | 'm s';
  readonly yes: readonly [string, string];
  readonly date: 'iso' | 'words';
  readonly turned: boolean;
}

const orNull = <T>(values: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(values, { freq: 5 });

/** A stack of papers, no two of one id. */
export const papers: fc.Arbitrary<readonly Paper[]> = fc
  .array(
    fc.record({
      date: fc.constantFrom('2026-03-14', '2026-03-25', '2026-11-30'),
      unit: fc.constantFrom('K-101', 'K-102', 'M 7'),
      primary: orNull(fc.integer({ min: 400, max: 900 })),
      cutOut: orNull(fc.integer({ min: 700, max: 950 })),
      seconds: orNull(fc.integer({ min: 61, max: 300 })),
      leak: orNull(fc.boolean()),
      notes: fc.constantFrom('', '=SUM(A1)', 'hose, "left"', 'two\nlines', '-', '+1 mm', "'quoted"),
      bay: orNull(fc.integer({ min: 1, max: 99 }).map((hundredths) => hundredths / 4)),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map((list) => list.map((paper, index) => ({ id: index % 4 === 3 ? '' : `I-${index}`, ...paper })));

/** A way of writing. */
export const dialects: fc.Arbitrary<Dialect> = fc.record({
  headers: fc.constantFrom('names', 'titles', 'spellings'),
  pressure: fc.constantFrom('number', 'kPa', 'bar', 'comma bar'),
  time: fc.constantFrom('m:ss', 's', 'm s'),
  yes: fc.constantFrom(['yes', 'no'] as const, ['Y', 'N'] as const, ['TRUE', 'FALSE'] as const),
  date: fc.constantFrom('iso', 'words'),
  turned: fc.boolean(),
});

const HEADERS: Readonly<Record<Dialect['headers'], readonly string[]>> = {
  names: ['inspection_id', 'inspected_on', 'unit', 'pressure_unit', 'released_primary_start', 'cut_out', 'buildup_time', 'audible_leak', 'notes', 'Wash bay'],
  titles: ['Inspection', 'Date', 'Unit', 'Pressure unit', 'Released primary start', 'Cut-out', 'Build-up time', 'Audible leak', 'Notes', 'wash bay'],
  spellings: ['Inspection', 'Date', 'Truck No', 'gauge unit', 'primary start released', 'Governor cut out', 'time to build up', 'AUDIBLE LEAK', 'notes', 'WASH BAY'],
};
const MONTHS: Readonly<Record<string, string>> = { '03': 'March', '11': 'November' };

/** The papers as rows of text, the header first. */
export function rowsOf(stack: readonly Paper[], dialect: Dialect): string[][] {
  const rows = [[...HEADERS[dialect.headers]], ...stack.map((paper) => cellsOf(paper, dialect))];
  return dialect.turned ? rows.map((row) => row.reverse()) : rows;
}

function cellsOf(paper: Paper, { pressure, time, yes, date }: Dialect): string[] {
  const pressureText = (kPa: number | null): string => {
    if (kPa === null) return '';
    const bar = `${kPa / 100} bar`;
    return { number: String(kPa), kPa: `${kPa} kPa`, bar, 'comma bar': bar.replace('.', ',') }[pressure];
  };
  const [year, month, day] = paper.date.split('-');
  const [minutes, seconds] = paper.seconds === null ? [0, 0] : [Math.floor(paper.seconds / 60), paper.seconds % 60];
  const timeText = { 'm:ss': `${minutes}:${String(seconds).padStart(2, '0')}`, s: `${paper.seconds} s`, 'm s': `${minutes}m ${seconds}s` }[time];
  return [
    paper.id,
    date === 'iso' ? paper.date : `${Number(day)} ${MONTHS[month!]} ${year}`,
    paper.unit,
    'kPa',
    pressureText(paper.primary),
    pressureText(paper.cutOut),
    paper.seconds === null ? '' : timeText,
    paper.leak === null ? '' : yes[paper.leak ? 0 : 1],
    paper.notes,
    paper.bay === null ? '' : String(paper.bay),
  ];
}

/** The formats, each giving the bytes of a file. */
export const FORMATS = {
  comma: async (rows: readonly (readonly string[])[]) => csv(rows, ',', '\n'),
  semicolon: async (rows: readonly (readonly string[])[]) => Buffer.concat([Buffer.from('\ufeff'), csv(rows, ';', '\r\n')]),
  tab: async (rows: readonly (readonly string[])[]) => csv(rows, '\t', '\n'),
  utf16: async (rows: readonly (readonly string[])[]) => Buffer.from(`\ufeff${csv(rows, ',', '\r\n').toString('utf8')}`, 'utf16le'),
  json: async ([header, ...rows]: readonly (readonly string[])[]) => Buffer.from(JSON.stringify(rows.map((row) => Object.fromEntries(row.map((cell, index) => [header![index]!, jsonCell(cell)]))))),
  xlsx: async (rows: readonly (readonly string[])[]) => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Keyed');
    for (const row of rows) sheet.addRow(row.map(sheetCell));
    return Buffer.from(await book.xlsx.writeBuffer());
  },
} as const;

function csv(rows: readonly (readonly string[])[], delimiter: string, lineEnd: string): Buffer {
  const quoted = (cell: string): string => (/[",;\t\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return Buffer.from(rows.map((row) => row.map(quoted).join(delimiter)).join(lineEnd) + lineEnd);
}

function jsonCell(cell: string): string | number | null {
  if (cell === '') return null;
  return /^\d+(?:\.\d+)?$/.test(cell) ? Number(cell) : cell;
}

function sheetCell(cell: string): string | number | Date | boolean | null {
  if (/^\d{4}-\d{2}-\d{2}$/.test(cell)) return new Date(`${cell}T00:00:00Z`);
  if (cell === 'TRUE' || cell === 'FALSE') return cell === 'TRUE';
  return jsonCell(cell);
}
