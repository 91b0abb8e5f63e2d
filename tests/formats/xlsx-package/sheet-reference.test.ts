import { expect, it } from 'vitest';
import { sheetReference } from '../../../src/formats/xlsx-package/sheet-reference.js';

it('quotes the name of a sheet and doubles its apostrophes', () => {
  // ECMA-376 Part 1, 18.17.2.2: an apostrophe within a quoted sheet name is doubled.
  expect(sheetReference("Driver's test", '$A$4:$A$9')).toBe("'Driver''s test'!$A$4:$A$9");
});
