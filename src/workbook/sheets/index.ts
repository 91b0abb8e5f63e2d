import type { SheetBuilder } from '../sheet-context.js';
import { baselineSheet } from './baseline-sheet.js';
import { bordersSheet } from './borders-sheet.js';
import { cabChecklistSheet } from './cab-checklist-sheet.js';
import { dataQualitySheet } from './data-quality-sheet.js';
import { failRatesSheet } from './fail-rates-sheet.js';
import { limitsSheet } from './limits-sheet.js';
import { oneUnitSheet } from './one-unit-sheet.js';
import { openWorkSheet } from './open-work-sheet.js';
import { problemsSheet } from './problems-sheet.js';
import { provenanceSheet } from './provenance-sheet.js';
import { readingsSheet } from './readings-sheet.js';
import { startHereSheet } from './start-here-sheet.js';
import { strokesSheet } from './strokes-sheet.js';
import { trendSheet } from './trend-sheet.js';
import { unitsSheet } from './units-sheet.js';

/** The sheets of the workbook, in their order. A new sheet is one more line here and one in `sheet-purposes.ts`. */
export const SHEETS: readonly SheetBuilder[] = [startHereSheet, unitsSheet, openWorkSheet, oneUnitSheet, trendSheet, failRatesSheet, baselineSheet, bordersSheet, readingsSheet, strokesSheet, cabChecklistSheet, limitsSheet, problemsSheet, dataQualitySheet, provenanceSheet];
