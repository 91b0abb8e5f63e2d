import { quoteText } from '../../expressions/formula-part.js';
import type { OneUnitView } from './one-unit-view.js';
import { TOO_FEW } from './one-unit-figures.js';
import { LEAST_CHARTED, MOST_SHOWN } from './one-unit-places.js';

const CHOOSE = 'Choose a unit in the yellow cell.';
const NO_DATE = 'No inspection of this unit has a date up to that day.';
const NO_LOSS = 'No loss of this unit could be decided.';
const SAID: Readonly<Record<string, string>> = {
  [TOO_FEW]: `too few inspections for a control chart of its own (days with that loss needed: ${LEAST_CHARTED})`,
  'never moved': 'it never moved',
  none: 'its own control chart shows no signal',
};
const LATEST = `. Shown and charted are the latest ${MOST_SHOWN}.`;

/** What the sheet One unit says in words. */
export function oneUnitWords({ figure }: OneUnitView): string {
  const inspections = figure('inspections') as number;
  const signal = figure('signal') as string | null;
  if (inspections === 0) return figure('picked') === null ? CHOOSE : NO_DATE;
  const said = figure('leading') === null ? NO_LOSS : `${figure('leading_title') as string}, the loss nearest its limit: ${SAID[signal!] ?? signal!}`;
  return said + (inspections > MOST_SHOWN ? LATEST : '');
}

/** The formula of {@link oneUnitWords}. */
export function signalFormula(figure: (id: string) => string): string {
  const signal = Object.entries(SAID).reduceRight((otherwise, [word, said]) => `IF(${figure('signal')}=${quoteText(word)},${quoteText(said)},${otherwise})`, figure('signal'));
  const said = `IF(${figure('leading')}="",${quoteText(NO_LOSS)},${figure('leading_title')}&", the loss nearest its limit: "&${signal})&IF(${figure('inspections')}>${MOST_SHOWN},${quoteText(LATEST)},"")`;
  return `IF(${figure('picked')}="",${quoteText(CHOOSE)},IF(${figure('inspections')}=0,${quoteText(NO_DATE)},${said}))`;
}
