import { TreadlebookError } from '../util/treadlebook-error.js';
import { OPERATORS, type Operator, type OperatorName } from './operators.js';
import type { Tree, ValueType } from './tree.js';

/** Operators whose result has the type of their last operand, whatever that is. */
const TYPE_OF_LAST: ReadonlySet<string> = new Set<OperatorName>(['choose', 'or_else', 'only_if']);

/**
 * An operator applied to operands, with their number and types checked.
 *
 * @throws TreadlebookError `expression_invalid`
 */
export function call(name: OperatorName, ...args: readonly Tree[]): Tree {
  const operator: Operator = OPERATORS[name];
  const { parameters, rest } = operator;
  if (args.length < parameters.length || (rest === undefined && args.length > parameters.length)) {
    throw invalid(`${writtenAs(name)} takes ${rest ? 'at least ' : ''}${parameters.length} operand${parameters.length === 1 ? '' : 's'}, not ${args.length}`, 'separate them by commas');
  }
  if (operator.namesOnly) {
    const other = args.find((arg) => arg.kind !== 'name');
    if (other) throw invalid(`${writtenAs(name)} takes names of readings or measures only`, 'give the rest a measure of its own, and name that');
  }
  if (TYPE_OF_LAST.has(name)) {
    const [first, last] = [args[args.length - 2]!, args[args.length - 1]!];
    if (name !== 'only_if' && first.type !== last.type) throw invalid(`${writtenAs(name)} has a ${TYPE_WORDS[first.type]} on one side and a ${TYPE_WORDS[last.type]} on the other`, 'give both sides the same type');
    if (name !== 'or_else' && args[0]!.type !== 'truth') throw invalid(`${name === 'only_if' ? 'first in only_if' : 'before ?'} there must be a comparison or a yes/no`, `write a condition as in ${name === 'only_if' ? 'only_if(a > b, c)' : 'a > b ? c : d'}`);
    return { kind: 'call', type: last.type, operator: name, args };
  }
  for (const [index, arg] of args.entries()) {
    const wanted = parameters[index] ?? rest!;
    if (name !== 'given' && arg.type !== wanted) throw invalid(`${writtenAs(name)} needs a ${TYPE_WORDS[wanted]}, but ${describe(arg)} is a ${TYPE_WORDS[arg.type]}`, TYPE_MENDS[wanted]);
  }
  if (name === 'round' && !isDecimals(args[1]!)) throw invalid('round takes its decimals as a number from 0 to 10', 'write them out, as in round(cut_out, 1)');
  return { kind: 'call', type: operator.result, operator: name, args };
}

/** The types in words. */
export const TYPE_WORDS: Readonly<Record<ValueType, string>> = { number: 'number', text: 'text', truth: 'yes/no' };

const TYPE_MENDS: Readonly<Record<ValueType, string>> = {
  number: 'put a number, a numeric reading or arithmetic there; a yes/no is used by its name alone or with not',
  text: 'put a text in quotes or a text reading there',
  truth: 'put a comparison or a yes/no there',
};

function isDecimals(tree: Tree): boolean {
  return tree.kind === 'constant' && Number.isInteger(tree.value) && (tree.value as number) >= 0 && (tree.value as number) <= 10;
}

function writtenAs(name: OperatorName): string {
  const { written } = OPERATORS[name] as Operator;
  if (written === null) return name;
  return 'symbol' in written ? written.symbol : written.function;
}

function describe(tree: Tree): string {
  if (tree.kind === 'name') return tree.name;
  return tree.kind === 'constant' ? JSON.stringify(tree.value) : `the result of ${writtenAs(tree.operator)}`;
}

function invalid(what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'expression_invalid', what, mend });
}
