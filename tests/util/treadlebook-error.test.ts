import { describe, expect, it } from 'vitest';
import { TreadlebookError } from '../../src/util/treadlebook-error.js';

describe('the error', () => {
  it('says where, what and the mend in one line, and keeps them apart', () => {
    const cause = new RangeError('inner');
    const error = new TreadlebookError({ code: 'input_empty', where: 'fleet.csv', what: 'the file holds no rows', mend: 'export it again', cause });
    expect(error.message).toBe('fleet.csv: the file holds no rows; export it again');
    expect({ ...error, cause: error.cause }).toStrictEqual({ name: 'TreadlebookError', code: 'input_empty', what: 'the file holds no rows', where: 'fleet.csv', mend: 'export it again', cause });
    expect(error).toBeInstanceOf(Error);
  });

  it('stays one line when what it quotes has line breaks', () => {
    expect(new TreadlebookError({ code: 'usage', what: 'the value\r\n  "a\nb" is odd' }).message).toBe('the value "a b" is odd');
  });
});
