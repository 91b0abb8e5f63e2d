import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openXlsx } from '../../src/formats/read-xlsx.js';
import { evaluationWithStrokesSchema } from '../../src/workbook/evaluation-with-strokes-schema.js';
import { strokesJsonSchema } from '../../src/workbook/strokes-json.js';
import { runInside } from './run-inside.js';
import { inFolder } from './run-program.js';

const READINGS = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time\nA-1,2026-03-14,K-1,104,102,1:00\n';
const STROKES = 'inspection_id,unit,inspected_on,position,chamber,stroke\nA-1,K-1,2026-03-14,LF,30,1 3/4\nA-1,K-1,2026-03-14,RF,30,2 1/4\nA-1,K-1,2026-03-14,2L,30,worn\n';

async function inFolderWith(work: (path: (name: string) => string) => Promise<void>): Promise<void> {
  await inFolder(async (folder) => {
    writeFileSync(join(folder, 'fleet.csv'), READINGS);
    writeFileSync(join(folder, 'strokes.csv'), STROKES);
    await work((name) => join(folder, name));
  });
}

describe('treadlebook evaluate --strokes', { timeout: 60_000 }, () => {
  it('prints the strokes as JSON, in the form of the schema', async () => {
    await inFolderWith(async (path) => {
      const { code, out } = await runInside(['evaluate', path('fleet.csv'), '--strokes', path('strokes.csv'), '--json']);
      expect(code).toBe(0);
      const json = JSON.parse(out) as Record<string, unknown>;
      const keys = Object.keys(strokesJsonSchema.shape);
      expect(Object.keys(json).filter((key) => key.startsWith('stroke'))).toStrictEqual(keys);
      const parsed = strokesJsonSchema.parse(Object.fromEntries(keys.map((key) => [key, json[key]])));
      expect(evaluationWithStrokesSchema.shape.strokes.safeParse(json['strokes']).success).toBe(true);
      expect(parsed.strokes.map(({ row, position, stroke, as_found: found, verdict, limit_in: limit, excess_in: excess, across_axle_in: across, defective }) => [row, position, stroke, found, verdict, limit, excess, across, defective])).toStrictEqual([
        [2, '1L', 1.75, { position: 'LF', chamber_type: '30', stroke: '1 3/4' }, 'pass', 2, -0.25, 0.5, 0],
        [3, '1R', 2.25, { position: 'RF', chamber_type: '30', stroke: '2 1/4' }, 'fail', 2, 0.25, 0.5, 1],
        [4, '2L', 'worn', { chamber_type: '30' }, 'not tested', 2, null, null, null],
      ]);
      expect(parsed.strokes_source).toMatchObject({ name: 'strokes.csv', sheet: '', rows_read: 3, rows_blank: 0, rows_set_aside: 0, strokes: 3 });
      expect(parsed.stroke_vehicles).toMatchObject([{ unit: 'K-1', measured: 2, past_whole: 1, defective: 1, defective_share: 0.5, not_tested: 1 }]);
      expect(parsed.stroke_positions.map(({ position, tested, failed }) => [position, tested, failed])).toStrictEqual([['1L', 1, 0], ['1R', 1, 1], ['2L', 0, 0]]);
      expect((json['problems'] as { sheet: string; found: string }[]).filter(({ sheet }) => sheet === 'strokes.csv').map(({ found }) => found)).toStrictEqual(['worn']);
      const without = JSON.parse((await runInside(['evaluate', path('fleet.csv'), '--json'])).out) as object;
      expect(Object.keys(without).filter((key) => key.startsWith('stroke'))).toStrictEqual([]);
    });
  });

  it('writes the sheet, says what came of it, and that a table leaves it out', async () => {
    await inFolderWith(async (path) => {
      const book = await runInside(['evaluate', path('fleet.csv'), '--strokes', path('strokes.csv'), '-o', path('fleet.xlsx')]);
      expect([book.code, book.err]).toStrictEqual([0, expect.stringContaining('Pushrod strokes of strokes.csv: 3 brake chambers: 1 pass, 1 fail, 0 recheck, 1 not tested.\n')]);
      expect((await openXlsx(new Uint8Array(readFileSync(path('fleet.xlsx'))))).sheets.map(({ name }) => name)).toContain('Strokes');
      const table = await runInside(['evaluate', path('fleet.csv'), '--strokes', path('strokes.csv'), '-o', path('fleet2.csv')]);
      expect(table.err).toContain('1 not tested. They are written to workbooks and JSON only.\n');
    });
  });

  it('is strict about strokes too, and refuses to write over them', async () => {
    await inFolderWith(async (path) => {
      writeFileSync(path('passing.csv'), STROKES.split('\n').slice(0, 2).join('\n'));
      const all = 'inspection_id,inspected_on,unit,released_primary_start,released_primary_end,released_time,released_secondary_start,released_secondary_end,applied_primary_start,applied_primary_end,applied_secondary_start,applied_secondary_end,applied_time,light_on_at,buzzer_on_at,buildup_time\nA-1,2026-03-14,K-1,104,104,1:00,104,104,100,100,100,100,1:00,70,70,1:00\n';
      writeFileSync(path('passing-fleet.csv'), all);
      const codes = await Promise.all(['passing.csv', 'strokes.csv'].map(async (name) => (await runInside(['evaluate', path('passing-fleet.csv'), '--strokes', path(name), '--strict', '--quiet'])).code));
      expect(codes).toStrictEqual([0, 1]);
      expect((await runInside(['evaluate', path('fleet.csv'), '--strokes', path('strokes.csv'), '-o', path('strokes.csv'), '--force'])).code).toBe(4);
      expect(await runInside(['evaluate', path('fleet.csv'), '--strokes', path('none.csv')])).toMatchObject({ code: 3, err: expect.stringContaining('none.csv: there is no such file') as string });
    });
  });
});
