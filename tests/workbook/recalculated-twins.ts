import type { EvaluatedFleet } from '../../src/workbook/evaluate-readings.js';
import { workbookOf } from '../../src/workbook/write-workbook.js';
import { savedByLibreOffice } from '../support/run-libreoffice.js';
import { bytesOf } from './bytes-of.js';

/** The workbook of each fleet without results, as LibreOffice computed and saved it. It starts once for all of them. */
export async function recalculatedTwins(fleets: readonly EvaluatedFleet[]): Promise<Uint8Array[]> {
  const twins: Uint8Array[] = [];
  for (const fleet of fleets) twins.push(await bytesOf(workbookOf(fleet, { withoutResults: true })));
  return savedByLibreOffice(twins);
}
