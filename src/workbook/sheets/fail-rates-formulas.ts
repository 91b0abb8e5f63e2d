import { LEAST_TESTED } from '../../fleet/group-flag.js';
import type { FailRateGroup } from '../../fleet/group-fail-rate.js';
import type { LimitPlan } from '../../limits/compile-limit-set.js';
import { Z_95 } from '../../statistics/wilson-interval.js';
import { sheetReference } from '../../formats/xlsx-package/sheet-reference.js';
import { columnRangeName } from '../defined-names.js';
import { rateLetters, type RateColumnId } from './fail-rates-places.js';
import { trendCell } from './trend-columns.js';
import { TREND_SHEET, TREND_TITLE_ROW } from './trend-sheet.js';

/** Where a row of a table of rates stands. */
export interface RatePlace {
  readonly group: FailRateGroup;
  readonly row: number;
  readonly firstRow: number;
  readonly lastRow: number;
  /** The cells of the mean and the weight that estimates are drawn towards. */
  readonly mean: string;
  readonly weight: string;
  /** True where the name is a formula and may be blank. */
  readonly named: boolean;
}

/** The columns of a table of rates that may be live. */
export type LiveRateColumn = Exclude<RateColumnId, 'name'>;

/**
 * The live formulas of a row of a table of rates.
 *
 * @param name what the row counts; null where it counts what its own cell names
 */
export function rateFormulas(plan: LimitPlan, name: string | null, place: RatePlace): Readonly<Record<LiveRateColumn, string | null>> {
  const { group, row, firstRow, lastRow, mean, weight, named } = place;
  const at = (id: RateColumnId): string => `$${rateLetters(id)}${row}`;
  const all = (id: RateColumnId): string => `SUM($${rateLetters(id)}$${firstRow}:$${rateLetters(id)}$${lastRow})`;
  const [n, k, p] = [at('tested'), at('failed'), at('rate')];
  const ifAny = (text: string): string => `IF(${n}=0,"",${text})`;
  const z2 = Z_95 * Z_95;
  const centre = `${p}+${z2}/(2*${n})`;
  const half = `${Z_95}*SQRT(${p}*(1-${p})/${n}+${z2}/(4*${n}^2))`;
  const tooFew = `IF(${n}<${LEAST_TESTED},"too few to judge"`;
  const flag = FLAGGED.includes(group) ? `${tooFew},${besideTheOthers(n, k, all('failed'), all('tested'))})` : group === 'limit_set' ? null : `${tooFew},"")`;
  const counts = countFormulas(plan, name, place);
  return {
    tested: counts('tested'),
    failed: counts('failed'),
    recheck: counts('recheck'),
    rate: ifAny(`${k}/${n}`),
    low: ifAny(`IF(${k}=0,0,MAX(0,(${centre}-${half})/(1+${z2}/${n})))`),
    high: ifAny(`IF(${k}=${n},1,MIN(1,(${centre}+${half})/(1+${z2}/${n})))`),
    estimate: group === 'limit_set' ? null : `IF(OR(${n}=0,NOT(ISNUMBER(${mean}))),"",IF(ISNUMBER(${weight}),(${k}+${mean}*${weight})/(${n}+${weight}),${mean}))`,
    flag: flag !== null && named ? `IF(${at('name')}="","",${flag})` : flag,
    up: ifAny(`${at('high')}-${p}`),
    down: ifAny(`${p}-${at('low')}`),
  };
}

/** Groups that are compared with each other; see `groupFlag`. */
const FLAGGED: readonly FailRateGroup[] = ['site', 'vehicle_kind', 'inspector', 'period'];

/** The exact tails of the binomial distribution at the rate of all, as in `groupFlag`. */
function besideTheOthers(n: string, k: string, failed: string, tested: string): string {
  const rate = `${failed}/${tested}`;
  const below = `IF(${k}=0,0,BINOMDIST(${k}-1,${n},${rate},TRUE))`;
  const upTo = `BINOMDIST(${k},${n},${rate},TRUE)`;
  return (
    `IF(OR(${failed}=0,${failed}=${tested}),"as the others",IF(${below}>0.999,"far higher than the others",IF(${below}>0.975,"higher than the others",` +
    `IF(${upTo}<0.001,"far lower than the others",IF(${upTo}<0.025,"lower than the others","as the others")))))`
  );
}

type Counted = 'tested' | 'failed' | 'recheck';
const VERDICTS: Readonly<Record<Counted, readonly string[]>> = { tested: ['pass', 'fail'], failed: ['fail'], recheck: ['recheck'] };

/** Makes the formula of a count. */
function countFormulas(plan: LimitPlan, name: string | null, { group, row, firstRow, named }: RatePlace): (counted: Counted) => string {
  const inRange = (range: string) => (counted: Counted): string => VERDICTS[counted].map((verdict) => `COUNTIF(${range},"${verdict}")`).join('+');
  switch (group) {
    case 'check': {
      const { check } = plan.checks.find(({ title }) => title === name)!;
      return inRange(columnRangeName(`computed.${check}_check_verdict`));
    }
    case 'circuit': {
      const { column } = plan.circuits.find(({ title }) => title === name)!;
      return inRange(columnRangeName(plan.columns.find(({ id }) => id === column)!.name));
    }
    case 'limit_set': {
      const part = plan.sets.length < 2 ? undefined : plan.sets.find(({ set }) => set.title === name);
      return inRange(part ? columnRangeName(plan.columns.find(({ id }) => id === part.column)!.name) : 'computed_verdict');
    }
    case 'period':
      return (counted) => `N(${sheetReference(TREND_SHEET, trendCell(counted, TREND_TITLE_ROW + 1 + row - firstRow))})`;
    default:
      return (counted) => {
        // A name is compared by `=`: COUNTIF would take `<5` and `K*` for patterns.
        const count = `SUMPRODUCT((${columnRangeName(group)}=$A${row})*(${VERDICTS[counted].map((verdict) => `(computed_verdict="${verdict}")`).join('+')}))`;
        return named ? `IF($A${row}="",0,${count})` : count;
      };
  }
}
