import { cautions } from '../workbook/cautions.js';

const EXAMPLES: Readonly<Record<string, readonly string[]>> = {
  evaluate: [
    'treadlebook evaluate fleet.csv -o fleet.xlsx',
    'treadlebook evaluate paper.xlsx -o march.xlsx --limits us-nevada --date-order dmy',
    'treadlebook evaluate fleet.csv --json > fleet.json',
    'treadlebook evaluate fleet.csv -o june.xlsx --from 2026-04-01 --to 2026-06-30 --by month --baseline spring-2025.xlsx',
    'treadlebook evaluate april.csv may.csv june.csv -o quarter.xlsx',
    'treadlebook evaluate july.csv --append fleet.xlsx -o fleet-july.xlsx',
    'cat fleet.csv | treadlebook evaluate - -o evaluated.csv --strict',
  ],
  blank: ['treadlebook blank -o entry.xlsx', 'treadlebook blank -o entry.xlsx --limits us-new-hampshire --rows 50'],
  compare: ['treadlebook compare first.csv second.csv', 'treadlebook compare first.csv second.xlsx -o differences.xlsx', 'treadlebook compare first.csv second.csv --json > differences.json'],
  verify: ['treadlebook verify fleet.xlsx', 'treadlebook verify fleet.xlsx --limits our-own.json --json > findings.json'],
  report: ['treadlebook report fleet.xlsx --unit K-101 --date 2026-03-14 -o report.xlsx', 'treadlebook report fleet.csv --unit K-101 --date 2026-03-14 -o report.xlsx --limits us-nevada'],
  limits: ['treadlebook limits', 'treadlebook limits us-nevada', 'treadlebook limits our-own.json'],
  fields: ['treadlebook fields', 'treadlebook fields --json'],
  sql: ['treadlebook sql --dialect duckdb > evaluate.sql', 'treadlebook sql --dialect postgres --limits us-nevada,us-new-hampshire --table fleet.readings > evaluate.sql'],
  hold: ['treadlebook hold --gauge-step 25 --limit 3', 'treadlebook hold --gauge-step 10 --digital --limit 20 --unit kPa', 'treadlebook hold --readable-to 2 --limit 3 --json'],
};

const USAGE: Readonly<Record<string, readonly string[]>> = {
  evaluate: [
    'treadlebook evaluate INPUT... [-o OUT.xlsx|OUT.csv] [--limits ID|FILE] [--json] [--from DATE] [--to DATE]',
    '                     [--by week|month|quarter] [--baseline BOOK] [--date-order dmy|mdy] [--sheet NAME]',
    '                     [--map FILE] [--show-map] [--units exact|folded] [--strokes FILE] [--append BOOK]',
    '                     [--caps NAME=N,...] [--strict] [--force] [--quiet]',
    '',
    'Reads inspections (.csv, .tsv, .xlsx, .json, .parquet, or - for standard input), holds each against the limits and',
    'writes the evaluated workbook. Without -o it prints a summary. Several files are read as one table, in their order.',
    '',
    '  -o, --output FILE     the workbook (.xlsx) or table (.csv, .tsv, .parquet) or JSON (.json) to write',
    '  --limits ID|FILE      the limit set; common-practice when left out. Several, with commas between them, hold a fleet',
    '                        that crosses borders against each: the first is the main one',
    '  --json                print the evaluation as one JSON object',
    '  --from DATE           count trend and rates from this day on (2026-03-14)',
    '  --to DATE             tell everything as it stood at the end of this day; later inspections and those without',
    '                        a date are left out of the summaries',
    '  --as-of DATE          the same as --to',
    '  --by LENGTH           week, month or quarter, for the trend; as suits the span when left out',
    '  --baseline BOOK       set the rates beside those of an earlier table: an evaluated workbook or any readings',
    '                        (.csv, .tsv, .xlsx, .json, or -), evaluated with the same limits',
    '  --date-order ORDER    dmy or mdy, for dates such as 4/3/2026',
    '  --sheet NAME          the sheet of a workbook to read',
    '  --map FILE            which column holds which field, as --show-map prints it',
    '  --show-map            print how the columns were taken, as a file for --map',
    '  --units RULE          exact, or folded to take T-7, T07 and t 7 as one unit',
    '  --strokes FILE        a table of pushrod strokes; the sheet Strokes of the same workbook when left out',
    '  --append BOOK         add the inspections to an evaluated workbook: its own come first, with all that was typed into its',
    '                        entries and into columns of your own; those that it holds already are passed over. It is written',
    '                        to -o; name the workbook itself, with --force, to replace it. Its limit set holds unless --limits',
    '                        names another',
    '  --caps NAME=N,...     raise or lower bounds on what a file may hold, such as xlsx.rows=2000000; the README lists them',
    '  --strict              exit with 1 when anything failed or was not understood',
    '  --force               replace an output file that exists',
    '  --quiet               print nothing but errors',
  ],
  blank: ['treadlebook blank -o OUT.xlsx|OUT.csv [--limits ID|FILE] [--rows N] [--force]', '', 'Writes a workbook for entry: verdicts appear as rows are typed.'],
  compare: [
    'treadlebook compare A B [-o OUT.xlsx|OUT.csv|OUT.json] [--json] [--date-order dmy|mdy] [--sheet NAME]',
    '                    [--caps NAME=N,...] [--force] [--quiet]',
    '',
    'Compares two keyings of the same paper (.csv, .tsv, .xlsx, .json; one may be - for standard input) cell by cell.',
    'Rows and columns may stand in any order. Exits with 0 when the keyings are the same, with 1 when anything differs.',
    '',
    '  -o, --output FILE     every difference as a workbook (.xlsx), a table (.csv) or JSON (.json)',
    '  --json                print the comparison as one JSON object',
    '  --date-order ORDER    dmy or mdy, for dates such as 4/3/2026, in both',
    '  --sheet NAME          the sheet to read of each workbook; a file without sheets is read whole',
    '  --caps NAME=N,...     raise or lower bounds on what a file may hold, such as xlsx.rows=2000000; the README lists them',
    '  --force               replace an output file that exists',
    '  --quiet               print nothing but errors (and what --json asks for)',
  ],
  verify: [
    'treadlebook verify BOOK.xlsx [--limits ID|FILE] [--caps NAME=N,...] [--json] [--quiet]',
    '',
    'Recomputes an evaluated workbook from its entries and its own sheet Limits, and names every cell that is not as it',
    'should be: values, formulas, limits, counts, names, what does not show. What a spreadsheet program writes otherwise when',
    'it saves is no finding. Exits with 0 when nothing was found, with 1 when anything was.',
    '',
    '  --limits ID|FILE      the limit set; the one that the workbook names when left out',
    '  --caps NAME=N,...     raise or lower bounds on what a file may hold, such as xlsx.rows=2000000; the README lists them',
    '  --json                print the findings as one JSON object',
    '  --quiet               print nothing but errors (and what --json asks for)',
  ],
  report: [
    'treadlebook report INPUT --unit UNIT --date DATE -o OUT.xlsx [--limits ID|FILE] [--date-order dmy|mdy]',
    '                  [--sheet NAME] [--map FILE] [--units exact|folded] [--caps NAME=N,...] [--force] [--quiet]',
    '',
    'Writes one printable page for each inspection of a unit on a day: readings as typed, measures, limits with their',
    'source, verdicts with the reason, the inspections before it. INPUT is any table of readings, or an evaluated',
    'workbook, whose limit set and changed limits are used.',
    '',
    '  --unit UNIT           the unit, as it stands in the table',
    '  --date DATE           the day of the inspection, as 2026-03-14',
    '  -o, --output FILE     the workbook (.xlsx) to write',
    '  --limits ID|FILE      the limit set; that of the workbook, else common-practice, when left out',
    '  --date-order ORDER    dmy or mdy, for dates such as 4/3/2026',
    '  --sheet NAME          the sheet of a workbook to read',
    '  --map FILE            which column holds which field, as evaluate --show-map prints it',
    '  --units RULE          exact, or folded to take T-7, T07 and t 7 as one unit',
    '  --caps NAME=N,...     raise or lower bounds on what a file may hold, such as xlsx.rows=2000000; the README lists them',
    '  --force               replace an output file that exists',
    '  --quiet               print nothing but errors',
  ],
  limits: ['treadlebook limits [ID|FILE] [--json]', '', 'Lists the limit sets, shows one, or checks a file of your own.'],
  fields: ['treadlebook fields [--json]', '', 'Lists the columns of the readings table: names, titles, units, accepted spellings.'],
  sql: [
    'treadlebook sql --dialect duckdb|spark|postgres [--limits ID|FILE] [--table NAME]',
    '',
    'Prints a script of SQL that evaluates a readings table inside a database: it makes the table where there is none, and',
    'the views inspections, checks, units and fail_rates over it. Into the table goes what evaluate -o clean.parquet writes.',
    'What the views hold is proved the same as what evaluate computes in DuckDB 1.5 and PostgreSQL 15; Spark SQL is written by',
    'its published grammar and was not run.',
    '',
    '  --dialect NAME        duckdb, spark or postgres',
    '  --limits ID|FILE      the limit set; common-practice when left out. Several, with commas between them',
    '  --table NAME          the readings table, with its schema where it has one; readings when left out. The views stand',
    '                        in the same schema',
  ],
  hold: [
    'treadlebook hold --gauge-step N --limit N [--unit psi|kPa|bar] [--digital] [--readable-to N] [--json]',
    '',
    'Says how long to hold a leak test on a gauge until a pass or a fail is 95 % sure, and which losses decide it by then.',
    '',
    '  --gauge-step N        the pressure between two marks of the gauge',
    '  --limit N             what may be lost a minute',
    '  --unit UNIT           the unit of these numbers: psi when left out, kPa or bar',
    '  --digital             the gauge shows figures; one with a step of 2 psi or finer is taken to',
    '  --readable-to N       the smallest difference that can be told; 0.12 of a dial\'s step when left out',
    '  --json                print the answer as one JSON object',
  ],
};

/** The names of the commands. */
export const COMMANDS = Object.keys(USAGE);

/** The help of one command, or of the program: examples first, cautions last. */
export function helpText(command?: string): string {
  const names = command === undefined ? COMMANDS : [command];
  const lines = ['Examples', ...names.flatMap((name) => EXAMPLES[name]!.slice(0, command === undefined ? 2 : 9).map((example) => `  ${example}`)), ''];
  if (command === undefined) {
    lines.push('Turns readings of in-cab air-brake tests into an evaluated workbook, and back again.', '', 'Commands');
    for (const name of names) lines.push(`  ${USAGE[name]![0]!.trim()}`, ...USAGE[name]!.slice(1, USAGE[name]!.indexOf('')).map((line) => `  ${line}`));
    lines.push('', '`treadlebook COMMAND --help` says more; `treadlebook --version` prints the version.');
  } else {
    lines.push('Usage', ...USAGE[command]!.map((line) => (line === '' ? '' : `  ${line}`)));
  }
  lines.push('', 'Exit codes', '  0 done; 1 done and something was found; 2 usage; 3 input cannot be read; 4 output cannot be written; 70 a defect of ours', '', 'Cautions', ...cautions().map((caution) => `  - ${caution}`), '');
  return lines.join('\n');
}
