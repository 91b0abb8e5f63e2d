import { evaluateStrokes } from '../strokes/evaluate-strokes.js';
import { ROWS_OF_SHEET } from '../util/continued-sheets.js';
import type { EvaluatedStrokes } from './evaluated-strokes.js';
import { layOutStrokes } from './strokes-layout.js';

/**
 * The strokes that the rows of one sheet hold, evaluated by themselves, so that the sheet's formulas agree with its values.
 *
 * @param most the most rows of a sheet
 */
export function strokesThatFit(all: EvaluatedStrokes, most = ROWS_OF_SHEET): EvaluatedStrokes {
  const room = Math.min(most, ROWS_OF_SHEET - layOutStrokes([], 1).nameRow);
  if (all.strokes.length <= room) return all;
  const strokes = all.strokes.slice(0, room);
  return { ...all, strokes, evaluation: evaluateStrokes(strokes.map(({ entries }) => entries)), leftOut: all.strokes.length - room };
}
