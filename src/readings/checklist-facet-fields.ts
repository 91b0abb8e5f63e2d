import type { CircuitName, LabelFacets, Moment } from './checklist-label-facets.js';
import type { TestName } from './checklist-test-name.js';

/** What the headings above a label have settled already. */
export interface LabelContext {
  readonly test: TestName | null;
  readonly circuit: CircuitName | null;
}

/** No heading above. */
export const NO_CONTEXT: LabelContext = { test: null, circuit: null };

/** Tests that give one pressure: the one at which something happened. */
export const SINGLE_PRESSURE: ReadonlyMap<TestName, readonly string[]> = new Map<TestName, readonly string[]>([
  ['light', ['light_on_at']],
  ['buzzer', ['buzzer_on_at']],
  ['light and buzzer', ['light_on_at', 'buzzer_on_at']],
  ['warning', ['light_on_at']],
  ['cut in', ['cut_in']],
  ['cut out', ['cut_out']],
  ['parking valve', ['parking_valve_closes_at']],
  ['trailer valve', ['trailer_valve_closes_at']],
]);

/**
 * The fields that a test, a circuit and a moment name together; none where they leave something open. `both` circuits
 * name two. A build-up without a moment is its time.
 *
 * @example fieldsOfFacets({ test: 'released', circuit: 'both', moment: 'start' }) // ['released_primary_start', 'released_secondary_start']
 */
export function fieldsOfFacets(facets: Pick<LabelFacets, 'test' | 'circuit' | 'moment'>): readonly string[] {
  const { test, circuit, moment } = facets;
  if (test === null) return moment === 'settle' ? ['applied_settle_time'] : [];
  const single = SINGLE_PRESSURE.get(test);
  if (single) return moment === null ? single : [];
  switch (test) {
    case 'released':
    case 'applied':
      return lossFields(test, circuit, moment);
    case 'buildup':
      return moment === 'start' ? ['buildup_from'] : moment === 'end' ? ['buildup_to'] : moment === 'settle' ? [] : ['buildup_time'];
    case 'reserve':
      return moment === 'start' ? ['reserve_before'] : moment === 'end' ? ['reserve_after'] : [];
    default:
      return [];
  }
}

function lossFields(test: 'released' | 'applied', circuit: CircuitName | null, moment: Moment | null): readonly string[] {
  if (moment === 'time') return [`${test}_time`];
  if (moment === 'settle') return test === 'applied' ? ['applied_settle_time'] : [];
  if (moment === null || circuit === null) return [];
  const circuits = circuit === 'both' ? ['primary', 'secondary'] : [circuit];
  return circuits.map((name) => `${test}_${name}_${moment}`);
}

/** What a label says below the headings above it. A circuit in a heading holds for its own test only. */
export function inContext(facets: LabelFacets, context: LabelContext): LabelFacets {
  const test = facets.test ?? context.test;
  return { ...facets, test, circuit: facets.circuit ?? (test === context.test ? context.circuit : null) };
}
