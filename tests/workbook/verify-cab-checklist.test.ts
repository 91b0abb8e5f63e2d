import { beforeAll, describe, expect, it } from 'vitest';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { verifyWorkbook } from '../../src/workbook/verify-workbook.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { requireOutside } from '../support/recalculate.js';
import { convertByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';
import { withSheetChanged, workbookParts } from './workbook-parts.js';

const SHEET = 'Cab checklist';
let book: Uint8Array;
let twin: Uint8Array;
beforeAll(async () => {
  const fleet = await evaluateReadings(Buffer.from('unit,inspected_on,light_on_at\nK-1,2026-03-14,62\n'), { name: 'fleet.csv' });
  book = await bytesOf(workbookOf(fleet));
  twin = await bytesOf(workbookOf(fleet, { withoutResults: true }));
});

/** What verify finds on the checklist. */
async function foundOnIt(workbook: Uint8Array): Promise<readonly (readonly [string, string, string])[]> {
  const { findings } = await verifyWorkbook(workbook, { name: 'fleet.xlsx' });
  return findings.filter(({ sheet }) => sheet === SHEET).map(({ code, found, expected }) => [code, found, expected]);
}

describe('verify looks at the sheet Cab checklist', { timeout: 60_000 }, () => {
  it('and finds nothing as it is written', async () => {
    expect(await foundOnIt(book)).toStrictEqual([]);
  });

  it('and finds a limit that was typed over, and words that were changed', async () => {
    const changed = await withSheetChanged(book, SHEET, (xml) => xml.replace(/<f>[^<]*limit_warning_1[^<]*<\/f><v>[^<]*<\/v>/, '<v>at least 50 psi</v>'));
    expect(await foundOnIt(changed)).toStrictEqual([['formula_replaced', 'at least 50 psi', '="at least "&limit_warning_1&" psi"']]);
    const stored = await withSheetChanged(book, SHEET, (xml) => xml.replace('<v>at least 60 psi</v>', '<v>at least 50 psi</v>'));
    expect(await foundOnIt(stored)).toStrictEqual([['stored_value_differs', 'at least 50 psi', 'at least 60 psi']]);
  });

  it('and not at what was written into the boxes', async () => {
    const parts = await workbookParts(book);
    const filled = await withSheetChanged(book, SHEET, (xml) => xml.replace(/<c r="A5"( s="\d+")\/>/, '<c r="A5"$1 t="str"><v>K-1</v></c>'));
    expect(parts.size).toBeGreaterThan(5);
    expect(await foundOnIt(filled)).toStrictEqual([]);
  });

  it('and takes the numbers of the sheet Limits for those of its words', async (context) => {
    requireOutside(context, 'soffice');
    const place = /<definedName name="limit_warning_1">Limits!\$([A-Z]+)\$(\d+)<\/definedName>/.exec((await workbookParts(book)).get('xl/workbook.xml')!)!;
    const change = (xml: string): string => xml.replace(new RegExp(`(<c r="${place[1]}${place[2]}"[^>]*>)<v>60</v>`), '$1<v>65</v>');
    expect(await foundOnIt(await withSheetChanged(book, 'Limits', change))).toStrictEqual([['stored_value_differs', 'at least 60 psi', 'at least 65 psi']]);
    // LibreOffice computes what holds no results.
    const saved = (await convertByLibreOffice(await withSheetChanged(twin, 'Limits', change), 'fleet.xlsx', 'xlsx')).get('fleet.xlsx')!;
    expect(await foundOnIt(saved)).toStrictEqual([]);
  });
});
