import { expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { requireOutside } from '../support/recalculate.js';
import { convertAllByLibreOffice } from '../support/run-libreoffice.js';
import { writeText } from './csv-text.js';

const HOSTILE = ['=1+1', '@SUM(1)', '+2+3', 'hose;=2+3;x', 'hose,=2+3,x', 'hose\t=2+3\tx', 'hose|=2+3|x', "hose;'=2+3;x", 'say "x";=2+3;', 'first\n=2+3', ' =1+1'];

async function formulasOf(bytes: Uint8Array): Promise<number> {
  let count = 0;
  for (const sheet of (await openXlsx(bytes)).sheets) for await (const { formulas } of sheet.rowsWithFormulas()) count += formulas.filter((formula) => formula).length;
  return count;
}

// LibreOffice, a program from outside, parts the cells at the character that it is told to, as other programs do by the settings of the country.
it('no program that parts the cells of the file at another character finds a formula in it', { timeout: 180_000 }, async (context) => {
  requireOutside(context, 'soffice');
  const files = new Map<string, Uint8Array>();
  for (const [name, delimiter] of [['comma', ','], ['semicolon', ';'], ['tab', '\t']] as const) {
    const rows = HOSTILE.map((text) => ['x', text, `${text}${delimiter}y`]);
    files.set(`${name}.csv`, Buffer.from(await writeText(rows, { delimiter })));
    files.set(`${name}-as-it-is.csv`, Buffer.from(await writeText(rows, { delimiter, neutralise: false })));
  }
  for (const part of [44, 59, 9, 124]) {
    for (const [name, book] of await convertAllByLibreOffice(files, 'xlsx', `Text - txt - csv (StarCalc):${part},34,76`)) {
      const formulas = await formulasOf(book);
      // Without the apostrophes it finds some, so that it would have told.
      if (name.includes('as-it-is')) expect([part, name, formulas > 0]).toStrictEqual([part, name, true]);
      else expect([part, name, formulas]).toStrictEqual([part, name, 0]);
    }
  }
});
