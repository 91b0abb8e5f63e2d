import { COMPARATOR_WORDS, endWords, noNumberWords } from '../limits/comparator-words.js';
import { remarks } from '../limits/check-remarks.js';
import { comparatorOf, printedLimits } from '../limits/compile-checks.js';
import type { LimitPlan } from '../limits/compile-limit-set.js';

/** A limit set as lines of text. */
export function limitSetLines({ set, checks, conditions, interval, sha256 }: LimitPlan): string[] {
  const lines = [`${set.id}: ${set.title}`, set.authority, set.notice, `sha256 ${sha256}`, ''];
  for (const plan of checks) {
    const shared = new Set(plan.alternatives.map(({ check }) => remarks(plan, check)));
    lines.push(`${plan.title} [${plan.check}]${shared.size === 1 ? [...shared][0]! : ''}: measure ${plan.measure.measure.measure}`);
    for (const { check } of plan.alternatives) {
      const limit = check.must_be ?? printedLimits(check).join(' and ');
      const rule = plan.comparator === 'no_number' ? noNumberWords(plan) : `${COMPARATOR_WORDS[comparatorOf(check)]} ${limit} ${check.unit}`.trimEnd() + endWords(check.without_ends);
      lines.push(`  ${check.when ? `when ${check.when}: ` : ''}${rule}${shared.size > 1 ? remarks(plan, check) : ''}`);
      lines.push(`    ${check.source.citation}: ${check.source.printed} [${check.source.status}]`);
    }
  }
  if (conditions.length > 0) lines.push('', 'Recheck when');
  for (const { condition } of conditions) lines.push(`  ${condition.checks.join(', ')}: ${condition.recheck_when}`, `    ${condition.source.citation}: ${condition.source.printed} [${condition.source.status}]`);
  lines.push('', ...intervalLines(interval));
  return lines;
}

function intervalLines(interval: LimitPlan['interval']): string[] {
  if (interval === null) return ['Next inspection: the set names no interval'];
  const { every, unit, source } = interval;
  return [`Next inspection: due ${every} ${every === 1 ? unit.replace(/s$/, '') : unit} after the latest`, `  ${source.citation}: ${source.printed} [${source.status}]`];
}
