import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeZip } from '../formats/make-xlsx.js';
import { runInside } from './run-inside.js';
import { runProgram } from './run-program.js';

const CHECK = { check: 'mine', title: 'Mine', measure: 'released_loss', at_most: 3 as number | string, unit: 'psi/min', source: { citation: 'x', printed: 'x', status: 'memory' } };
const limitFile = (change: Partial<typeof CHECK>): string => JSON.stringify({ format: 'treadlebook-limits', version: 1, extends: 'common-practice', id: 'mine', title: 'Mine', authority: 'Me', notice: 'None.', checks: [{ ...CHECK, ...change }] });

const FILES: Readonly<Record<string, string | Uint8Array>> = {
  'ok.csv': 'unit,inspected_on,site\nK-1,2026-03-14,Quay\n',
  'empty.csv': '',
  'blank-lines.csv': '\n\n,,\n',
  'header-without-unit.csv': 'colour,inspected_on\nred,2026-03-14\n',
  'near-unit.csv': 'unti,inspected_on\nK-1,2026-03-14\n',
  'header-only.csv': 'unit,inspected_on\n',
  'quote.csv': 'unit,inspected_on\n"K-1,2026-03-14\n',
  'garbage.xlsx': new Uint8Array([0x50, 0x4b, 3, 4, 1, 2, 3, 4, 5]),
  'noise.xlsx': new Uint8Array(Array.from({ length: 2000 }, (_, index) => (index * 7919) % 251)),
  'old.xls': new Uint8Array([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 0, 0, 0, 0]),
  'broken.json': '{"inspections": [',
  'not-a-list.json': '{"unit": "K-1"}',
  'nested.json': '[{"unit": {"name": "K-1"}}]',
  'limits-broken.json': '{"format":',
  'limits-other.json': '{"format":"something-else"}',
  'limits-expression.json': limitFile({ at_most: '3 +' }),
  'limits-name.json': limitFile({ at_most: 'released_los' }),
  'limits-measure.json': limitFile({ measure: 'released_los' }),
  'limits-code.json': limitFile({ at_most: 'process.exit(9)' }),
  'existing.xlsx': 'kept as it is',
};

interface Mistake {
  readonly what: string;
  readonly args: readonly string[];
  readonly code: number;
  /** What the line says, among it the mend. */
  readonly says: readonly RegExp[];
}

const MISTAKES: readonly Mistake[] = [
  { what: 'a file that is not there', args: ['evaluate', 'nothing.csv'], code: 3, says: [/nothing\.csv: there is no such file; check the path/] },
  { what: 'a folder as input', args: ['evaluate', 'folder'], code: 3, says: [/folder: this is a folder; name a file in it/] },
  { what: 'an empty file', args: ['evaluate', 'empty.csv'], code: 3, says: [/empty\.csv: there are no rows/] },
  { what: 'blank lines alone', args: ['evaluate', 'blank-lines.csv'], code: 3, says: [/blank-lines\.csv: there are no rows/] },
  { what: 'a header without a unit', args: ['evaluate', 'header-without-unit.csv'], code: 3, says: [/header-without-unit\.csv: no header row with a column named unit/, /colour, inspected_on/, /treadlebook fields/] },
  { what: 'a misspelt unit', args: ['evaluate', 'near-unit.csv'], code: 3, says: [/rename the column unti to unit/] },
  { what: 'a header and nothing else', args: ['evaluate', 'header-only.csv'], code: 3, says: [/header-only\.csv: there is no inspection below the header; type or paste at least one row/] },
  { what: 'a quote that never closes', args: ['evaluate', 'quote.csv'], code: 3, says: [/quote\.csv/, /quote/] },
  { what: 'a damaged workbook', args: ['evaluate', 'garbage.xlsx'], code: 3, says: [/garbage\.xlsx/, /save it again as \.xlsx/] },
  { what: 'a workbook that is none', args: ['evaluate', 'noise.xlsx'], code: 3, says: [/noise\.xlsx: the file is not a workbook/] },
  { what: 'an old workbook', args: ['evaluate', 'old.xls'], code: 3, says: [/old\.xls/, /save it as \.xlsx/] },
  { what: 'a zip that is no workbook', args: ['evaluate', 'other.zip'], code: 3, says: [/other\.zip/] },
  { what: 'JSON that breaks off', args: ['evaluate', 'broken.json'], code: 3, says: [/broken\.json: it is not JSON/] },
  { what: 'JSON that is no list', args: ['evaluate', 'not-a-list.json'], code: 3, says: [/not-a-list\.json: it is not a list of inspections/] },
  { what: 'JSON with a value inside a value', args: ['evaluate', 'nested.json'], code: 3, says: [/nested\.json, item 1, unit/] },
  { what: 'a sheet that a workbook does not have', args: ['evaluate', 'book.xlsx', '--sheet', 'Reedings'], code: 3, says: [/there is no sheet "Reedings"; did you mean Readings\?/] },
  { what: 'a sheet of a file that is one table', args: ['evaluate', 'ok.csv', '--sheet', 'Readings'], code: 3, says: [/there is no sheet "Readings": the file is one table/] },
  { what: 'an unknown limit set', args: ['evaluate', 'ok.csv', '--limits', 'us-nevda'], code: 2, says: [/there is no limit set "us-nevda"; did you mean us-nevada\?/] },
  { what: 'a limit-set file that is not there', args: ['evaluate', 'ok.csv', '--limits', 'nothing.json'], code: 2, says: [/nothing\.json: there is no such limit-set file/] },
  { what: 'a folder as limit set', args: ['evaluate', 'ok.csv', '--limits', 'folder.json'], code: 2, says: [/folder\.json: the limit-set file cannot be read/] },
  { what: 'a limit set that is not JSON', args: ['evaluate', 'ok.csv', '--limits', 'limits-broken.json'], code: 2, says: [/limits-broken\.json: it is not JSON/] },
  { what: 'a limit set that is something else', args: ['evaluate', 'ok.csv', '--limits', 'limits-other.json'], code: 2, says: [/limits-other\.json/, /format/] },
  { what: 'a limit that is no expression', args: ['evaluate', 'ok.csv', '--limits', 'limits-expression.json'], code: 2, says: [/limits-expression\.json, check mine, at_most: the expression "3 \+" is not valid/] },
  { what: 'a limit that names nothing', args: ['evaluate', 'ok.csv', '--limits', 'limits-name.json'], code: 2, says: [/limits-name\.json, check mine, at_most/, /did you mean released_loss\?/] },
  { what: 'a check of no measure', args: ['evaluate', 'ok.csv', '--limits', 'limits-measure.json'], code: 2, says: [/limits-measure\.json, check mine: no measure is named released_los; did you mean released_loss\?/] },
  { what: 'a limit that is program code', args: ['blank', '-o', 'new.xlsx', '--limits', 'limits-code.json'], code: 2, says: [/limits-code\.json, check mine, at_most/] },
  { what: 'a limit-set file to be checked', args: ['limits', 'limits-name.json'], code: 1, says: [/limits-name\.json, check mine, at_most/, /did you mean released_loss\?/] },
  { what: 'a limit-set file to be checked that is not JSON', args: ['limits', 'limits-broken.json'], code: 1, says: [/limits-broken\.json: it is not JSON/] },
  { what: 'an unknown set to be shown', args: ['limits', 'us-new-hampshir'], code: 2, says: [/did you mean us-new-hampshire\?/] },
  { what: 'an unknown command', args: ['evalaute', 'ok.csv'], code: 2, says: [/there is no command "evalaute"; did you mean evaluate\?/] },
  { what: 'a command like no other', args: ['constructor'], code: 2, says: [/there is no command "constructor"; the commands are evaluate, blank/] },
  { what: 'an unknown option', args: ['evaluate', 'ok.csv', '--limts', 'us-nevada'], code: 2, says: [/the option --limts is unknown; did you mean --limits\?/] },
  { what: 'an unknown option with a value', args: ['evaluate', 'ok.csv', '--as-off=2026-01-01'], code: 2, says: [/the option --as-off\S* is unknown; did you mean --as-of\?/] },
  { what: 'an option like no other', args: ['fields', '--zzzzzzzz'], code: 2, says: [/the option --zzzzzzzz is unknown; `treadlebook fields --help` lists them/] },
  { what: 'a repeated option', args: ['evaluate', 'ok.csv', '--limits', 'us-nevada', '--limits', 'us-nevada'], code: 2, says: [/--limits is given twice/] },
  { what: 'an option without its value', args: ['evaluate', 'ok.csv', '-o'], code: 2, says: [/argument missing/] },
  { what: 'no input', args: ['evaluate'], code: 2, says: [/the INPUT file is missing/] },
  { what: 'a word too many', args: ['verify', 'ok.csv', 'more.csv'], code: 2, says: [/there is a word too many: "\S*more\.csv"/] },
  { what: 'an output of no known format', args: ['evaluate', 'ok.csv', '-o', 'out.pdf'], code: 2, says: [/"out\.pdf" has no ending that says its format; end it in \.xlsx/] },
  { what: 'a day that is none', args: ['evaluate', 'ok.csv', '--as-of', '2026-02-30'], code: 2, says: [/--as-of "2026-02-30" is no date; write it as 2026-03-14/] },
  { what: 'a first day that is none', args: ['evaluate', 'ok.csv', '--from', '1.3.2026'], code: 2, says: [/--from "1\.3\.2026" is no date; write it as 2026-03-14/] },
  { what: 'a last day that is none', args: ['evaluate', 'ok.csv', '--to', '2026-13-01'], code: 2, says: [/--to "2026-13-01" is no date; write it as 2026-03-14/] },
  { what: 'a first day after the last', args: ['evaluate', 'ok.csv', '--from', '2026-04-01', '--to', '2026-03-01'], code: 2, says: [/--from 2026-04-01 is after --to 2026-03-01; give the earlier day to --from/] },
  { what: 'a first day after the day of --as-of', args: ['evaluate', 'ok.csv', '--from', '2026-04-01', '--as-of', '2026-03-01'], code: 2, says: [/--from 2026-04-01 is after --as-of 2026-03-01/] },
  { what: 'two last days', args: ['evaluate', 'ok.csv', '--to', '2026-04-01', '--as-of', '2026-03-01'], code: 2, says: [/--to 2026-04-01 and --as-of 2026-03-01 are two ends of one period; give one of them/] },
  { what: 'a length of period that is none', args: ['evaluate', 'ok.csv', '--by', 'day'], code: 2, says: [/--by "day" is not known; write week, month or quarter/] },
  { what: 'a length like a word of the program', args: ['evaluate', 'ok.csv', '--by', 'constructor'], code: 2, says: [/--by "constructor" is not known/] },
  { what: 'a baseline that is not there', args: ['evaluate', 'ok.csv', '--baseline', 'nothing.xlsx'], code: 3, says: [/the baseline \S*nothing\.xlsx: there is no such file; check the path/] },
  { what: 'a baseline without an inspection', args: ['evaluate', 'ok.csv', '--baseline', 'header-only.csv'], code: 3, says: [/the baseline header-only\.csv: there is no inspection below the header; name a table with inspections/] },
  { what: 'an empty baseline', args: ['evaluate', 'ok.csv', '--baseline', 'empty.csv'], code: 3, says: [/the baseline empty\.csv: there are no rows/] },
  { what: 'a blank workbook as baseline', args: ['evaluate', 'ok.csv', '--baseline', 'book.xlsx'], code: 3, says: [/the baseline book\.xlsx: there is no inspection below the header/] },
  { what: 'a damaged baseline', args: ['evaluate', 'ok.csv', '--baseline', 'garbage.xlsx'], code: 3, says: [/the baseline garbage\.xlsx/, /save it again as \.xlsx/] },
  { what: 'a folder as baseline', args: ['evaluate', 'ok.csv', '--baseline', 'folder'], code: 3, says: [/the baseline \S*folder: this is a folder/] },
  { what: 'standard input as both', args: ['evaluate', '-', '--baseline', '-'], code: 2, says: [/standard input cannot be both INPUT and the baseline; name a file for one of them/] },
  { what: 'the baseline as output', args: ['evaluate', 'ok.csv', '--baseline', 'near-unit.csv', '-o', 'near-unit.csv', '--force'], code: 4, says: [/near-unit\.csv: this file is read, and what is read is never overwritten; name another file/] },
  { what: 'an order of dates that is none', args: ['evaluate', 'ok.csv', '--date-order', 'ymd'], code: 2, says: [/--date-order "ymd" is not known; write dmy \(day first\) or mdy/] },
  { what: 'a rule of units that is none', args: ['evaluate', 'ok.csv', '--units', 'loose'], code: 2, says: [/--units "loose" is not known/] },
  { what: 'a map that is not there', args: ['evaluate', 'ok.csv', '--map', 'nothing.json'], code: 2, says: [/nothing\.json/] },
  { what: 'an existing output', args: ['evaluate', 'ok.csv', '-o', 'existing.xlsx'], code: 4, says: [/existing\.xlsx: the file exists already and was kept; name another file, or add --force/] },
  { what: 'the input as output, even by force', args: ['evaluate', 'ok.csv', '-o', './ok.csv', '--force'], code: 4, says: [/ok\.csv: this file is read, and what is read is never overwritten; name another file/] },
  { what: 'the limit set as output', args: ['evaluate', 'ok.csv', '--limits', 'limits-mine.json', '-o', 'limits-mine.json', '--force'], code: 4, says: [/limits-mine\.json: this file is read/] },
  { what: 'an output in a folder that is not there', args: ['evaluate', 'ok.csv', '-o', join('nowhere', 'out.xlsx')], code: 4, says: [/the folder does not exist; make it first/] },
  { what: 'a folder as output', args: ['evaluate', 'ok.csv', '-o', 'folder.xlsx', '--force'], code: 4, says: [/folder\.xlsx: the file cannot be written/] },
  { what: 'a blank workbook without a name', args: ['blank'], code: 2, says: [/the output is missing; add -o entry\.xlsx/] },
  { what: 'a blank workbook of no known format', args: ['blank', '-o', 'entry.doc'], code: 2, says: [/"entry\.doc" has no ending/] },
  { what: 'no rows at all', args: ['blank', '-o', 'entry.xlsx', '--rows', '0'], code: 2, says: [/--rows "0" is not a whole number from 1 to 5000/] },
  { what: 'rows that are no number', args: ['blank', '-o', 'entry.xlsx', '--rows', 'many'], code: 2, says: [/--rows "many" is not a whole number/] },
  { what: 'too many rows', args: ['blank', '-o', 'entry.xlsx', '--rows', '5001'], code: 2, says: [/--rows "5001" is not a whole number/] },
  { what: 'a blank workbook over an existing file', args: ['blank', '-o', 'existing.xlsx'], code: 4, says: [/existing\.xlsx: the file exists already and was kept/] },
];

describe('a mistake', { timeout: 120_000 }, () => {
  let folder: string;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'treadlebook-errors-'));
    for (const [name, content] of Object.entries(FILES)) writeFileSync(join(folder, name), content);
    writeFileSync(join(folder, 'limits-mine.json'), limitFile({}));
    writeFileSync(join(folder, 'other.zip'), await makeZip({ 'readme.txt': 'no workbook' }));
    for (const name of ['folder', 'folder.json', 'folder.xlsx']) mkdirSync(join(folder, name));
    const { code } = await runProgram(['blank', '-o', 'book.xlsx', '--rows', '1'], { folder });
    expect(code).toBe(0);
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const contents = (): Record<string, string> => Object.fromEntries(readdirSync(folder, { withFileTypes: true }).map((entry) => [entry.name, entry.isDirectory() ? 'a folder' : readFileSync(join(folder, entry.name)).toString('base64')]));
  const faultOf = ({ what, code, says }: Mistake, run: { readonly code: number | null; readonly out: string; readonly err: string }): string[] => {
    const fits = run.code === code && run.out === '' && /^treadlebook: [^\n]+\n$/.test(run.err) && says.every((pattern) => pattern.test(run.err));
    return fits ? [] : [`${what}: exit ${run.code} where ${code} is due; stdout ${JSON.stringify(run.out)}; stderr ${JSON.stringify(run.err)}`];
  };

  it('ends in one line that says what, where and the mend, in its exit code, and leaves the folder as it was', async () => {
    const before = contents();
    const place = (word: string): string => (/^(?:[\w./-]+\.(?:csv|xlsx|xls|zip|json)|folder)$/.test(word) ? join(folder, word) : word);
    const faults: string[] = [];
    for (const mistake of MISTAKES) faults.push(...faultOf(mistake, await runInside(mistake.args.map(place))));
    expect(faults).toStrictEqual([]);
    expect(contents()).toStrictEqual(before);
  });

  it('does so as a program too', async () => {
    const before = contents();
    const some = MISTAKES.filter(({ what }) => /not there|garbage|damaged|to be checked$|unknown (?:command|option)$|existing output|even by force|folder that is not|folder as limit set|program code/.test(what));
    const faults = await Promise.all(some.map(async (mistake) => faultOf(mistake, await runProgram(mistake.args, { folder }))));
    expect(faults.flat()).toStrictEqual([]);
    expect(new Set(some.map(({ code }) => code))).toStrictEqual(new Set([1, 2, 3, 4]));
    expect(contents()).toStrictEqual(before);
  });
});
