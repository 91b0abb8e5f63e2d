import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { schemaFiles } from '../../src/workbook/schema-files.js';

test('schemas/ holds what the code makes; `npm run schemas` brings it up to date', () => {
  const committed = readdirSync(packagePath('schemas')).map((name) => [name, readFileSync(packagePath('schemas', name), 'utf8')]);
  expect(Object.fromEntries(committed)).toStrictEqual(Object.fromEntries(schemaFiles()));
});
