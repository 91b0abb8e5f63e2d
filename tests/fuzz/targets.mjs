import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { run } from '../../dist/cli/run.js';
import { parseExpression } from '../../dist/expressions/parse-expression.js';
import { toFormula } from '../../dist/expressions/to-formula.js';
import { toFunction } from '../../dist/expressions/to-function.js';
import { toWords } from '../../dist/expressions/to-words.js';
import { compileLimitSet, evaluatedCsv, evaluateReadings, evaluationJson, fieldDictionary, openStrokes, parseColumnMap, parseLimitSet, TreadlebookError, verifyWorkbook, workbookOf } from '../../dist/index.js';
import { mutateBytes, mutateText } from './mutate.mjs';
import { partsOf, zipOf } from './zip-parts.mjs';

/** A claim about every input that does not hold. */
export class Broken extends Error {}

function claim(holds, what) {
  if (!holds) throw new Broken(what);
}

const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url));
const samples = (pattern) => readdirSync(join(SAMPLES, 'messy')).filter((name) => pattern.test(name)).map((name) => readFileSync(join(SAMPLES, 'messy', name)));
const FIELDS = fieldDictionary().fields;
const VALUES = ['104', '104 psi', '7.2 bar', '720 kPa', '0.72 MPa', '104-108', '104±2', '~104', '115/112', '1:00', '60 s', '4 min 10 s', "4'10\"", '0:47.5', '2026-03-14', '14/3/2026', '3/14/26', '14 Mar 2026', '46095', 'yes', 'no', 'x', '✓', 'never', 'n/a', '-', '?', 'psi', 'kPa', 'bar', 'truck', 'bus', 'trailer', '=1+1', "'=1", 'T-1', 't1', '1,234', '1.234,5', '12 345'];
const WORDS = [...FIELDS.flatMap(({ name, title, spellings }) => [name, title, ...spellings]), ...VALUES, 'P', 'S', 'Primary', 'Secondary', 'Start', 'End', 'Minutes', 'Test', 'Circuit', 'Released', 'Applied', 'Date:', 'Unit #:', 'Total', 'sep=;'];
const JSON_WORDS = ['{', '}', '[', ']', ':', ',', 'null', 'true', '1e400', '"\\u0000"', '"\\ud800"', '"__proto__"', '{"__proto__":1}', '"inspections"', ...FIELDS.map(({ name }) => `"${name}"`), ...VALUES.map((value) => JSON.stringify(value))];
const LIMIT_WORDS = [...JSON_WORDS, ...['columns', 'measures', 'checks', 'conditions', 'extends', 'shown_in', 'interval', 'measure', 'check', 'title', 'unit', 'expression', 'highest_of', 'lowest_of', 'says', 'say', 'when', 'recheck', 'recheck_when', 'held_for', 'circuit', 'diagnosis', 'when_used', 'ranks_units', 'at_most', 'at_least', 'between', 'must_be', 'no_number', 'severity', 'either_of', 'optional', 'kind', 'choices', 'whenBlank', 'plausible', 'spread', 'never', 'spellings', 'width', 'group', 'commaGroups', 'unitWords', 'without_ends', 'kPa', 'bar', 'MPa', 'psi/min', 'share', 'yes', 'choice', 'text', 'yes_no', 'pressure', 'time', 'count', 'quantity', 'date', 'common-practice', 'us-nevada', '{value}', '{entered cut_out}', '{duration buildup_time}', 'major', 'advisory'].map((word) => `"${word}"`)];
const EXPRESSION_WORDS = ['a', 'b', 's', 'p', '(', ')', '+', '-', '*', '/', '^', '<', '<=', '==', '!=', ' and ', ' or ', 'not ', '?', ':', ',', 'max(', 'round(', 'highest(', 'given(', 'only_if(', 'sqrt(', '"x"', '[', ']', '{', '}', ';', '=', '.', '!', '%', "'", '#', ' mod ', ' to ', '1e', '0x', 'constructor', 'f(x)='];
const XML_WORDS = ['<c r="A1">', '<c r="XFD1048576" t="s"><v>0</v></c>', ' t="s"', ' t="str"', ' t="inlineStr"', ' t="b"', ' t="e"', ' t="d"', ' s="1"', '<v>1</v>', '<v>46095.5</v>', '<f>1+1</f>', '<f t="shared" si="0" ref="A1:B9">A1+$B$2</f>', '<f t="shared" si="0"/>', '<is><t>x</t></is>', '<row r="1">', '</row>', '<row r="1048576"/>', '<mergeCell ref="A1:C3"/>', '<numFmt numFmtId="164" formatCode="[h]:mm"/>', ' hidden="1"', ' date1904="1"', '<!-- -->', '<![CDATA[x]]>', '&#0;', '&#x1F600;', '&lt;', '&bad;', '<!DOCTYPE a [<!ENTITY b "c">]>', '<?xml version="1.0"?>', 'xml:space="preserve"', '</sheetData>', '_x0000_', ...VALUES];

/** Reads, evaluates and writes everything that can come of readings, and checks what must hold of all of it. */
async function evaluateAll(bytes, name, wholeBook) {
  const fleet = await evaluateReadings(bytes, { name });
  let json = '';
  for await (const piece of evaluationJson(fleet)) json += piece;
  const parsed = JSON.parse(json);
  claim(parsed.inspections.length === fleet.evaluations.length, 'the JSON has another number of inspections');
  claim(fleet.source.rows_read >= 0 && fleet.evaluations.length > 0, 'there is no inspection, and no error');
  for (const { verdict, reason } of fleet.evaluations) claim(['pass', 'fail', 'recheck', 'not tested', null].includes(verdict) && !/NaN|undefined|\[object/.test(String(reason).replace(/".*?"/g, '')), `an odd verdict or reason: ${verdict}: ${reason}`);
  for (const { code, expected } of fleet.problems) claim(code !== '' && !/NaN|undefined|\[object|[\r\n]/.test(expected), `an odd problem: ${code}: ${expected}`);
  const csv = await gathered(evaluatedCsv(fleet.plan, fleet.columns, fleet.evaluations, ','));
  const same = async (written, as) => {
    const again = await evaluateReadings(written, { name: as });
    const verdicts = ({ evaluations }) => evaluations.map(({ verdict }) => verdict).join();
    claim(verdicts(again) === verdicts(fleet), `written as ${as} and read again, the verdicts differ: ${verdicts(fleet).slice(0, 200)} | ${verdicts(again).slice(0, 200)}`);
  };
  await same(csv, 'again.csv');
  if (!wholeBook || fleet.evaluations.length > 50) return;
  const book = await gathered(workbookOf(fleet));
  await same(book, 'again.xlsx');
  const { findings } = await verifyWorkbook(book, { name: 'again.xlsx' });
  claim(findings.length === 0, `verify finds in a workbook just written: ${JSON.stringify(findings[0])}`);
}

async function gathered(pieces) {
  const chunks = [];
  for await (const piece of pieces) chunks.push(Buffer.from(piece));
  return Buffer.concat(chunks);
}

const TYPES = new Map([['a', 'number'], ['b', 'number'], ['s', 'text'], ['p', 'truth']]);
const ROWS = [[1, 2, 'x', true], [null, null, null, null], [0, -1e300, '', false], [1e-300, 0.1, '=1', null]];
const reference = (name) => ({ text: `$${name.toUpperCase()}4`, needs: { numbers: new Set(TYPES.get(name) === 'number' ? [`$${name.toUpperCase()}4`] : []), blankTests: new Set() }, mayFail: false });

/** Each expression may be refused, but then by its own check and no other. */
function evaluateExpression(text) {
  const tree = parseExpression(text, TYPES);
  const compute = toFunction(tree, (name) => [...TYPES.keys()].indexOf(name));
  for (const row of ROWS) {
    const value = compute(row);
    claim(value === null || typeof value === { number: 'number', text: 'string', truth: 'boolean' }[tree.type], `a ${tree.type} gives ${String(value)}`);
    claim(typeof value !== 'number' || Number.isFinite(value), `it gives ${value}`);
  }
  toWords(tree, (name) => name);
  claim(toFormula(tree, reference).length <= 8192, 'the formula is too long');
}

async function evaluateLimits(text, wholeBook) {
  const set = parseLimitSet(text, 'fuzz.json');
  const plan = compileLimitSet(set);
  claim(plan.checks.length > 0, 'a set without checks');
  const header = FIELDS.slice(0, 40).map(({ name }) => name);
  const csv = `${header.join()}\n${header.map((name) => (name === 'unit' ? 'T-1' : name === 'inspected_on' ? '2026-03-14' : /time/.test(name) ? '60 s' : '104')).join()}\n`;
  const fleet = await evaluateReadings(Buffer.from(csv), { name: 'fuzz.csv', limits: set });
  const json = JSON.parse((await gathered(evaluationJson(fleet))).toString());
  claim(json.inspections.length === 1, 'the inspection is gone');
  if (!wholeBook) return;
  const { findings } = await verifyWorkbook(await gathered(workbookOf(fleet)), { name: 'again.xlsx', limits: set });
  claim(findings.length === 0, `verify finds in a workbook just written: ${JSON.stringify(findings[0])}`);
}

class Gathered extends Writable {
  text = '';

  _write(chunk, _encoding, done) {
    this.text += chunk.toString('utf8');
    done();
  }
}

/** The command line, with words that name no path outside the folder in which it runs. */
async function runCommand(text) {
  const args = text.split('\n').filter((word) => word !== '');
  if (args.some((word) => /[/\\\0]|^-$|\.\.|=-$/.test(word))) return;
  const [out, err] = [new Gathered(), new Gathered()];
  const code = await run(args, { out, err });
  claim([0, 1, 2, 3, 4].includes(code), `exit code ${code}: ${err.text.slice(0, 300)}`);
  claim(code < 2 || /^treadlebook: [^\n]+\n$/.test(err.text) || err.text.startsWith('Usage') || args.length === 0, `an error of other than one line: ${JSON.stringify(err.text.slice(0, 300))}`);
  claim(!/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/.test(err.text), `a control character on a terminal: ${JSON.stringify(err.text.slice(0, 300))}`);
}

const text = (bytes) => Buffer.from(bytes).toString('utf8');
const textMutator = (words) => (bytes, random, others) => (random.chance(0.05) ? mutateBytes(bytes, random) : Buffer.from(mutateText(text(bytes), random, { words, others: others.map(text) })));

/** One part of the package is changed, or its bytes. */
async function mutatePackage(bytes, random, others) {
  if (random.chance(0.15)) return mutateBytes(bytes, random);
  const parts = await partsOf(bytes);
  if (parts === null || parts.size === 0) return mutateBytes(bytes, random);
  const names = [...parts.keys()];
  for (let changes = 1 + random.below(2); changes > 0; changes--) {
    const name = random.of(random.chance(0.6) ? names.filter((one) => /sheet|Strings|styles/i.test(one)).concat(names[0]) : names);
    if (random.chance(0.03)) parts.delete(name);
    else if (random.chance(0.03)) parts.set(`${name}x`, parts.get(name) ?? Buffer.alloc(0));
    else if (parts.has(name)) parts.set(name, Buffer.from(mutateText(text(parts.get(name)), random, { words: XML_WORDS, others: [...parts.values()].map(text) })));
  }
  void others;
  return (await zipOf(parts)) ?? mutateBytes(bytes, random);
}

/** What is fuzzed, by name: its first inputs besides the corpus, how they are changed, and what must hold of each. */
export const TARGETS = {
  csv: { seeds: samples(/^(?:marks|two-needles|ragged|slips|semicolon|pipe|units-row|title-lines|repeats|windows-1252|utf-16le|loose-numbers|footer).*\.csv$/), mutate: textMutator(WORDS), run: (bytes, often) => evaluateAll(bytes, 'fuzz.csv', often) },
  checklist: { seeds: samples(/^(?:form|long-list|on-its-side|pages|stacked-tables|two-tables|no-test-named|blank-columns).*\.csv$/), mutate: textMutator(WORDS), run: (bytes, often) => evaluateAll(bytes, 'fuzz.csv', often) },
  json: { seeds: [], mutate: textMutator(JSON_WORDS), run: (bytes, often) => evaluateAll(bytes, 'fuzz.json', often) },
  xlsx: { seeds: samples(/\.xlsx$/), mutate: mutatePackage, run: (bytes, often) => evaluateAll(bytes, 'fuzz.xlsx', often) },
  verify: { seeds: samples(/changed-workbook\.xlsx$/), mutate: mutatePackage, run: (bytes) => verifyWorkbook(bytes, { name: 'fuzz.xlsx' }) },
  expression: { seeds: [], mutate: textMutator(EXPRESSION_WORDS), run: (bytes) => evaluateExpression(text(bytes)) },
  limits: { seeds: [readFileSync(join(SAMPLES, 'our-own-limits.json'))], mutate: textMutator(LIMIT_WORDS), run: (bytes, often) => evaluateLimits(text(bytes), often) },
  map: { seeds: samples(/\.map\.json$/), mutate: textMutator(JSON_WORDS), run: (bytes) => claim(parseColumnMap(text(bytes), 'fuzz.json', fieldDictionary()) instanceof Map, 'it is no map') },
  strokes: { seeds: [], mutate: textMutator([...VALUES, 'unit', 'position', 'stroke', 'chamber', '1L', '2R', '30', '30LS', '1 3/4', '1 3/4 in', '44 mm', '4.4 cm', '½', '1½"', 'worn', 'clamp', 'yes']), run: async (bytes) => claim((await openStrokes(bytes, { name: 'fuzz.csv' })).strokes.evaluation.chambers.length > 0, 'no chamber, and no error') },
  arguments: { seeds: [], mutate: textMutator(['evaluate', 'blank', 'compare', 'verify', 'report', 'limits', 'fields', 'hold', 'help', '--json', '--limits', '--from', '--to', '--by', '--as-of', '--strict', '--quiet', '--sheet', '--map', '--show-map', '--date-order', 'dmy', '--units', 'folded', '--rows', '-o', '--force', '--help', '--version', '2026-03-01', '2026-13-45', 'week', 'month', 'us-nevada', 'fleet.csv', 'out.csv', 'out.json', '--row', '--unit', '--', '=', '--no-json', '-q', '-h', '\n']), run: (bytes) => runCommand(text(bytes)) },
};

/** A target with a fault on purpose, to see that faults are found: a text with `fall` and a digit after it. */
export const PLANTED = { seeds: [Buffer.from('all fine here'), Buffer.from('a fal1 is near')], mutate: textMutator(['fall', '1', 'x']), run: (bytes) => (/fall\d/.test(text(bytes)) ? null.length : undefined) };

/** True for an error that says what is wrong with the input: the only kind that may be thrown. */
export const isRefusal = (error) => error instanceof TreadlebookError && error.code !== 'defect' && error.what !== '' && !/[\r\n]/.test(error.message);
