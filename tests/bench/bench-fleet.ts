interface FleetMaker {
  readonly SEED: number;
  makeFleet(seed: number): Record<string, string>[];
  cleanCsv(fleet: readonly Record<string, string>[]): string;
}

/**
 * The table to measure with: CSV text, in pieces, of the invented fleet again and again, each time from the next seed and
 * with units and numbers of its own. The same count gives the same bytes.
 *
 * @param inspections how many rows below the header
 */
export async function* benchFleet(inspections: number): AsyncGenerator<string> {
  const { SEED, makeFleet, cleanCsv } = (await import(new URL('../../samples/make-fleet.mjs', import.meta.url).href)) as FleetMaker;
  const own = (id: string | undefined, copy: number): string => (id ? `${id}-${copy}` : '');
  for (let [copy, made] = [0, 0]; made < inspections; copy++) {
    const rows = makeFleet(SEED + copy).slice(0, inspections - made);
    made += rows.length;
    const text = cleanCsv(rows.map((row) => ({ ...row, inspection_id: own(row.inspection_id, copy), unit: own(row.unit, copy), retest_of: own(row.retest_of, copy) })));
    yield copy === 0 ? text : text.slice(text.indexOf('\r\n') + 2);
  }
}
