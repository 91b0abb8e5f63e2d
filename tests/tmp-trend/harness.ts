import { assembleXlsx, type ChartPart, type DefinedName, type SheetFill } from '../../src/formats/xlsx-package/assemble-xlsx.js';
import { RowEvaluator } from '../../src/fleet/row-evaluator.js';
import { GroupsSummariser } from '../../src/fleet/groups-summariser.js';
import type { Evaluation } from '../../src/fleet/evaluation.js';
import { loadLimitSet } from '../../src/limits/load-limit-set.js';
const planOf = (l: any) => compileLimitSet(typeof l === 'object' ? l : loadLimitSet(l));
import { openReadings } from '../../src/workbook/open-readings.js';
import { newBook } from '../../src/workbook/new-book.js';
import { layOutReadings } from '../../src/workbook/readings-layout.js';
import type { SheetBuilder, SheetContext } from '../../src/workbook/sheet-context.js';
import { readingsSheet } from '../../src/workbook/sheets/readings-sheet.js';
import { limitsSheet } from '../../src/workbook/sheets/limits-sheet.js';
import { compileLimitSet } from '../../src/limits/compile-limit-set.js';
import { bytesOf } from '../workbook/bytes-of.js';

export async function fleetOf(input: string | Uint8Array, limits: string | undefined, by: 'week' | 'month' | 'quarter' | null = null) {
  const full = planOf(limits);
  const { reader, source } = await openReadings(input, { dictionary: full.dictionary });
  const evaluator = new RowEvaluator(full);
  const groups = new GroupsSummariser(full);
  const evaluations: Evaluation[] = [];
  for await (const inspection of reader.inspections) { const e = evaluator.evaluate(inspection); evaluations.push(e); groups.add(e); }
  const { by: byUsed, trend, fail_rates, priors, ...figures } = groups.result(by);
  const latest = evaluations.map((e) => e.inspected_on ?? '').sort().at(-1) || null;
  const summary = { period: { from: null, to: null, by: byUsed }, counted_to: latest, units: [], trend, fail_rates, priors, open_work: [], fleet: figures } as never;
  return { plan: full, evaluations, summary: summary as any, problems: reader.problems, source: source(), columns: reader.columns, asOf: null, notes: [] };
}
export async function bookOf(fleet: any, sheets: SheetBuilder[], { withoutResults = false, limits = undefined as string | undefined, rows = 200 } = {}) {
  const plan = compileLimitSet(fleet ? fleet.plan.set : planOf(limits).set, { halfWidths: new Set() });
  const book = newBook();
  const columns = fleet ? fleet.columns : [];
  const rowCount = fleet ? fleet.evaluations.length : rows;
  const context: SheetContext = { book, plan, layout: layOutReadings({ plan, fileColumns: columns, overflow: 0, rowCount }), fleet, live: fleet === null || fleet.evaluations.length <= 5000 };
  const fills: SheetFill[] = [], charts: ChartPart[] = [], definedNames: DefinedName[] = [];
  for (const build of [...sheets, readingsSheet, limitsSheet]) {
    const parts = build(context);
    if (parts.fill) fills.push(parts.fill);
    charts.push(...(parts.charts ?? []));
    definedNames.push(...(parts.definedNames ?? []));
  }
  const template = new Uint8Array(await book.xlsx.writeBuffer());
  return bytesOf(assembleXlsx({ template, fills, charts, definedNames, withoutResults }));
}
