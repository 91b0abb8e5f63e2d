import { existsSync } from 'node:fs';
import { sep } from 'node:path';
import { expect, it } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { readPackageJsonFile } from '../../src/util/read-package-json-file.js';

it('finds what ships beside the code', () => {
  expect(existsSync(packagePath('workbooks', 'readings.json'))).toBe(true);
  expect(readPackageJsonFile('package.json')).toMatchObject({ name: 'treadlebook', type: 'module' });
});

it('takes every part as a name, whatever its letters', () => {
  expect(packagePath('workbooks', '50% #1?.json').endsWith(`${sep}workbooks${sep}50% #1?.json`)).toBe(true);
});
