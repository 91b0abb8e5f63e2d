import { describe, expect, it } from 'vitest';
import { readCsv } from '../../src/formats/read-csv.js';
import { all, inChunks, readCells, readRows } from './csv-text.js';

// RFC 4180, section 2, with its own examples.
describe('readCsv on the examples of RFC 4180', () => {
  it.each([
    ['1: a line end after each record', 'aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['2: none after the last', 'aaa,bbb,ccc\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['3: a header', 'field_name,field_name,field_name\r\naaa,bbb,ccc\r\n', [['field_name', 'field_name', 'field_name'], ['aaa', 'bbb', 'ccc']]],
    ['5: quoted fields', '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['6: a line break in quotes', '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'b\r\nbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['7: a doubled quote', '"aaa","b""bb","ccc"', [['aaa', 'b"bb', 'ccc']]],
  ])('%s', async (_rule, csv, cells) => {
    expect(await readCells(csv)).toStrictEqual(cells);
  });

  it('4: spaces belong to the field', async () => {
    expect(await readCells(' a , b ,c')).toStrictEqual([[' a ', ' b ', 'c']]);
  });
});

describe('readCsv', () => {
  it('gives a table without a sheet name', async () => {
    const { rows, ...rest } = await readCsv(inChunks(new TextEncoder().encode('a,b')));
    expect(rest).toStrictEqual({ sheet: '', date1904: false });
    expect(await all(rows)).toStrictEqual([{ number: 1, cells: ['a', 'b'] }]);
  });

  it('numbers records by the line they start on, whatever the line ends', async () => {
    const csv = 'unit,notes\r\nT-1,"two\r\nlines"\n\rT-2,"three\rmore\nlines"\n\nT-3,x\r\n';
    expect(await readRows(csv)).toStrictEqual([
      { number: 1, cells: ['unit', 'notes'] },
      { number: 2, cells: ['T-1', 'two\r\nlines'] },
      { number: 4, cells: [] },
      { number: 5, cells: ['T-2', 'three\rmore\nlines'] },
      { number: 8, cells: [] },
      { number: 9, cells: ['T-3', 'x'] },
    ]);
  });

  it('reads the same whatever the chunks', async () => {
    const csv = '\ufeffunit;"no""tes"\r\n"T;1";"a\r\nb"\r\n\r\n;\r"é";😀 \n';
    const whole = await readRows(csv);
    expect(whole).toStrictEqual([
      { number: 1, cells: ['unit', 'no"tes'] },
      { number: 2, cells: ['T;1', 'a\r\nb'] },
      { number: 4, cells: [] },
      { number: 5, cells: ['', ''] },
      { number: 6, cells: ['é', '😀 '] },
    ]);
    for (const lengths of [[1], [2], [3, 1], [5]]) expect(await readRows(csv, {}, lengths)).toStrictEqual(whole);
  });

  it('leaves every value as the text it is', async () => {
    const values = ['00123', '713752e1', '1e5', '2024-01-01T00:00:00Z', 'TRUE', '', '9007199254740993'];
    expect(await readCells(values.join(','))).toStrictEqual([values]);
  });

  it('keeps header names that are names of JavaScript too, and repeated ones', async () => {
    expect(await readCells('__proto__,constructor,a,a\n1,2,3,4\n')).toStrictEqual([['__proto__', 'constructor', 'a', 'a'], ['1', '2', '3', '4']]);
  });

  it('keeps ragged rows as they are', async () => {
    expect(await readCells('a,b\n1\n1,2,3\n')).toStrictEqual([['a', 'b'], ['1'], ['1', '2', '3']]);
  });

  it('takes a quote inside an unquoted field for text, and blanks after a closing quote for nothing', async () => {
    expect(await readCells('5" hose,a"b\n"x"  ,"y" \n')).toStrictEqual([['5" hose', 'a"b'], ['x', 'y']]);
  });

  it('tells a blank line from a quoted empty field', async () => {
    expect(await readRows('""\n\n""\n')).toStrictEqual([{ number: 1, cells: [''] }, { number: 2, cells: [] }, { number: 3, cells: [''] }]);
  });

  it('has no rows for no bytes, and none for a mark alone', async () => {
    expect(await readRows('')).toStrictEqual([]);
    expect(await readRows('\ufeff')).toStrictEqual([]);
  });

  it('obeys a first line sep= and drops it', async () => {
    expect(await readRows('sep=;\r\na,b;c\r\n')).toStrictEqual([{ number: 2, cells: ['a,b', 'c'] }]);
    expect(await readRows('SEP=|\na|b', { delimiter: ',' })).toStrictEqual([{ number: 2, cells: ['a|b'] }]);
    expect(await readRows('"sep=;"\na\n')).toStrictEqual([{ number: 1, cells: ['sep=;'] }, { number: 2, cells: ['a'] }]);
  });

  it('reads UTF-16 and Windows-1252', async () => {
    expect(await readCells(Buffer.from('\ufeffunit\ttemp\nT-1\t7°\n', 'utf16le'))).toStrictEqual([['unit', 'temp'], ['T-1', '7°']]);
    expect(await readCells(Buffer.from('unit,temp\nT-1,7\xb0\n', 'latin1'))).toStrictEqual([['unit', 'temp'], ['T-1', '7°']]);
  });

  it('takes the apostrophe of a neutralised text away, unless told not to', async () => {
    expect(await readCells("'=1+1,'tis,''=x,'-a")).toStrictEqual([['=1+1', "'tis", "'=x", '-a']]);
    expect(await readCells("'=1+1", { restoreNeutralised: false })).toStrictEqual([["'=1+1"]]);
  });

  it('closes its source when the walk breaks off', async () => {
    let closed = false;
    async function* source(): AsyncGenerator<Uint8Array> {
      try {
        for (;;) yield new TextEncoder().encode('a,b\n'.repeat(20_000));
      } finally {
        closed = true;
      }
    }
    for await (const row of (await readCsv(source())).rows) {
      if (row.number === 3) break;
    }
    expect(closed).toBe(true);
  });

  it('asks its source for more only as rows are taken', async () => {
    let given = 0;
    async function* source(): AsyncGenerator<Uint8Array> {
      for (; given < 1000; given += 1) yield new TextEncoder().encode('a,b\n'.repeat(20_000));
    }
    const rows = (await readCsv(source())).rows[Symbol.asyncIterator]();
    for (let row = 0; row < 50_000; row += 1) await rows.next();
    expect(given).toBeLessThan(6);
    await rows.return?.();
  });
});

describe('readCsv refuses', () => {
  it.each([
    ['a quote that never closes', 'a,b\n1,"2\n3\n4,5\n', {}, 'fleet.csv, line 2', 'a quote opens here and never closes'],
    ['text after a closing quote', 'a,b\n"x\ny"z,2\n', {}, 'fleet.csv, line 3', 'text follows a closing quote'],
    ['a quote after a closing quote and a blank', 'a\n"x" "y"\n', {}, 'fleet.csv, line 2', 'text follows a closing quote'],
    ['a field too long', 'a\nb,12345678901\n', { caps: { fieldLength: 10 } }, 'fleet.csv, line 2', 'the field is longer than 10 characters'],
    ['a quoted field too long', 'a\n"1234567890""1"\n', { caps: { fieldLength: 10 } }, 'fleet.csv, line 2', 'the field is longer than 10 characters'],
    ['too many columns', 'a\n1,2,3,4\n', { caps: { columns: 3 } }, 'fleet.csv, line 2', 'the record has more than 3 columns'],
    ['more columns than a sheet has', `${','.repeat(16_384)}\n`, {}, 'fleet.csv, line 1', 'the record has more than 16384 columns'],
  ])('%s', async (_case, csv, options, where, what) => {
    await expect(readRows(csv, { ...options, delimiter: ',', name: 'fleet.csv' })).rejects.toMatchObject({ name: 'TreadlebookError', code: 'input_unreadable', where, what, mend: expect.any(String) });
  });

  it('takes fields and rows right up to the caps', async () => {
    expect(await readCells('1234567890,"""234567890"\n', { caps: { fieldLength: 10, columns: 2 } })).toStrictEqual([['1234567890', '"234567890']]);
    expect(await readCells(','.repeat(16_383))).toStrictEqual([Array.from({ length: 16_384 }, () => '')]);
  });

  it('an open quote in a file of 50 MB, without reading it all', async () => {
    let given = 0;
    async function* source(): AsyncGenerator<Uint8Array> {
      yield new TextEncoder().encode('a,b\n1,"');
      for (; given < 800; given += 1) yield new Uint8Array(65_536).fill(0x78);
    }
    await expect((async () => all((await readCsv(source(), { name: 'fleet.csv' })).rows))()).rejects.toMatchObject({ code: 'input_unreadable', where: 'fleet.csv, line 2' });
    expect(given).toBeLessThan(40);
  });

  it('a delimiter that is not one', async () => {
    for (const delimiter of ['', '"', '\n', ';;']) {
      await expect(readRows('a', { delimiter })).rejects.toMatchObject({ code: 'usage' });
    }
  });
});
