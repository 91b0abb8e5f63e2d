import type { FillValue } from '../../formats/xlsx-package/assemble-xlsx.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import type { OpenWork } from '../../fleet/open-work.js';
import { isoDateToSerial } from '../../readings/date-serial.js';
import type { CellLook } from '../cell-styles.js';
import { PALETTE } from '../palette.js';
import type { TableColumn } from '../write-table.js';
import { isoText, repairedSince } from './unit-formulas.js';
import { BUILDUP_TITLE, unitRange, UNITS_SHEET, type UnitPlaces } from './unit-places.js';

/** The row of the column titles of the sheet Open work. */
export const OPEN_WORK_TITLE_ROW = 8;
/** The first row of the list. */
export const OPEN_WORK_FIRST_ROW = OPEN_WORK_TITLE_ROW + 1;
/** What stands in the list when it is empty. */
export const NOTHING_OPEN = 'No open failure.';
/** What is said of a repair after which no test has passed. */
const AWAITS = 'awaits its retest';

/** A column of the list of open failures. */
export interface OpenWorkColumn extends TableColumn {
  readonly value: (work: OpenWork) => FillValue;
  /** The live formula in the first row; null for what is written by hand. */
  readonly formula: string | null;
}

const TEXT: CellLook = { wrap: true, top: true, size: 9 };
const DATE: CellLook = { format: 'yyyy-mm-dd', top: true, centre: true };

/** The columns of the sheet Open work, from the left; the last holds the unit's place on the sheet Units and is not printed. */
export function openWorkColumns(places: UnitPlaces): readonly OpenWorkColumn[] {
  const row = OPEN_WORK_FIRST_ROW;
  const range = (name: string): string => sheetReference(UNITS_SHEET, unitRange(places, name));
  const number = `(ROW($A${row})-ROW($A$${OPEN_WORK_TITLE_ROW}))`;
  const at = `$N${row}`;
  const ofUnit = (name: string, more = ''): string => `IF(${at}="","",INDEX(${range(name)},${at})${more})`;
  const openAt = `INDEX(${range('open_at')},${at})`;
  const ofReading = (name: string, more = ''): string => `IF(${at}="","",INDEX(${name},${openAt})${more})`;
  const repaired = `INDEX(${range('last_repair_on')},${at})`;
  return [
    { title: 'No.', width: 4.5, look: { top: true, right: true }, value: () => null, formula: `IF(${at}="","",${number})` },
    {
      title: 'Unit',
      width: 12,
      look: { bold: true, top: true, wrap: true, size: 11, format: '@' },
      value: ({ unit }) => unit,
      formula: `IF(${at}="",IF(AND(${number}=1,SUMPRODUCT(--(${range('unit')}<>""))>0),"${NOTHING_OPEN}",""),INDEX(${range('unit')},${at}))`,
    },
    { title: 'Site', width: 10, look: TEXT, value: ({ site }) => site, formula: ofUnit('site', '&""') },
    { title: 'Days open', width: 6.5, look: { bold: true, top: true, right: true, size: 11, format: '0' }, value: ({ days_open }) => days_open, formula: ofUnit('days_open') },
    { title: 'Open since', width: 11, look: DATE, value: ({ open_since }) => isoDateToSerial(open_since), formula: ofUnit('open_since') },
    { title: 'Failed checks', width: 17, look: { ...TEXT, bold: true }, value: ({ open_checks }) => open_checks.join('; '), formula: ofUnit('open_checks') },
    { title: 'Last failed on', width: 11, look: DATE, value: ({ inspected_on }) => isoDateToSerial(inspected_on), formula: `IF(${at}="","",INT(INDEX(readings_inspected_on,${openAt})))` },
    { title: 'Where it was heard leaking', width: 11, look: TEXT, value: ({ leak_place }) => leak_place, formula: ofReading('readings_leak_place', '&""') },
    { title: 'Where to look first (common practice, no source; the licensed mechanic decides)', width: 33, look: TEXT, value: ({ where_to_look }) => where_to_look, formula: ofReading('computed_where_to_look', '&""') },
    { title: BUILDUP_TITLE, width: 28, look: TEXT, value: ({ buildup_explained }) => buildup_explained, formula: ofUnit('buildup_explained', '&""') },
    { title: 'What was read', width: 37, look: TEXT, value: ({ reason }) => reason, formula: ofReading('computed_reason', '&""') },
    {
      title: 'Repaired on',
      width: 12,
      look: { wrap: true, top: true },
      value: ({ repaired_on }) => (repaired_on === null ? null : `${repaired_on}: ${AWAITS}`),
      formula: `IF(${at}="","",IF(${repairedSince(repaired, openAt)},${isoText(repaired)}&": ${AWAITS}",""))`,
    },
    { title: 'Done by / date', width: 15, look: { top: true, wrap: true, unlocked: true }, value: () => null, formula: null },
    {
      title: 'Place on Units',
      width: 8,
      look: { ...PALETTE.name, size: 8, right: true, top: true },
      value: () => null,
      formula: `IF(${number}>COUNT(${range('open_since')}),"",MATCH(SMALL(${range('urgency')},${number}),${range('urgency')},0))`,
    },
  ];
}
