/** What a column of a list with one row per test may be called, folded, where the name alone does not say it. */
export const LONG_FORM_WORDS: Readonly<Record<'test' | 'circuit' | 'value' | 'result', ReadonlySet<string>>> = {
  test: new Set(['test', 'tests', 'test name', 'name of test', 'check', 'checks', 'item', 'items', 'what', 'test item', 'check item', 'test type', 'type of test', 'test done', 'kind of test', 'procedure', 'what was tested', 'brake test', 'air test', 'line item']),
  circuit: new Set(['circuit', 'system', 'gauge', 'tank', 'reservoir', 'needle', 'air system', 'air tank', 'tank circuit', 'circuit tank', 'brake circuit', 'which gauge', 'which tank', 'which circuit', 'gauge tank', 'system circuit', 'circuit system', 'primary secondary', 'pri sec', 'p s', 'circuit no', 'tank no', 'system no', 'gauge no']),
  value: new Set(['value', 'values', 'reading', 'readings', 'pressure', 'gauge reading', 'pressure reading', 'measured', 'measured value', 'at', 'reading at', 'pressure at']),
  /** These hold a reading as often as the word "pass". */
  result: new Set(['result', 'results', 'found', 'outcome']),
};
