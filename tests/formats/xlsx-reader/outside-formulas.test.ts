import { expect, it } from 'vitest';
import { mayReachOut, OutsideFormulas, reachesFor } from '../../../src/formats/xlsx-reader/outside-formulas.js';
import type { XlsxFinding } from '../../../src/formats/xlsx-reader/xlsx-finding.js';

it.each([
  ['WEBSERVICE("https://example.org")', ['WEBSERVICE']],
  ['_xlfn.WEBSERVICE("https://example.org/"&A1)', ['WEBSERVICE']],
  ['IF(A1>2,hyperlink("https://example.org","x"),"")', ['HYPERLINK']],
  ['HYPERLINK("#Units!A1","Units")', []],
  ['HYPERLINK(A1)', ['HYPERLINK']],
  ['_xlfn.IMAGE("https://example.org/x.png")', ['IMAGE']],
  ["cmd|'/c calc'!A0", ['DDE']],
  ['MSEXCEL|\'\\..\\..\\Windows\\System32\\cmd.exe /c calc\'!A0', ['DDE']],
  ['DDE("soffice","file","A1")', ['DDE']],
  ['RTD("server",,"topic")+CALL("lib","f","J")', ['RTD', 'CALL']],
  ['"WEBSERVICE(" & "a|b!c"', []],
  ['A1&"|"&B1', []],
  ['SUM(RECALL(1),MY.CALL(2))', []],
])('%s reaches for %j', (formula, names) => {
  expect(reachesFor(formula)).toStrictEqual(names);
  if (names.length > 0) expect(mayReachOut(formula)).toBe(true);
});

it('takes a long formula in its stride', () => {
  expect(reachesFor(`${'a|'.repeat(16_000)}`)).toStrictEqual([]);
  expect(reachesFor(`${'"'.repeat(32_000)}`)).toStrictEqual([]);
  expect(reachesFor(`${'CALL '.repeat(6_000)}`)).toStrictEqual([]);
});

it('is told once for each sheet and function', () => {
  const findings: XlsxFinding[] = [];
  const outside = new OutsideFormulas(findings);
  for (const [sheet, cell] of [['S', 'A1'], ['S', 'A2'], ['T', 'B2']] as const) outside.look('WEBSERVICE(A1)', sheet, cell);
  expect(findings.map(({ kind, sheet, cell }) => [kind, sheet, cell])).toStrictEqual([['outside', 'S', 'A1'], ['outside', 'T', 'B2']]);
  expect(findings[0]!.text).toBe('The sheet S holds a formula with WEBSERVICE, first in cell A1; nothing was fetched or started.');
});
