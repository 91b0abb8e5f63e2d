import { expect, it } from 'vitest';
import { guessCsvDelimiter } from '../../src/formats/guess-csv-delimiter.js';

it.each([
  [',', 'unit,loss\nT-1,1.5\nT-2,2.5\n'],
  [';', 'unit;loss\nT-1;1,5\nT-2;2,5\n'],
  [';', 'T-1;1,5\nT-2;2,5\n'],
  [';', 'a;b;c;d\n1,5;2,5;3,5;4,5\n1,5;2,5;3,5;4,5;ragged\n'],
  ['\t', 'unit\tnotes\nT-1\ta, b; c\nT-2\td\n'],
  ['|', 'unit|loss\r\nT-1|1\r\n'],
  [',', 'Fleet report; July\n\nunit,loss\nT-1,1.5\nT-2,2.5\nT-3,2.5\n'],
  [',', 'unit,notes\nT-1,"a;b;c"\nT-2,"d;e;f"\n'],
  [',', 'unit\nT-1\nT-2\n'],
  [',', ''],
  [';', 'unit;loss'],
])('guesses %j', (delimiter, sample) => {
  expect(guessCsvDelimiter(sample)).toBe(delimiter);
});
