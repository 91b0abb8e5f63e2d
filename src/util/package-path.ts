import { fileURLToPath } from 'node:url';

/**
 * The path of a file that ships beside the code, such as `workbooks/readings.json`.
 *
 * @example packagePath('workbooks', 'readings.json')
 */
export function packagePath(...parts: string[]): string {
  return fileURLToPath(new URL(`../../${parts.map(encodeURIComponent).join('/')}`, import.meta.url));
}
