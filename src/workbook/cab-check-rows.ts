import type { CellValue } from 'exceljs';
import { remarks } from '../limits/check-remarks.js';
import type { CheckPlan } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import { VERDICTS } from '../limits/verdict.js';
import { limitWords } from './limit-words.js';
import { paperTextHeight, type PaperCell, type PaperLook, type PaperRow } from './paper-page.js';
import type { FormulaText } from './text-formula.js';

/** Where the parts of a check stand, in columns of the page. */
const TITLE = { at: 0, span: 8 } as const;
const LIMIT = { at: 8, span: 9 } as const;
const SOURCE = { at: 17, span: 8 } as const;
const RESULT = { at: 25, span: 3 } as const;
const TICKS = { at: 28, span: 2 } as const;

const TITLE_LOOK: PaperLook = { bold: true, border: 'over' };
const LIMIT_LOOK: PaperLook = { bold: true, border: 'over' };
const SMALL: PaperLook = { size: 6.5, border: 'over' };
const IN_BOX: PaperLook = { size: 5.5, border: 'box' };
/** High enough to put a tick below the word. */
const LEAST_HEIGHT = 21;

/** A check on paper: its name, each limit with its source and status, what was worked out, and the verdict to tick. */
export function checkRows(plan: LimitPlan, check: CheckPlan, pageWidth: number): PaperRow[] {
  const unit = resultUnit(check);
  const sourceSpan = SOURCE.span + (unit === null ? RESULT.span : 0);
  const shared = new Set(check.alternatives.map((alternative) => remarks(check, alternative.check)));
  const lines = check.alternatives.map((alternative) => {
    const limit = limitWords(plan, alternative, shared.size > 1 ? remarks(check, alternative.check) : '');
    const { citation, status } = alternative.check.source;
    const source = `${citation} [${status}]`;
    return { limit, source, height: Math.max(paperTextHeight(limit.text, LIMIT.span, pageWidth, LIMIT_LOOK), paperTextHeight(source, sourceSpan, pageWidth, SMALL)) };
  });
  const down = lines.length;
  const title = check.title + (shared.size === 1 ? [...shared][0]! : '');
  const lacking = Math.max(LEAST_HEIGHT, paperTextHeight(title, TITLE.span, pageWidth, TITLE_LOOK)) - lines.reduce((sum, { height }) => sum + height, 0);
  return lines.map(({ limit, source, height }, index): PaperRow => {
    const cells: PaperCell[] = [{ ...LIMIT, value: limitValue(limit), look: LIMIT_LOOK }, { at: SOURCE.at, span: sourceSpan, value: source, look: SMALL }];
    return { height: index === 0 ? height + Math.max(0, lacking) : height, cells: index === 0 ? [{ ...TITLE, down, value: title, look: TITLE_LOOK }, ...cells, ...boxes(unit, down)] : cells };
  });
}

/** The boxes of the verdicts, with the word in each. */
export function verdictBoxes(at: number, span: number, down: number, look: PaperLook): PaperCell[] {
  return VERDICTS.map((verdict, index) => ({ at: at + index * span, span, down, value: verdict, look: { horizontal: 'center', ...look } }));
}

function boxes(unit: string | null, down: number): PaperCell[] {
  const result: PaperCell[] = unit === null ? [] : [{ ...RESULT, down, value: `= ${unit}`.trim(), look: { ...IN_BOX, vertical: 'bottom', horizontal: 'right' } }];
  return [...result, ...verdictBoxes(TICKS.at, TICKS.span, down, IN_BOX)];
}

/** The unit of what is to be worked out from the boxes; null where a reading itself is held against the limit. */
function resultUnit({ measure, alternatives }: CheckPlan): string | null {
  const { unit } = alternatives[0]!.check;
  if (measure.type !== 'number' || measure.tree.kind === 'name') return null;
  return unit === 'share' ? '%' : unit;
}

function limitValue({ text, formula }: FormulaText): CellValue {
  return formula === null ? text : { formula, result: text };
}
