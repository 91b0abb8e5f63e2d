/** A limit set with one check, the low-air warning at 60 psi or more, and no interval. */
export const OWN_SET = {
  format: 'treadlebook-limits',
  version: 1,
  id: 'own',
  title: 'Own',
  authority: 'Us',
  notice: 'For a test.',
  checks: [{ check: 'warning', title: 'Warning', measure: 'warning_on_at', at_least: 60, unit: 'psi', source: { citation: 'a test', printed: 'as printed', status: 'memory' } }],
};
