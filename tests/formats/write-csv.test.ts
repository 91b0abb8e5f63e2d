import { describe, expect, it } from 'vitest';
import { csvLine, writeCsv } from '../../src/formats/write-csv.js';
import { all, writeText } from './csv-text.js';

describe('csvLine', () => {
  it('writes values as JavaScript prints them, and a blank as nothing', () => {
    expect(csvLine(['T-104', 7.25, null, true, -3, 1e21])).toBe('T-104,7.25,,true,-3,1e+21');
  });

  // RFC 4180, section 2, rules 5 to 7.
  it('quotes delimiters, quotes and line breaks, and doubles quotes', () => {
    expect(csvLine(['aaa', 'b\r\nbb', 'c"c', 'd,d', 'e;e'])).toBe('aaa,"b\r\nbb","c""c","d,d",e;e');
    expect(csvLine(['d,d', 'e;e'], ';')).toBe('d,d;"e;e"');
  });

  it('quotes spaces at either end', () => {
    expect(csvLine([' a', 'b ', 'c c'])).toBe('" a","b ",c c');
  });

  it('keeps a lone empty field apart from a blank line, and text apart from a sep= line and a byte-order mark', () => {
    expect(csvLine([''])).toBe('""');
    expect(csvLine([null])).toBe('""');
    expect(csvLine([])).toBe('');
    expect(csvLine(['sep=;', 'sep=;'])).toBe('"sep=;",sep=;');
    expect(csvLine(['\ufeffa'])).toBe('"\ufeffa"');
  });
});

describe('writeCsv', () => {
  it('ends each record with CRLF (RFC 4180, section 2, rule 1)', async () => {
    expect(await all(writeCsv([['a', 'b'], [1, null]]))).toStrictEqual(['a,b\r\n', '1,\r\n']);
  });

  it('takes rows as they come', async () => {
    async function* rows(): AsyncGenerator<string[]> {
      yield ['a'];
    }
    expect(await all(writeCsv(rows()))).toStrictEqual(['a\r\n']);
  });

  it('writes other delimiters', async () => {
    expect(await writeText([['a', 'b;c', 'd\te']], { delimiter: ';' })).toBe('a;"b;c";d\te\r\n');
  });

  // OWASP Application Security Verification Standard 5.0, 1.2.10, and the OWASP page "CSV Injection".
  it('keeps text from being taken for a formula', async () => {
    expect(await writeText([['=1+1', '+1+1', '-1+1', '@SUM(A1)', '\tx', '\0x', '\rx', '=1+1\nnote', "'=1"]])).toBe(
      '\'=1+1,\'+1+1,\'-1+1,\'@SUM(A1),\'\tx,\'\0x,"\'\rx","\'=1+1\nnote",\'\'=1\r\n',
    );
  });

  it('leaves plain numbers, numbers and booleans as they are', async () => {
    expect(await writeText([['-5', '-12.5', '-12,5', '+5', -5, -0.5, true, "it's", "'tis"]])).toBe('-5,-12.5,"-12,5",+5,-5,-0.5,true,it\'s,\'tis\r\n');
  });

  it('leaves everything as it is when told to', async () => {
    expect(await writeText([['=1+1', '-x']], { neutralise: false })).toBe('=1+1,-x\r\n');
  });
});
