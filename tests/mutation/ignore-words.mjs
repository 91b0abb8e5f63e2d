import { declareValuePlugin, PluginKind } from '@stryker-mutator/api/plugin';

/** Parts of a text that have nothing in them to mutate but the text. */
const PLAIN = new Set(['Identifier', 'MemberExpression', 'CallExpression', 'ThisExpression', 'NumericLiteral']);

/** True for a name, a member, or a call of one with plain arguments. */
function isPlain(node) {
  if (!PLAIN.has(node.type)) return false;
  if (node.type === 'MemberExpression') return isPlain(node.object);
  if (node.type === 'CallExpression') return isPlain(node.callee) && node.arguments.every(isPlain);
  return true;
}

/** Sentences: three words or more. Verdicts, codes and names of fields have one or two, and stay. */
function isSentence(text) {
  return (text.match(/[\p{L}\p{N}]+/gu) ?? []).length >= 3 && /\p{L} \p{L}/u.test(text);
}

/** Leaves out sentences for people: emptying one is no change of what the program decides. */
const words = {
  shouldIgnore(path) {
    const { node } = path;
    if (node.type === 'StringLiteral' && isSentence(node.value)) return 'words for people';
    if (node.type !== 'TemplateLiteral') return undefined;
    const text = node.quasis.map((part) => part.value.cooked).join(' x ');
    return isSentence(text) && node.expressions.every(isPlain) ? 'words for people' : undefined;
  },
};

export const strykerPlugins = [declareValuePlugin(PluginKind.Ignore, 'words', words)];
