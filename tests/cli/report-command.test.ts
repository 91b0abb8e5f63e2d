import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { plainValue } from '../../src/util/raw-table.js';
import { evaluateReadings } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { bytesOf } from '../workbook/bytes-of.js';
import { withSheetChanged, workbookParts } from '../workbook/workbook-parts.js';
import { runInside } from './run-inside.js';
import { inFolder } from './run-program.js';

const CSV = 'unit,inspected_on,light_on_at,released_primary_start,released_primary_end,released_time\nK-1,2026-03-14,62,110,107.5,1:00\nK-1,2026-02-01,70,110,109,1:00\nK-2,2026-03-14,70,110,109,1:00\n';

async function textsOf(path: string): Promise<string> {
  const texts: string[] = [];
  for (const sheet of (await openXlsx(readFileSync(path))).sheets) for await (const { cells } of sheet.table().rows) texts.push(...cells.map((cell) => String(plainValue(cell) ?? '')).filter((text) => text !== ''));
  return texts.join('\n');
}

describe('treadlebook report', { timeout: 60_000 }, () => {
  it('writes one page and says so on standard error', () =>
    inFolder(async (folder) => {
      const [input, output] = [join(folder, 'fleet.csv'), join(folder, 'report.xlsx')];
      writeFileSync(input, CSV);
      expect(await runInside(['report', input, '--unit', 'K-1', '--date', '2026-03-14', '-o', output])).toStrictEqual({ code: 0, out: '', err: `Wrote ${output}: one inspection of K-1 on 2026-03-14, by the limit set common-practice.\n` });
      expect(await textsOf(output)).toContain('Inspection report: K-1, 2026-03-14');
      expect(await runInside(['report', input, '--unit', 'k1', '--date', '2026-02-01', '-o', output, '--force', '--limits', 'us-nevada', '--quiet'])).toStrictEqual({ code: 0, out: '', err: '' });
      expect(await textsOf(output)).toContain('Checks against: Nevada');
    }));

  it('reports an evaluated workbook by the limit set that it names, with the numbers of its sheet Limits', () =>
    inFolder(async (folder) => {
      const [input, output] = [join(folder, 'fleet.xlsx'), join(folder, 'report.xlsx')];
      const book = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(CSV), { name: 'fleet.csv', limits: 'us-new-hampshire' })));
      writeFileSync(input, book);
      const args = ['report', input, '--unit', 'K-1', '--date', '2026-03-14', '-o', output, '--force'];
      expect((await runInside(args)).err).toBe(`Wrote ${output}: one inspection of K-1 on 2026-03-14, by the limit set us-new-hampshire.\n`);
      // N.H. Saf-C 3226.04(b)(8): 2 psi in 1 min for a single vehicle; 2.5 psi exceeds it.
      expect(await textsOf(output)).toMatch(/2\.5 psi\/min\nat most 2 psi\/min\nfail/);
      const place = /<definedName name="limit_released_loss_1">Limits!\$([A-Z]+)\$(\d+)<\/definedName>/.exec((await workbookParts(book)).get('xl/workbook.xml')!)!;
      writeFileSync(input, await withSheetChanged(book, 'Limits', (xml) => xml.replace(new RegExp(`(<c r="${place[1]}${place[2]}"[^>]*>)<v>2</v>`), '$1<v>2.75</v>')));
      expect((await runInside(args)).err).toMatch(/^1 number on the sheet Limits of fleet\.xlsx differ from the limit set; the report uses them and says so\.\nWrote /);
      expect(await textsOf(output)).toMatch(/2\.5 psi\/min\nat most 2\.75 psi\/min\npass/);
      expect(await textsOf(output)).toContain('limit_released_loss_1 is 2.75, in the limit set 2');
      // Another set than that of the workbook: its numbers are none of that set's.
      expect((await runInside([...args, '--limits', 'common-practice'])).err).toMatch(/^Wrote .* by the limit set common-practice\.\n$/);
    }));

  it('refuses, in one line with the mend, what it cannot do, and writes nothing', () =>
    inFolder(async (folder) => {
      const input = join(folder, 'fleet.csv');
      const output = join(folder, 'report.xlsx');
      writeFileSync(input, CSV);
      writeFileSync(join(folder, 'kept.xlsx'), 'kept');
      const own = await bytesOf(workbookOf(await evaluateReadings(Buffer.from(CSV), { limits: 'samples/our-own-limits.json' })));
      writeFileSync(join(folder, 'own.xlsx'), own);
      const wanted = ['--unit', 'K-1', '--date', '2026-03-14'];
      const mistakes: readonly (readonly [readonly string[], number, RegExp])[] = [
        [[input, ...wanted], 2, /^treadlebook: report: the output is missing; add -o report\.xlsx$/],
        [[input, ...wanted, '-o', join(folder, 'report.csv')], 2, /is no workbook; end it in \.xlsx$/],
        [[input, '--date', '2026-03-14', '-o', output], 2, /the unit is missing; add --unit K-101$/],
        [[input, '--unit', ' ', '--date', '2026-03-14', '-o', output], 2, /the unit is missing/],
        [[input, '--unit', 'K-1', '-o', output], 2, /the date is missing; add --date 2026-03-14$/],
        [[input, '--unit', 'K-1', '--date', '14/3/2026', '-o', output], 2, /--date "14\/3\/2026" is no date; write it as 2026-03-14$/],
        [[input, '--unit', 'K-1', '--date', '2026-02-30', '-o', output], 2, /--date "2026-02-30" is no date/],
        [[input, ...wanted, '-o', output, '--units', 'loose'], 2, /--units "loose" is not known/],
        [[input, ...wanted, '-o', output, '--date-order', 'ymd'], 2, /--date-order "ymd" is not known/],
        [[input, ...wanted, '-o', output, '--map', join(folder, 'no.json')], 2, /the map file .*no\.json cannot be read; check the path$/],
        [[input, ...wanted, '-o', output, '--limits', 'us-nevda'], 2, /did you mean us-nevada\?/],
        [[...wanted, '-o', output], 2, /the INPUT file is missing/],
        [[input, input, ...wanted, '-o', output], 2, /there is a word too many/],
        [[input, ...wanted, '-o', output, '--unti', 'x'], 2, /did you mean --unit\?/],
        [[join(folder, 'no.csv'), ...wanted, '-o', output], 3, /no\.csv: there is no such file; check the path$/],
        [[input, '--unit', 'K-3', '--date', '2026-03-14', '-o', output], 3, /^treadlebook: fleet\.csv: there is no unit "K-3"; the nearest one is "K-1"$/],
        [[input, '--unit', 'K-1', '--date', '2026-03-13', '-o', output], 3, /there is no inspection of "K-1" on 2026-03-13; the nearest one is of 2026-03-14$/],
        [[join(folder, 'own.xlsx'), ...wanted, '-o', output], 2, /own\.xlsx: the workbook was made with the limit set "our-own", which does not ship with the program; name its file with --limits$/],
        [[input, ...wanted, '-o', join(folder, 'kept.xlsx')], 4, /the file exists already and was kept/],
        [[join(folder, 'own.xlsx'), ...wanted, '-o', join(folder, 'own.xlsx'), '--force'], 4, /what is read is never overwritten/],
      ];
      for (const [args, code, line] of mistakes) {
        const run = await runInside(['report', ...args]);
        expect([args, run.code, run.out]).toStrictEqual([args, code, '']);
        expect(run.err.trimEnd()).toMatch(line);
        expect(run.err.trimEnd().split('\n')).toHaveLength(1);
      }
      expect(readFileSync(join(folder, 'kept.xlsx'), 'utf8')).toBe('kept');
      expect((await runInside(['report', join(folder, 'own.xlsx'), ...wanted, '-o', output, '--limits', 'samples/our-own-limits.json'])).code).toBe(0);
    }));
});
