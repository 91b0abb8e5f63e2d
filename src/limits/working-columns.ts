import { call } from '../expressions/call.js';
import { nameOf, type Tree } from '../expressions/tree.js';
import type { Dictionary } from '../readings/dictionary.js';
import { COMPUTED_PREFIX } from '../readings/table-names.js';
import { FILLED, PSI_FACTOR } from './check-names.js';
import type { ComputedColumn } from './computed-column.js';
import { READABLE } from './uncertainty-tree.js';

/** Names of the entry cells that could not be understood, each with a space before it. */
export const NOT_READ = 'working:not_read';

/** The name of the column that holds a time reading in seconds. */
export const secondsName = (field: string): string => `seconds:${field}`;

/**
 * The columns that turn what was typed into what is computed with: the unit factor, the times in seconds, whether the
 * row is filled, which cells were not understood, and the readability of the gauge. They have no tree, but for the last:
 * each back end reads the cells in its own way.
 *
 * @param optionalColumns names of the optional columns that take part
 */
export function workingColumns(dictionary: Dictionary, optionalColumns: ReadonlySet<string>): ComputedColumn[] {
  const working = (id: string, name: string, title: string, type: 'number' | 'text' | 'truth', tree: Tree | null = null, width = 10): ComputedColumn => ({
    id,
    name: COMPUTED_PREFIX + name,
    title,
    band: 'working',
    type,
    format: type === 'number' ? 'number' : 'text',
    width,
    decimals: 2,
    tree,
  });
  return [
    working(FILLED, 'row_filled', 'Row filled', 'truth'),
    working(PSI_FACTOR, 'psi_factor', 'psi per unit entered', 'number'),
    ...dictionary.fields.filter((field, position) => field.kind === 'time' && (position < dictionary.standardCount || optionalColumns.has(field.name))).map((field) => working(secondsName(field.name), `${field.name}_s`, `${field.title} (s)`, 'number')),
    working(NOT_READ, 'not_understood', 'Cells not understood', 'text', null, 18),
    working(READABLE, 'readable_psi', 'Readable to (psi)', 'number', readableTree()),
  ];
}

/**
 * The smallest pressure difference that can be told, in psi: as given; else 0.12 of the step of a dial gauge (about one
 * needle's width, common practice, no source); else the step of a digital gauge.
 */
function readableTree(): Tree {
  const step = nameOf('gauge_step', 'number');
  const fact = (name: string): Tree => nameOf(`fact:${name}`, 'number');
  return call('or_else', nameOf('readable_to', 'number'), call('choose', call('less_or_equal', step, fact('digital_step')), step, call('multiply', fact('needle_share'), step)));
}
