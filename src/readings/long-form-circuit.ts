import type { CircuitName } from './checklist-label-facets.js';
import { foldLabel } from './checklist-fold-label.js';

const NAMES: ReadonlyMap<string, CircuitName> = new Map<string, CircuitName>([
  ...['p', 'pri', 'prim', 'primary', '1', 'one', '1st', 'first', 'i'].map((name) => [name, 'primary'] as const),
  ...['s', 'sec', 'secondary', 'secondry', '2', 'two', '2nd', 'second', 'ii'].map((name) => [name, 'secondary'] as const),
  ...['both', '1 2', '1 and 2', 'p s', 'p and s', 'pri sec', 'primary secondary', 'primary and secondary'].map((name) => [name, 'both'] as const),
]);

/**
 * Reads the name of a circuit. `front` and `rear` are none: which axle the primary circuit serves differs from maker to maker.
 *
 * @example parseCircuit('Pri. tank') // 'primary'
 */
export function parseCircuit(text: string): CircuitName | null {
  const folded = foldLabel(text.slice(0, 60))
    .split(' ')
    .filter((word) => !/^(?:circuits?|systems?|tanks?|gauges?|needles?|reservoirs?|air|brakes?|side|the|no)$/.test(word))
    .join(' ');
  return NAMES.get(folded) ?? null;
}
