import { describe, expect, it } from 'vitest';
import { nearestName } from '../../src/util/nearest-name.js';

describe('the nearest name', () => {
  it.each([
    ['evalaute', ['evaluate', 'blank'], 'evaluate'], // two neighbours changed places: one slip
    ['us-nevda', ['us-nevada', 'us-new-hampshire'], 'us-nevada'],
    ['LIMITS', ['limits', 'fields'], 'limits'],
    ['unti', ['unit', 'site'], 'unit'],
    ['released_los', ['released_loss', 'released_time'], 'released_loss'],
    ['a', ['b'], 'b'], // one letter may always be wrong
  ])('to %s among %j is %s', (misspelt, names, nearest) => {
    expect(nearestName(misspelt, names)).toBe(nearest);
  });

  it('is none where more than a third of the letters would change', () => {
    // kitten and sitting lie three changes apart (Levenshtein, the usual example), and a third of seven letters is two.
    expect(nearestName('kitten', ['sitting'])).toBeNull();
    expect(nearestName('xyzzy', ['evaluate', 'blank'])).toBeNull();
    expect(nearestName('anything', [])).toBeNull();
  });

  it('is the first of those that lie equally near, and never a mistake for long or odd words', () => {
    expect(nearestName('cut', ['cup', 'cat'])).toBe('cup');
    expect(nearestName('constructor', ['constructor'])).toBe('constructor');
    expect(nearestName('x'.repeat(100_000), ['x'])).toBeNull();
  });
});
