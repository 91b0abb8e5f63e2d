import type { CheckResult } from '../fleet/evaluation.js';
import { remarks } from '../limits/check-remarks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';
import type { PaperLook, PaperRow } from './paper-page.js';
import { appliedAlternative, printedResult } from './printed-result.js';
import { reportText, rowOf, wholeRow } from './report-boxes.js';

/** The columns of the table of checks: where they begin on the page, how wide they are, and what they hold. */
const COLUMNS = [
  { at: 0, span: 7, title: 'Check' },
  { at: 7, span: 4, title: 'Measured' },
  { at: 11, span: 6, title: 'Limit' },
  { at: 17, span: 4, title: 'Verdict' },
  { at: 21, span: 3, title: 'Share of limit' },
  { at: 24, span: 3, title: 'Chance within limit' },
  { at: 27, span: 9, title: 'Source [status]' },
] as const;
const HEADER: PaperLook = { size: 6.5, bold: true, vertical: 'bottom', border: 'under' };
const LOOKS: readonly PaperLook[] = [{ bold: true }, {}, {}, { bold: true }, {}, {}, { size: 6.5 }];
const REASON: PaperLook = { size: 7, border: 'under' };

/** The checks of an inspection as a table, each with its reason in words below it. */
export function checkTable(plan: LimitPlan, results: readonly CheckResult[], pageWidth: number): PaperRow[] {
  return [
    rowOf(COLUMNS.map(({ at, span, title }) => ({ at, span, value: title, look: HEADER })), pageWidth),
    ...results.flatMap((result) => {
      const { measured, limit } = printedResult(plan, result);
      const texts = [titleOf(plan, result), measured, limit, result.verdict, percent(result.share_of_limit, 0), percent(result.chance_within_limit, 1), `${result.citation} [${result.status}]`];
      return [
        rowOf(COLUMNS.map(({ at, span }, index) => ({ at, span, value: reportText(texts[index]!), look: LOOKS[index]! })), pageWidth),
        wholeRow(result.reason, REASON, pageWidth),
      ];
    }),
  ];
}

function titleOf({ checks }: LimitPlan, result: CheckResult): string {
  const plan = checks.find(({ check }) => check === result.check);
  return plan ? plan.title + remarks(plan, appliedAlternative(plan, result).check) : result.check;
}

function percent(part: number | null, decimals: number): string {
  return part === null ? '' : `${(part * 100).toFixed(decimals)} %`;
}
