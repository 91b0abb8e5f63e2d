import { expect, test } from 'vitest';
import { parseNotMeasured } from '../../src/readings/parse-not-measured.js';

test.each(['-', '–', '—', '--', 'n/a', 'N/A', 'na', 'nt', 'NT', 'not tested', 'Not measured'])('%s means not measured', (text) => {
  expect(parseNotMeasured(text)).toStrictEqual({ ok: true, value: null, exact: false });
});

test.each(['?', 'none', 'no', '', '104', '-5'])('%s does not', (text) => {
  expect(parseNotMeasured(text)).toBeNull();
});
