import { call } from './call.js';
import { constant, isConstant, namesIn, type Tree } from './tree.js';

/**
 * The derivative of an expression with respect to one name, as a tree. Null where the expression has none that can be
 * written down (rounding, highest, lowest).
 *
 * @example derivative(parse('60 * (a - b) / t'), 'b') // -60 / t
 */
export function derivative(tree: Tree, name: string): Tree | null {
  if (!namesIn(tree).has(name)) return constant(0);
  if (tree.kind !== 'call') return constant(1);
  const [x, y] = tree.args;
  const dx = (): Tree | null => derivative(x!, name);
  const dy = (): Tree | null => derivative(y!, name);
  switch (tree.operator) {
    case 'add':
      return both(dx(), dy(), plus);
    case 'subtract':
      return both(dx(), dy(), minus);
    case 'negate':
      return one(dx(), negative);
    case 'multiply':
      return both(dx(), dy(), (u, v) => plus(times(u, y!), times(x!, v)));
    case 'divide':
      return both(dx(), dy(), (u, v) => (isConstant(v, 0) ? over(u, y!) : over(minus(times(u, y!), times(x!, v)), times(y!, y!))));
    case 'power':
      return y!.kind === 'constant' ? one(dx(), (u) => times(times(y!, call('power', x!, minus(y!, constant(1)))), u)) : null;
    case 'abs':
      return one(dx(), (u) => call('choose', call('less', x!, constant(0)), negative(u), u));
    case 'sqrt':
      return one(dx(), (u) => over(u, times(constant(2), tree)));
    case 'exp':
      return one(dx(), (u) => times(tree, u));
    case 'ln':
      return one(dx(), (u) => over(u, x!));
    case 'max':
    case 'min':
      if (tree.args.length !== 2) return null;
      return both(dx(), dy(), (u, v) => call('choose', call(tree.operator === 'max' ? 'greater_or_equal' : 'less_or_equal', x!, y!), u, v));
    case 'choose':
      return both(derivative(tree.args[1]!, name), derivative(tree.args[2]!, name), (u, v) => call('choose', x!, u, v));
    case 'only_if':
      return one(derivative(y!, name), (u) => call('only_if', x!, u));
    default:
      return null;
  }
}

const one = (du: Tree | null, make: (u: Tree) => Tree): Tree | null => (du === null ? null : make(du));
const both = (du: Tree | null, dv: Tree | null, make: (u: Tree, v: Tree) => Tree): Tree | null => (du === null || dv === null ? null : make(du, dv));

function plus(u: Tree, v: Tree): Tree {
  if (isConstant(u, 0)) return v;
  return isConstant(v, 0) ? u : call('add', u, v);
}

function minus(u: Tree, v: Tree): Tree {
  if (u.kind === 'constant' && v.kind === 'constant') return constant((u.value as number) - (v.value as number));
  if (isConstant(v, 0)) return u;
  return isConstant(u, 0) ? negative(v) : call('subtract', u, v);
}

function negative(u: Tree): Tree {
  if (u.kind === 'constant') return constant(u.value === 0 ? 0 : -(u.value as number));
  return call('negate', u);
}

function times(u: Tree, v: Tree): Tree {
  if (isConstant(u, 0) || isConstant(v, 0)) return constant(0);
  if (isConstant(u, 1)) return v;
  if (isConstant(v, 1)) return u;
  return u.kind === 'constant' && v.kind === 'constant' ? constant((u.value as number) * (v.value as number)) : call('multiply', u, v);
}

function over(u: Tree, v: Tree): Tree {
  return isConstant(u, 0) ? u : isConstant(v, 1) ? u : call('divide', u, v);
}
