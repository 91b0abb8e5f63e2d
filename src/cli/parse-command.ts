import { parseArgs, type ParseArgsConfig } from 'node:util';
import { nearestName } from '../util/nearest-name.js';
import { TreadlebookError } from '../util/treadlebook-error.js';

/** The options of a command, as `parseArgs` takes them. */
export type OptionTable = NonNullable<ParseArgsConfig['options']>;

/** Options that every command takes. */
export const COMMON_OPTIONS = { help: { type: 'boolean', short: 'h' }, quiet: { type: 'boolean', short: 'q' } } as const;

/** The values of the options, and the other words. */
export interface ParsedCommand {
  readonly values: Readonly<Record<string, string | boolean | undefined>>;
  readonly words: readonly string[];
}

/**
 * Parses the words after a command's name.
 *
 * @throws TreadlebookError `usage`, with the nearest option to a misspelt one
 */
export function parseCommand(command: string, args: readonly string[], options: OptionTable, words: { readonly least: number; readonly most: number; readonly what: string }): ParsedCommand {
  const all: OptionTable = { ...options, ...COMMON_OPTIONS };
  let parsed;
  try {
    parsed = parseArgs({ args: [...args], options: all, allowPositionals: true, strict: true, tokens: true });
  } catch (cause) {
    throw usageOf(command, args, all, cause);
  }
  const seen = new Set<string>();
  for (const token of parsed.tokens) {
    if (token.kind !== 'option') continue;
    if (seen.has(token.name)) throw usage(command, `--${token.name} is given twice`, 'give it once');
    seen.add(token.name);
  }
  const values = parsed.values as ParsedCommand['values'];
  const { length } = parsed.positionals;
  if (values['help'] !== true && (length < words.least || length > words.most)) {
    throw usage(command, length < words.least ? `${words.what} is missing` : `there is a word too many: ${JSON.stringify(parsed.positionals[words.most])}`, `\`treadlebook ${command} --help\` shows the form`);
  }
  return { values, words: parsed.positionals };
}

function usageOf(command: string, args: readonly string[], options: OptionTable, cause: unknown): TreadlebookError {
  const code = (cause as NodeJS.ErrnoException).code;
  const names = Object.keys(options).map((name) => `--${name}`);
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') {
    const known = new Set([...names, ...Object.values(options).flatMap((option) => (option.short ? [`-${option.short}`] : []))]);
    const misspelt = args.find((word) => word.startsWith('-') && word !== '-' && !known.has(word.split('=')[0]!)) ?? '';
    const near = nearestName(misspelt.split('=')[0]!, names);
    return usage(command, `the option ${misspelt} is unknown`, near ? `did you mean ${near}?` : `\`treadlebook ${command} --help\` lists them`);
  }
  const message = cause instanceof Error ? cause.message.split('\n')[0]!.replace(/\.$/, '') : 'the options cannot be read';
  return usage(command, message.charAt(0).toLowerCase() + message.slice(1), `\`treadlebook ${command} --help\` shows the form`);
}

/** A mistake in how the program was called. */
export function usage(command: string, what: string, mend: string): TreadlebookError {
  return new TreadlebookError({ code: 'usage', where: command, what, mend });
}
