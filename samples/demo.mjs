// The demo: `npm run demo` builds the program and runs this. It evaluates the invented fleet, clean and messy,
// writes three workbooks under out/, and prints what a manager sees first.
import { mkdirSync } from 'node:fs';
import { blankWorkbook, cautions, evaluateReadings, workbookOf, writeFileAtomically } from '../dist/index.js';

mkdirSync('out', { recursive: true });
const fleet = await evaluateReadings('samples/invented-fleet.csv');
const messy = await evaluateReadings('samples/invented-fleet-messy.csv');
await writeFileAtomically('out/invented-fleet-evaluated.xlsx', workbookOf(fleet), true);
await writeFileAtomically('out/invented-fleet-messy-evaluated.xlsx', workbookOf(messy), true);
await writeFileAtomically('out/blank-entry.xlsx', blankWorkbook({ rows: 100 }), true);

const verdicts = ({ evaluations }) => ['pass', 'fail', 'recheck', 'not tested'].map((word) => `${evaluations.filter(({ verdict }) => verdict === word).length} ${word}`).join(', ');
const percent = (share) => `${Math.round(100 * share)} %`;
const rateOf = ({ name, failed, tested, rate, low, high }) => `${name}: ${failed} of ${tested} failed, ${percent(rate)} (95 % interval ${percent(low)} to ${percent(high)})`;
const { units, fail_rates } = fleet.summary;
const worst = units.filter(({ share_now }) => share_now > 1);
const inGroup = (group) => fail_rates.filter((rate) => rate.group === group && rate.tested > 0);

console.log(`Made, from invented readings:
  out/invented-fleet-evaluated.xlsx        ${fleet.evaluations.length} inspections of ${units.length} units: ${verdicts(fleet)}
  out/invented-fleet-messy-evaluated.xlsx  ${messy.evaluations.length} inspections as people typed them; ${messy.problems.length} cells on its sheet Problems
  out/blank-entry.xlsx                     the same workbook, empty: type a row on Readings and its verdict appears

What a manager sees first
  Over a leak's limit now: ${worst.map(({ unit, site, share_now, latest_on, latest_verdict }) => `${unit} (${site}, uses ${percent(share_now)} of it; inspected ${latest_on}: ${latest_verdict})`).join('; ')}
  Fails most: ${rateOf(inGroup('check')[0])}
  Where: ${rateOf(inGroup('site')[0])}
  Best site: ${rateOf(inGroup('site').at(-1))}

Limits: ${fleet.plan.set.title} (${fleet.plan.set.id}). ${fleet.plan.set.notice}

Cautions
${cautions().map((caution) => `  - ${caution}`).join('\n')}`);
