import type { Field } from '../readings/field.js';
import { EXIT } from './exit-codes.js';
import { parseCommand } from './parse-command.js';
import { bold, writeOut, type Terminal } from './terminal.js';

/** `treadlebook fields`: lists the columns of the readings table. */
export async function fieldsCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values } = parseCommand('fields', args, { json: { type: 'boolean' } }, { least: 0, most: 0, what: '' });
  const { baseName, fieldDictionary } = await import('../readings/dictionary.js');
  const dictionary = fieldDictionary();
  // Half-widths are a way of writing a reading.
  const fields = dictionary.sheetOrder.map((position) => dictionary.fields[position]!).filter(({ name }) => baseName(name) === name);
  if (values['json'] === true) {
    await writeOut(terminal, [`${JSON.stringify(fields.map((field) => ({ name: field.name, title: field.title, group: field.group, kind: field.kind, unit: unitOf(field), choices: field.choices ?? null, required: field.required ?? false, when_used: field.when_used ?? false, help: field.help, spellings: field.spellings })))}\n`]);
    return EXIT.done;
  }
  const lines = dictionary.groups.flatMap(({ group, title }) => [
    bold(terminal.out, title),
    ...fields.filter((field) => field.group === group).map((field) => `  ${field.name.padEnd(28)} ${unitOf(field).padEnd(14)} ${field.help}${field.when_used ? ' Shown where the limit set uses it.' : ''}${field.spellings.length > 0 ? ` (also: ${field.spellings.join(', ')})` : ''}`),
    '',
  ]);
  await writeOut(terminal, lines.map((line) => `${line}\n`));
  return EXIT.done;
}

/** What a field is measured in, in a word. */
export function unitOf(field: Pick<Field, 'kind' | 'choices'>): string {
  const words: Record<Field['kind'], string> = { text: 'text', date: 'date', choice: (field.choices ?? []).length > 3 ? 'a choice' : (field.choices ?? []).join('|'), count: 'whole number', quantity: 'number', pressure: 'pressure', time: 'min:s', yes_no: 'yes|no' };
  return words[field.kind];
}
