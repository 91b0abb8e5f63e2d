import { PSI_PER } from '../readings/pressure-units.js';

/** A number that is no limit but that the verdicts rest on, with its source. It stands in the sheet Limits as a cell. */
export interface FactUsed {
  readonly fact: string;
  readonly title: string;
  readonly value: number;
  readonly source: string;
  readonly status: 'read' | 'secondary' | 'memory' | 'common practice';
}

/** Every such number, in one place. Expressions of the program name them `fact:<name>`. */
export const FACTS_USED: readonly FactUsed[] = [
  { fact: 'psi_per_kPa', title: 'psi in one kPa', value: PSI_PER.kPa, source: 'NIST SP 811, Appendix B (from the exact pound, standard gravity and inch)', status: 'read' },
  { fact: 'psi_per_bar', title: 'psi in one bar', value: PSI_PER.bar, source: 'NIST SP 811, Appendix B', status: 'read' },
  { fact: 'needle_share', title: 'Part of a dial gauge\'s step that can be told apart', value: 0.12, source: 'about one needle\'s width: 3 psi on 25 psi steps; common practice, no source', status: 'common practice' },
  { fact: 'digital_step', title: 'Step in psi at or below which a gauge is taken as digital', value: 2, source: 'no dash dial is divided so finely; common practice, no source', status: 'common practice' },
  { fact: 'sure_share', title: 'Chance at which a verdict counts as sure', value: 0.95, source: 'JCGM 106:2012 leaves the level to the user; 95 % is the usual choice, common practice, no source', status: 'common practice' },
  { fact: 'sure_z', title: 'Standard deviations for that chance, one-sided', value: 1.6448536269514722, source: 'normal distribution, JCGM 106:2012 Table 1 (1.64)', status: 'read' },
  { fact: 'highest_plausible', title: 'Highest plausible pressure, psi', value: 200, source: 'above any relief valve of a road vehicle; common practice, no source', status: 'common practice' },
];
