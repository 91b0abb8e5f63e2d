/** One line of a table: a measurement of ours, a floor, or another program. */
export interface Line {
  readonly name: string;
  readonly measurement: string;
  /** Run by the script in Python. */
  readonly python?: boolean;
  /** Takes so long that it is run once. */
  readonly once?: boolean;
}

/** A job, with ours as the first line. */
export interface Job {
  readonly job: string;
  readonly title: string;
  readonly lines: readonly Line[];
}

const treadlebook = (measurement: string): Line => ({ name: '**treadlebook**', measurement });
const floor = (measurement: string): Line => ({ name: `floor: ${measurement}`, measurement });
const other = (measurement: string): Line => ({ name: measurement, measurement });

/** Every job that is measured. */
export const JOBS: readonly Job[] = [
  { job: 'parse', title: 'Reading CSV into inspections', lines: [treadlebook('parse'), floor('papaparse alone')] },
  { job: 'evaluate', title: 'Evaluating inspections', lines: [treadlebook('evaluate'), other('hand-written evaluator')] },
  { job: 'summarise', title: 'Summarising the fleet', lines: [treadlebook('summarise')] },
  { job: 'csv', title: 'CSV to evaluated CSV, the whole command', lines: [treadlebook('csv to csv')] },
  {
    job: 'workbook',
    title: 'CSV to evaluated workbook, the whole command',
    lines: [
      treadlebook('csv to workbook'),
      floor('sheet XML and deflate alone'),
      other('exceljs streaming writer'),
      other('exceljs streaming writer, values alone'),
      { name: 'XlsxWriter, constant memory', measurement: 'xlsxwriter_formulas', python: true, once: true },
      { name: 'XlsxWriter, constant memory, values alone', measurement: 'xlsxwriter', python: true },
      { name: 'openpyxl, write only, values alone', measurement: 'openpyxl_write', python: true, once: true },
    ],
  },
  { job: 'write', title: 'Writing the workbook of an evaluated fleet', lines: [treadlebook('write')] },
  {
    job: 'read',
    title: 'Reading the sheet Readings back',
    lines: [treadlebook('read'), floor('inflate alone'), other('exceljs streaming reader'), { name: 'openpyxl, read only', measurement: 'openpyxl_read', python: true, once: true }],
  },
  { job: 'verify', title: 'Verifying the workbook', lines: [treadlebook('verify')] },
];
