/** Functions that a formula of ours may call, with the fewest and the most arguments that every spreadsheet program takes (Excel 2007). */
const FUNCTIONS: Readonly<Record<string, readonly [least: number, most: number]>> = {
  ABS: [1, 1], AND: [1, 255], COUNT: [1, 255], EXACT: [2, 2], EXP: [1, 1], IF: [2, 3], IFERROR: [2, 2], INT: [1, 1], ISNUMBER: [1, 1], LN: [1, 1], MAX: [1, 255], MIN: [1, 255],
  MOD: [2, 2], NA: [0, 0], NORMSDIST: [1, 1], NOT: [1, 1], OR: [1, 255], ROUND: [2, 2], SQRT: [1, 1], SUMSQ: [1, 255],
};
const TOKEN = /"(?:[^"]|"")*"|\$[A-Z]{1,3}\d+|[A-Z]+(?=\()|TRUE|FALSE|\d+(?:\.\d+)?(?:E[+-]\d+)?|<>|<=|>=|[-+*/^&=<>(),]/y;

/** What is wrong with the text of a formula, or null: tokens, brackets, operands, functions and the number of their arguments. */
export function formulaFault(formula: string): string | null {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.length) {
    const at = TOKEN.lastIndex;
    const match = TOKEN.exec(formula);
    if (match === null) return `no token at ${at}: ${formula.slice(at, at + 20)}`;
    if (match[0].startsWith('"') && match[0].length > 2 + 2 * 255) return 'a text of more than 255 characters';
    tokens.push(match[0]);
  }
  let at = 0;
  const fail = (what: string): never => {
    throw new Error(`${what} at token ${at} of ${formula.slice(0, 200)}`);
  };
  const operand = (): void => {
    const token = tokens[at++];
    if (token === undefined) return fail('an operand is missing');
    if (token === '-') return operand();
    if (token === '(') {
      expression();
      if (tokens[at++] !== ')') fail('a bracket is not closed');
      return;
    }
    if (/^[A-Z]+$/.test(token) && tokens[at] === '(') return call(token);
    if (!/^(?:"|\$|\d|TRUE$|FALSE$)/.test(token)) fail(`${token} is no operand`);
  };
  const call = (name: string): void => {
    const [least, most] = FUNCTIONS[name] ?? fail(`${name} is no known function`);
    at += 1;
    let count = 0;
    if (tokens[at] === ')') at += 1;
    else {
      do {
        expression();
        count += 1;
      } while (tokens[at++] === ',');
      if (tokens[at - 1] !== ')') fail('the arguments are not closed');
    }
    if (count < least || count > most) fail(`${name} has ${count} arguments`);
  };
  const expression = (): void => {
    operand();
    while (/^(?:[-+*/^&=<>]|<>|<=|>=)$/.test(tokens[at] ?? '')) {
      at += 1;
      operand();
    }
  };
  try {
    expression();
    return at === tokens.length ? null : `${tokens[at]} is left over`;
  } catch (error) {
    return (error as Error).message;
  }
}
