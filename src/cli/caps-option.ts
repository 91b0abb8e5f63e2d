import { INPUT_CAPS, unknownCap, type InputCaps } from '../formats/input-caps.js';
import { usage } from './parse-command.js';

/**
 * The caps that `--caps` names, such as `xlsx.rows=2000000,csv.columns=50`.
 *
 * @throws TreadlebookError `usage` for a cap that does not exist or has no number above zero
 * @example capsOption('evaluate', 'csv.columns=50') // { csv: { columns: 50 } }
 */
export function capsOption(command: string, text: string | undefined): InputCaps | undefined {
  if (text === undefined) return undefined;
  const caps: Record<string, Record<string, number>> = {};
  for (const setting of text.split(',')) {
    const [name = '', value = ''] = setting.split('=').map((part) => part.trim());
    const [format = '', cap = ''] = name.split('.');
    if (!Object.hasOwn(INPUT_CAPS, format) || !Object.hasOwn(INPUT_CAPS[format as keyof typeof INPUT_CAPS], cap)) throw unknownCap(name);
    if (!/^\d+(?:\.\d+)?$/.test(value) || Number(value) === 0) throw usage(command, `the cap ${name} has no number above zero`, `write ${name}=1000`);
    (caps[format] ??= {})[cap] = Number(value);
  }
  return caps;
}
