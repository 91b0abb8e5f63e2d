import { noNumberWords } from '../../limits/comparator-words.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import type { Source } from '../../limits/limit-set.js';
import type { Field } from '../../readings/field.js';
import { boxRows, spanOf } from '../cab-boxes.js';
import { checkRows, verdictBoxes } from '../cab-check-rows.js';
import { checklistOf, type Checklist, type ChecklistCheck, type ChecklistStep } from '../cab-checklist.js';
import { cabSteps } from '../cab-steps.js';
import { cautionRows, withoutCautions } from '../caution-rows.js';
import { fitPaper, PAPER_COLUMNS, paperTextHeight, writePaper, type PaperLook, type PaperRow } from '../paper-page.js';
import type { SheetContext, SheetParts } from '../sheet-context.js';

/** The sheet's name. */
export const CAB_CHECKLIST_SHEET = 'Cab checklist';

const WHOLE = { at: 0, span: PAPER_COLUMNS } as const;
const STEP_TITLE = { at: 0, span: 8 } as const;
const STEP_WORDS = { at: 8, span: PAPER_COLUMNS - 8 } as const;
/** Columns of boxes that stand beside the words of a step. */
const MOST_BESIDE = 12;
const SMALL: PaperLook = { size: 6.5 };
const TITLE: PaperLook = { size: 9, bold: true, border: 'over' };
const WORDS: PaperLook = { size: 7.5, border: 'over' };

/**
 * Lays out the sheet Cab checklist: one page to be filled in with a pen, made from the limit set, so that paper and sheet ask for the
 * same things. Its limits are formulas over the sheet Limits.
 */
export function cabChecklistSheet({ book, plan, layout }: SheetContext): SheetParts {
  const sheet = book.addWorksheet(CAB_CHECKLIST_SHEET, { views: [{ showGridLines: false }] });
  const checklist = checklistOf(plan, (name) => layout.lettersOf(name) !== null);
  writePaper(sheet, fitPaper((pageWidth) => pageRows(plan, checklist, pageWidth)));
  void sheet.protect('', { selectLockedCells: true, selectUnlockedCells: true, formatColumns: true, formatRows: true });
  return {};
}

function pageRows(plan: LimitPlan, checklist: Checklist, pageWidth: number): PaperRow[] {
  const { set } = plan;
  return [
    { height: 20, cells: [{ ...WHOLE, value: `Cab checklist: ${set.title}`, look: { size: 13, bold: true, vertical: 'middle' } }] },
    textRow(`Limits of: ${set.authority} (${set.id}). ${withoutCautions(set.notice)}`, SMALL, pageWidth),
    ...cautionRows(pageWidth),
    ...boxRows(checklist.heading, pageWidth, 'box'),
    gap(3),
    ...checklist.steps.flatMap((step, index) => stepRows(plan, step, index + 1, pageWidth)),
    ...closingRows(checklist, pageWidth),
  ];
}

function stepRows(plan: LimitPlan, { step, boxes, checks }: ChecklistStep, number: number, pageWidth: number): PaperRow[] {
  const helps = boxes.filter(({ name }) => !step.readings.includes(name)).map(({ title, help }) => `${title}: ${help}`);
  const tests = testWords(checks);
  const words = [step.words, ...(boxes.length > 0 && step.when_read ? [step.when_read] : []), ...helps, ...(tests.length > 0 ? [`Test as printed: ${tests.join('; ')}.`] : [])].join(' ');
  const checkLines = checks.flatMap((check) => checkRows(plan, check.plan, pageWidth));
  return [...headRows(`${number}  ${step.title}`, words, boxes, pageWidth), ...(checkLines.length > 0 ? [gap(2), ...checkLines] : []), gap(3)];
}

/** The conditions of the checks of a step; with the check's name where they are not those of all. */
function testWords(checks: readonly ChecklistCheck[]): string[] {
  const each = checks.map(({ conditions }) => conditions.join('; '));
  if (new Set(each).size === 1) return each[0] === '' ? [] : [each[0]!];
  return checks.flatMap(({ plan: { title } }, index) => (each[index] === '' ? [] : [`${title}: ${each[index]}`]));
}

/** A step's title and words, and its boxes: beside the words where there are few, else below. */
function headRows(title: string, words: string, boxes: readonly Field[], pageWidth: number): PaperRow[] {
  const rows = boxRows(boxes, pageWidth, 'heavy');
  const taken = boxes.reduce((sum, field) => sum + spanOf(field, pageWidth), 0);
  const beside = boxes.length > 0 && taken <= MOST_BESIDE;
  const span = STEP_WORDS.span - (beside ? taken : 0);
  const cells = [{ ...STEP_TITLE, value: title, look: TITLE }, { at: STEP_WORDS.at, span, value: words, look: WORDS }];
  const height = Math.max(...cells.map((cell) => paperTextHeight(cell.value, cell.span, pageWidth, cell.look)));
  if (!beside) return [{ height, cells }, ...rows];
  const shifted = rows.map((row): PaperRow => ({ ...row, cells: row.cells.map((cell) => ({ ...cell, at: cell.at + PAPER_COLUMNS - taken })) }));
  const [labels, pens] = [shifted[0]!, shifted[1]!];
  const labelled = labels.cells.map((cell) => ({ ...cell, look: { ...cell.look, border: 'over' as const } }));
  return [{ height: Math.max(labels.height, height - pens.height), cells: [...cells.map((cell) => ({ ...cell, down: 2 })), ...labelled] }, pens];
}

function closingRows({ optional, withoutNumber }: Checklist, pageWidth: number): PaperRow[] {
  const { source } = cabSteps();
  const noted = (title: string, { citation, status: read }: Source): string => `${title} (${citation} [${read}])`;
  const none = [...new Set(withoutNumber.map(noNumberWords))].map((words) => {
    const listed = withoutNumber.filter((check) => noNumberWords(check) === words).map(({ title, alternatives }) => noted(title, alternatives[0]!.check.source));
    return `${listed.join('; ')}: ${words}.`;
  });
  return [
    { height: 26, pen: true, cells: [{ at: 0, span: 8, value: 'Verdict of the inspection: tick one', look: { bold: true, size: 9, border: 'over' } }, ...verdictBoxes(8, 7, 1, { size: 8, border: 'heavy' })] },
    gap(3),
    { height: 24, takesRest: true, cells: [{ ...WHOLE, value: 'Leaks heard and where, defects, notes', look: { ...SMALL, border: 'box' } }] },
    ...(optional.length > 0 ? [textRow(`Optional, not needed by these limits: ${optional.map(({ title }) => title).join(', ')}.`, SMALL, pageWidth)] : []),
    ...none.map((words) => textRow(words, SMALL, pageWidth)),
    textRow(`Every box is the column of its name on the sheet Readings. The order of the steps is ${source}.`, SMALL, pageWidth),
    { height: 26, pen: true, cells: [{ at: 0, span: 22, value: 'Signature', look: { ...SMALL, vertical: 'bottom', border: 'under' } }, { at: 24, span: 12, value: 'Date and time', look: { ...SMALL, vertical: 'bottom', border: 'under' } }] },
  ];
}

function textRow(words: string, look: PaperLook, pageWidth: number): PaperRow {
  return { height: paperTextHeight(words, PAPER_COLUMNS, pageWidth, look), cells: [{ ...WHOLE, value: words, look }] };
}

function gap(height: number): PaperRow {
  return { height, cells: [] };
}
