import { FILLED, PSI_FACTOR } from '../limits/check-names.js';
import { NOT_READ, secondsName } from '../limits/working-columns.js';
import { quoteText } from '../expressions/formula-part.js';
import type { Dictionary } from '../readings/dictionary.js';
import type { Field } from '../readings/field.js';
import { timeSpan } from '../readings/read-entry.js';
import type { ReadingsLayout } from './readings-layout.js';

/** The formula of a working column that has no tree; null for any other column. The row is that of the first data row. */
export function workingFormula(id: string, layout: ReadingsLayout, dictionary: Dictionary): string | null {
  const row = layout.firstRow;
  const cell = (name: string): string => `$${layout.lettersOf(name)}${row}`;
  if (id === FILLED) return `IF(COUNTA($${layout.entrySpan.first}${row}:$${layout.entrySpan.last}${row})>0,"yes","")`;
  if (id === PSI_FACTOR) return psiFactorFormula(cell('pressure_unit'), cell(FILLED));
  if (id === NOT_READ) return notReadFormula(dictionary, cell);
  const timed = dictionary.fields.find((field) => secondsName(field.name) === id);
  return timed ? secondsFormula(cell(timed.name), timeSpan(timed)) : null;
}

function psiFactorFormula(unit: string, filled: string): string {
  return `IF(${filled}<>"yes","",IF(OR(${unit}="",${unit}="psi"),1,IF(${unit}="kPa",fact_psi_per_kPa,IF(${unit}="bar",fact_psi_per_bar,""))))`;
}

/**
 * Seconds from a time cell: `m:ss`, `60 s`, `1 min`, a bare number of seconds, or a number below 1 that a spreadsheet
 * program made of `4:10` (then 4 h 10 min of a day, which means 4 min 10 s here). Empty where that is not plausible.
 */
export function secondsFormula(cell: string, { from, to }: { readonly from: number; readonly to: number }): string {
  const inSpan = (seconds: string): string => `AND(${seconds}>=${from},${seconds}<=${to})`;
  const asMinutes = `ROUND(${cell}*1440,3)`;
  const asDuration = `ROUND(${cell}*86400,3)`;
  const number = `IF(${cell}>=1,${cell},IF(${inSpan(asMinutes)},IF(${inSpan(asDuration)},NA(),${asMinutes}),${asDuration}))`;
  const text = `SUBSTITUTE(SUBSTITUTE(LOWER(TRIM(${cell}))," ",""),",",".")`;
  const numberOf = (part: string): string => `NUMBERVALUE(${part},"."," ")`;
  const colon = `FIND(":",${text})`;
  const secondsPart = `MID(${text},${colon}+1,9)`;
  const clock = `IF(AND(${colon}>1,LEN(INT(${numberOf(secondsPart)})+100)=3,MID(${secondsPart}&".",3,1)=".",${numberOf(secondsPart)}<60),${numberOf(`LEFT(${text},${colon}-1)`)}*60+${numberOf(secondsPart)},NA())`;
  const minutes = `${numberOf(`LEFT(${text},LEN(${text})-3)`)}*60`;
  const seconds = numberOf(`LEFT(${text},LEN(${text})-1)`);
  const odd = `SUMPRODUCT(--ISNUMBER(FIND({"e","%","$","-","+","("},${text})))>0`;
  const written = `IF(${odd},NA(),IF(ISNUMBER(${colon}),${clock},IF(RIGHT(${text},3)="min",${minutes},IF(RIGHT(${text},1)="s",${seconds},${numberOf(text)}))))`;
  const understood = `IF(ISNUMBER(${cell}),${number},${written})`.replaceAll('NUMBERVALUE(', '_xlfn.NUMBERVALUE(');
  return `IF(${cell}="","",IFERROR(IF(${inSpan(understood)},${understood},""),""))`;
}

function notReadFormula(dictionary: Dictionary, cell: (name: string) => string): string {
  const parts = dictionary.fields.slice(0, dictionary.standardCount).flatMap((field) => {
    const test = notReadTest(field, cell);
    return test === null ? [] : [`IF(${test},${quoteText(` [${field.title}]`)},"")`];
  });
  return parts.join('&');
}

function notReadTest(field: Field, cell: (name: string) => string): string | null {
  const at = cell(field.name);
  switch (field.kind) {
    case 'text':
      return null;
    case 'choice':
      return `AND(${at}<>"",ISNA(MATCH(${at},{${field.choices!.map(quoteText).join(',')}},0)))`;
    case 'yes_no':
      return `AND(${at}<>"",${at}<>"yes",${at}<>"no")`;
    case 'time':
      return `AND(${at}<>"",NOT(ISNUMBER(${cell(secondsName(field.name))})))`;
    default:
      return field.never ? `AND(ISTEXT(${at}),${at}<>"never")` : `ISTEXT(${at})`;
  }
}
