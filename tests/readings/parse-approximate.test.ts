import { expect, test } from 'vitest';
import { parseApproximate } from '../../src/readings/parse-approximate.js';

test.each(['~104', '~ 104', '≈104', 'approx. 104', 'Approx 104', 'approximately 104', 'about 104', 'ca. 104', 'ca 104', 'c. 104', '104 approx.', '104~', '104 (approx.)'])(
  '%s is about 104',
  (text) => {
    expect(parseApproximate(text)).toStrictEqual({ approximate: true, rest: '104' });
  },
);

test.each(['104', '104 psi', 'cab 104', '±104'])('%s has no mark', (text) => {
  expect(parseApproximate(text)).toStrictEqual({ approximate: false, rest: text });
});
