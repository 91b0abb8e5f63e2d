/** A limit set of one check, so that a workbook is small and soon evaluated. */
export const SMALL_LIMITS = JSON.stringify({
  format: 'treadlebook-limits',
  version: 1,
  id: 'small',
  title: 'One check',
  authority: 'No authority',
  notice: 'A set for tests.',
  measures: [],
  checks: [{ check: 'cut_in', title: 'Governor cut-in', measure: 'cut_in', at_least: 85, unit: 'psi', optional: true, source: { citation: 'none', printed: 'at least 85 psi', status: 'common practice' } }],
});
