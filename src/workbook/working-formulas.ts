import { FILLED, PSI_FACTOR } from '../limits/check-names.js';
import { NOT_READ, secondsName } from '../limits/working-columns.js';
import { quoteText } from '../expressions/formula-part.js';
import type { Dictionary } from '../readings/dictionary.js';
import { HALF_WIDTH, type Field } from '../readings/field.js';
import { timeSpan } from '../readings/read-entry.js';
import type { ReadingsLayout } from './readings-layout.js';

/** The formula of a working column that has no tree; null for any other column. The row is that of the first data row. */
export function workingFormula(id: string, layout: ReadingsLayout, dictionary: Dictionary): string | null {
  const row = layout.firstRow;
  const cell = (name: string): string => `$${layout.lettersOf(name)}${row}`;
  if (id === FILLED) return `IF(COUNTA($${layout.entrySpan.first}${row}:$${layout.entrySpan.last}${row})>0,"yes","")`;
  if (id === PSI_FACTOR) return psiFactorFormula(cell('pressure_unit'), cell(FILLED));
  if (id === NOT_READ) return notReadFormula(dictionary.fields.filter(({ name }) => layout.lettersOf(name) !== null && !name.endsWith(HALF_WIDTH)), cell);
  const timed = dictionary.fields.find((field) => secondsName(field.name) === id);
  return timed ? secondsFormula(cell(timed.name), timeSpan(timed)) : null;
}

function psiFactorFormula(unit: string, filled: string): string {
  return `IF(${filled}<>"yes","",IF(OR(${unit}="",${unit}="psi"),1,IF(${unit}="kPa",fact_psi_per_kPa,IF(${unit}="bar",fact_psi_per_bar,""))))`;
}

/** A longer text of digits is no time. */
const MOST_DIGITS = 9;

/**
 * Seconds from a time cell: `m:ss`, `60 s`, `1 min`, a bare number of seconds, or a number below 1 that a spreadsheet
 * program made of `4:10` (then 4 h 10 min of a day, which means 4 min 10 s here). Empty where that is not plausible.
 * It understands nothing that import does not.
 */
export function secondsFormula(cell: string, { from, to }: { readonly from: number; readonly to: number }): string {
  const text = `SUBSTITUTE(LOWER(TRIM(${cell})),",",".")`;
  const colon = `FIND(":",${text})`;
  const written = `IF(ISNUMBER(${colon}),${clockFormula(text, colon)},${withUnitFormula(text)})`;
  // The distance from the middle of the span names what was written once, where two comparisons would name it twice.
  const inSpan = `ABS(${written}-${(from + to) / 2})<=${(to - from) / 2}`;
  return `IF(${cell}="","",IFERROR(IF(ISNUMBER(${cell}),${serialFormula(cell, { from, to })},IF(${inSpan},ROUND(${written},3),"")),""))`;
}

/** A number of seconds, or a fraction of a day where only one reading of it is plausible: as `parseTimeBare` has it. */
function serialFormula(cell: string, { from, to }: { readonly from: number; readonly to: number }): string {
  const inSpan = (seconds: string): string => `AND(${seconds}>=${from},${seconds}<=${to})`;
  const typed = `ROUND(${cell}*1440,0)`;
  const asTyped = `AND(ABS(${cell}*1440-${typed})<0.01,${typed}>=${from},${typed}<=${to})`;
  const asStored = inSpan(`ROUND(${cell}*86400,3)`);
  const byHand = `AND(ROUND(${cell},3)=${cell},OR(${inSpan(cell)},${inSpan(`${cell}*60`)}))`;
  const fraction = `IF(${byHand},"",IF(${asTyped},IF(${asStored},"",${typed}),IF(${asStored},ROUND(${cell}*86400,3),"")))`;
  return `IF(OR(${cell}>=1,${cell}=0),IF(${inSpan(cell)},ROUND(${cell},3),""),${fraction})`;
}

/** `4:10` and `0:47.5`: two digits of seconds, then perhaps decimals. Without its colon it is minutes times a hundred and seconds. */
function clockFormula(text: string, colon: string): string {
  const digits = `SUBSTITUTE(${text},":","",1)`;
  const number = numberOf(digits);
  const tests = [`${colon}>1`, `FIND(".",${text}&".")=${colon}+3`, `RIGHT(${text},1)<>"."`, ...holdsDigits(digits), `MOD(${number},100)<60`];
  return `IF(AND(${tests.join(',')}),INT(${number}/100)*60+MOD(${number},100),NA())`;
}

/**
 * `60 s`, `4.2 min`, `60`. A mark before three digits may group thousands, and a bare number below 1 may be a part of a
 * minute or of a day: neither is taken. The capital Z marks the end of a text in small letters.
 */
function withUnitFormula(text: string): string {
  const digits = `TRIM(SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(${text}&"Z","minZ",""),"sZ",""),"Z",""))`;
  const number = numberOf(digits);
  const tests = [`ISERROR(FIND("..","."&${digits}&"."))`, `LEFT(RIGHT(${digits},4),1)<>"."`, ...holdsDigits(digits), `OR(${digits}<>${text},${number}>=1,${number}=0)`];
  return `IF(AND(${tests.join(',')}),${number}*IF(RIGHT(${text},3)="min",60,1),NA())`;
}

/** True where a text is short and holds only digits and points. A list in braces would do it shorter, but LibreOffice 7.4 loses those of shared formulas when a row is inserted. */
function holdsDigits(text: string): string[] {
  const rest = [...'0123456789.'].reduce((left, character) => `SUBSTITUTE(${left},"${character}","")`, text);
  return [`LEN(${text})<=${MOST_DIGITS}`, `${rest}=""`];
}

/** The number that digits and a decimal point stand for, whatever the decimal mark of the program's language. */
function numberOf(digits: string): string {
  return `_xlfn.NUMBERVALUE(${digits},"."," ")`;
}

function notReadFormula(fields: readonly Field[], cell: (name: string) => string): string {
  const parts = fields.flatMap((field) => {
    const test = notReadTest(field, cell);
    return test === null ? [] : [`IF(${test},${quoteText(` [${field.title}]`)},"")`];
  });
  return parts.join('&');
}

/** True where a cell holds none of the choices. */
export function isNoneOf(cell: string, choices: readonly string[]): string {
  return `NOT(OR(${choices.map((choice) => `${cell}=${quoteText(choice)}`).join(',')}))`;
}

function notReadTest(field: Field, cell: (name: string) => string): string | null {
  const at = cell(field.name);
  switch (field.kind) {
    case 'text':
      return null;
    case 'choice':
      return `AND(${at}<>"",${isNoneOf(at, field.choices!)})`;
    case 'yes_no':
      return `AND(${at}<>"",${at}<>"yes",${at}<>"no")`;
    case 'time':
      return `AND(${at}<>"",NOT(ISNUMBER(${cell(secondsName(field.name))})))`;
    default:
      return field.never ? `AND(ISTEXT(${at}),${at}<>"never")` : `ISTEXT(${at})`;
  }
}
