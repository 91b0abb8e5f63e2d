import { describe, expect, test } from 'vitest';
import { foldLabel, shownLabel } from '../../src/readings/checklist-fold-label.js';

describe('foldLabel', () => {
  test.each([
    ['Unit #.......:', 'unit no'],
    ['#2 tank', 'no 2 tank'],
    ["Inspector's name", 'inspectors name'],
    ["Inspector's-name", 'inspectors name'],
    ['Cut-in', 'cut in'],
    ['7.2 bar', '7·2 bar'],
    ['1,5 and 2.25', '1·5 and 2·25'],
    ['Step 1. Primary', 'step 1 primary'],
    ['No.2', 'no 2'],
    ['  BELT   tension?! ', 'belt tension'],
    ['...', ''],
  ])('%s is %s', (text, folded) => {
    expect(foldLabel(text)).toBe(folded);
  });

  test('what stands behind 480 letters is not read', () => {
    expect(foldLabel('a'.repeat(481))).toBe('a'.repeat(480));
  });
});

describe('shownLabel', () => {
  test.each([
    ['Belt tension ..... :', 'Belt tension'],
    ['Belt tension:', 'Belt tension'],
    ['Name ______', 'Name'],
    ['a__', 'a__'],
    ['Unit no.…', 'Unit no'],
    ['St. Mary: north', 'St. Mary: north'],
    ['.....', '.....'],
  ])('%s is shown as %s', (text, shown) => {
    expect(shownLabel(text)).toBe(shown);
  });

  test('at most 240 letters are shown', () => {
    expect(shownLabel('a'.repeat(241))).toBe('a'.repeat(240));
  });
});
