import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runOpenpyxl } from '../formats/outside-program.js';
import { OWN_SET } from './own-warning-set.js';
import { runInside } from './run-inside.js';
import { inFolder } from './run-program.js';

interface Folder {
  readonly path: (name: string) => string;
  readonly evaluate: (...args: string[]) => ReturnType<typeof runInside>;
}

async function withBook(work: (folder: Folder) => Promise<void>): Promise<void> {
  await inFolder(async (folder) => {
    const path = (name: string): string => join(folder, name);
    writeFileSync(path('june.csv'), 'unit,inspected_on,light_on_at\nT1,2026-06-01,60\nT2,2026-06-02,61\n');
    writeFileSync(path('july.csv'), 'unit,inspected_on,light_on_at\nT2,2026-06-02,61\nT1,2026-07-01,50\n');
    const evaluate = (...args: string[]): ReturnType<typeof runInside> => runInside(['evaluate', ...args]);
    expect((await evaluate(path('june.csv'), '-o', path('book.xlsx'), '--limits', 'us-nevada')).code).toBe(0);
    await work({ path, evaluate });
  });
}

const inspections = (out: string): string[] => (JSON.parse(out) as { inspections: { inspected_on: string }[] }).inspections.map(({ inspected_on: on }) => on);

describe('several files', { timeout: 60_000 }, () => {
  it('are one table, in their order', async () => {
    await withBook(async ({ path, evaluate }) => {
      const { code, out, err } = await evaluate(path('june.csv'), path('july.csv'), '--json');
      expect([code, inspections(out)]).toStrictEqual([0, ['2026-06-01', '2026-06-02', '2026-06-02', '2026-07-01']]);
      expect(err).toContain('june.csv, july.csv: 4 inspections');
      expect(err).toContain('row 3 of june.csv is the same');
    });
  });

  it('may name standard input once', async () => {
    const { code, err } = await runInside(['evaluate', '-', '-']);
    expect([code, err]).toStrictEqual([2, 'treadlebook: evaluate: standard input is given twice; give it once\n']);
  });
});

describe('--append', { timeout: 60_000 }, () => {
  it('adds to a workbook by the limit set of the workbook, and tells what it passed over', async () => {
    await withBook(async ({ path, evaluate }) => {
      const { code, err } = await evaluate(path('july.csv'), '--append', path('book.xlsx'), '-o', path('more.xlsx'));
      expect([code, err]).toStrictEqual([0, expect.stringContaining('book.xlsx, july.csv: 3 inspections against us-nevada: ') as string]);
      expect(err).toContain('1 inspection added, 1 passed over that the workbook held already.');
      expect(inspections((await evaluate(path('more.xlsx'), '--json')).out)).toStrictEqual(['2026-06-01', '2026-06-02', '2026-07-01']);
    });
  });

  it('replaces the workbook itself only with --force', async () => {
    await withBook(async ({ path, evaluate }) => {
      const before = readFileSync(path('book.xlsx'));
      const kept = await evaluate(path('july.csv'), '--append', path('book.xlsx'), '-o', path('book.xlsx'));
      expect([kept.code, kept.err]).toStrictEqual([4, expect.stringContaining('the file exists already and was kept') as string]);
      expect(readFileSync(path('book.xlsx')).equals(before)).toBe(true);
      expect((await evaluate(path('july.csv'), '--append', path('book.xlsx'), '-o', path('book.xlsx'), '--force')).code).toBe(0);
      expect(inspections((await evaluate(path('book.xlsx'), '--json')).out)).toHaveLength(3);
    });
  });

  it('refuses what would lose something: changed limits, and sheets of others', async (context) => {
    await withBook(async ({ path, evaluate }) => {
      const edit = (lines: string, to: string): string => runOpenpyxl(context, `import sys, openpyxl\nbook = openpyxl.load_workbook(sys.argv[1])\n${lines}\nbook.save(sys.argv[2])`, path('book.xlsx'), path(to));
      edit('place = [n for n in book.defined_names.definedName if n.name.startswith("limit_")][0].attr_text.split("!")[1].replace("$", "")\nbook["Limits"][place] = 1.25', 'changed.xlsx');
      const changed = await evaluate(path('july.csv'), '--append', path('changed.xlsx'), '-o', path('more.xlsx'));
      expect([changed.code, changed.err]).toStrictEqual([2, 'treadlebook: evaluate: 1 number on the sheet Limits of changed.xlsx was changed, and the workbook is written anew from the limit set; put what was changed into a limit set of your own, or take the set as it is with --limits us-nevada\n']);
      expect((await evaluate(path('july.csv'), '--append', path('changed.xlsx'), '-o', path('more.xlsx'), '--limits', 'us-nevada')).code).toBe(0);
      edit('book.create_sheet("Depot notes")', 'noted.xlsx');
      copyFileSync(path('noted.xlsx'), path('noted-too.xlsx'));
      const noted = await evaluate(path('july.csv'), '--append', path('noted.xlsx'), '-o', path('noted.xlsx'), '--force');
      expect([noted.code, noted.err]).toStrictEqual([4, `treadlebook: ${path('noted.xlsx')}: the sheet Depot notes is not the program's and would be lost; write to another file\n`]);
      expect(readFileSync(path('noted.xlsx')).equals(readFileSync(path('noted-too.xlsx')))).toBe(true);
      expect((await evaluate(path('july.csv'), '--append', path('noted.xlsx'), '-o', path('noted-more.xlsx'))).code).toBe(0);
    });
  });

  it('says what is wrong with a call', async () => {
    await withBook(async ({ path, evaluate }) => {
      const said = async (...args: string[]): Promise<unknown[]> => {
        const { code, err } = await evaluate(...args);
        return [code, err];
      };
      expect(await said(path('july.csv'), '--append', path('book.xlsx'))).toStrictEqual([2, 'treadlebook: evaluate: --append adds to a workbook, and no output is named; add -o OUT.xlsx, or -o with the workbook itself and --force to replace it\n']);
      expect(await said(path('july.csv'), '--append', path('june.csv'), '-o', path('more.xlsx'))).toStrictEqual([3, 'treadlebook: june.csv: it is no evaluated workbook, so nothing can be added to it; name several INPUT files to evaluate tables together\n']);
      expect(await said(path('july.csv'), '--append', path('none.xlsx'), '-o', path('more.xlsx'))).toStrictEqual([3, `treadlebook: ${path('none.xlsx')}: there is no such file; check the path\n`]);
      writeFileSync(path('own.json'), JSON.stringify(OWN_SET));
      await evaluate(path('june.csv'), '-o', path('own.xlsx'), '--limits', path('own.json'));
      expect(await said(path('july.csv'), '--append', path('own.xlsx'), '-o', path('more.xlsx'))).toStrictEqual([2, expect.stringContaining('which does not ship with the program; name its file with --limits') as string]);
    });
  });
});
