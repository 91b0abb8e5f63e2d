import { NO_NEEDS, quoteText, type FormulaPart, type Needs } from '../expressions/formula-part.js';
import type { FormulaReference } from '../expressions/to-formula.js';
import { PSI_FACTOR } from '../limits/check-names.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { secondsName } from '../limits/working-columns.js';
import type { Field } from '../readings/field.js';
import { TreadlebookError } from '../util/treadlebook-error.js';
import { cellName } from './defined-names.js';
import type { ReadingsLayout } from './readings-layout.js';
import { isNoneOf } from './working-formulas.js';

/** How the formulas of the first data row name readings, limits and computed columns. */
export function readingsReferences(layout: ReadingsLayout, plan: LimitPlan): FormulaReference {
  const types = new Map(plan.columns.map(({ id, type }) => [id, type]));
  const cell = (name: string): string => {
    const letters = layout.lettersOf(name);
    if (letters === null) throw new TreadlebookError({ code: 'defect', what: `no column of Readings holds ${name}` });
    return `$${letters}${layout.firstRow}`;
  };
  return (name) => {
    if (/^(fact|limit|condition):/.test(name)) return { text: cellName(name), needs: NO_NEEDS, mayFail: false };
    if (name.startsWith('entered:')) return numberCell(cell(name.slice('entered:'.length)));
    const type = types.get(name);
    if (type === 'number') return numberCell(cell(name));
    if (type === 'text') return { text: cell(name), needs: blankIf(`${cell(name)}=""`), mayFail: false };
    if (type === 'truth') return { text: `(${cell(name)}="yes")`, needs: blankIf(`${cell(name)}=""`), mayFail: false };
    const field = plan.dictionary.fields[plan.dictionary.position.get(name) ?? -1];
    if (!field) throw new TreadlebookError({ code: 'defect', what: `nothing is named ${name}` });
    return fieldReference(field, cell);
  };
}

function numberCell(cell: string): FormulaPart {
  return { text: cell, needs: { numbers: new Set([cell]), blankTests: new Set() }, mayFail: false };
}

function blankIf(test: string): Needs {
  return { numbers: new Set(), blankTests: new Set([test]) };
}

function fieldReference(field: Field, cell: (name: string) => string): FormulaPart {
  const at = cell(field.name);
  switch (field.kind) {
    case 'pressure':
      return pressureReference(field, at, cell(PSI_FACTOR));
    case 'time':
      return numberCell(cell(secondsName(field.name)));
    case 'count':
    case 'quantity':
      if (field.whenBlank !== undefined) return { text: `IF(ISNUMBER(${at}),${at},${field.whenBlank})`, needs: NO_NEEDS, mayFail: false };
      return numberCell(at);
    case 'yes_no':
      return { text: `(${at}="yes")`, needs: blankIf(`AND(${at}<>"yes",${at}<>"no")`), mayFail: false };
    case 'choice':
      if (field.whenBlank !== undefined) return { text: `IF(${at}="",${quoteText(String(field.whenBlank))},${at})`, needs: NO_NEEDS, mayFail: false };
      return { text: at, needs: blankIf(isNoneOf(at, field.choices!)), mayFail: false };
    default:
      return { text: at, needs: blankIf(`${at}=""`), mayFail: false };
  }
}

function pressureReference(field: Field, at: string, factor: string): FormulaPart {
  if (!field.never) return { text: `(${at}*${factor})`, needs: { numbers: new Set([at, factor]), blankTests: new Set() }, mayFail: false };
  return {
    text: `IF(${at}="never",0,${at}*${factor})`,
    needs: { numbers: new Set([factor]), blankTests: new Set([`AND(NOT(ISNUMBER(${at})),${at}<>"never")`]) },
    mayFail: false,
  };
}
