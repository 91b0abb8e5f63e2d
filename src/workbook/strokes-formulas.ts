import { quoteText as quote } from '../expressions/formula-part.js';
import { Z_95 } from '../statistics/wilson-interval.js';
import { LONG_RATED } from '../strokes/chamber-limit.js';
import { LONGEST_PLACE } from '../strokes/evaluate-strokes.js';
import { MM_PER_INCH } from '../strokes/length-units.js';
import { strokeLimits, type StrokeRule } from '../strokes/stroke-limits.js';
import { LONGEST_STROKE_IN, STROKE_WORDS, VEHICLE_WORDS, WORD_DECIMALS } from '../strokes/stroke-words.js';
import { STROKE_FIELDS, type StrokeField } from '../strokes/stroke.js';
import type { StrokeColumnId } from './strokes-columns.js';
import type { StrokesLayout } from './strokes-layout.js';

/** The defined name of a column of the sheet Strokes. */
export function strokesRangeName(column: StrokeField | StrokeColumnId): string {
  return `strokes_${column}`;
}

/** The defined name of the cell of a rule. */
export function strokeRuleName(rule: StrokeRule['rule']): string {
  return `stroke_rule_${rule}`;
}

/** Columns whose formulas look at all rows for each row; with very many rows they hold values instead. */
export const LOOKS_AT_ALL_ROWS: ReadonlySet<StrokeColumnId> = new Set<StrokeColumnId>([
  'across_axle_in', 'twice', 'vehicle_no', 'position_no', 'vehicle_row', 'position_row',
  'vehicle_unit', 'vehicle_inspected_on', 'vehicle_inspection_id', 'vehicle_measured', 'vehicle_past_whole', 'vehicle_past_half', 'vehicle_recheck', 'vehicle_not_tested', 'vehicle_defective', 'vehicle_share', 'vehicle_words',
  'position_name', 'position_tested', 'position_failed', 'position_rate', 'position_low', 'position_high',
]);

/** The formula of each computed column in the first row; columns of the table of limits have none. */
export function strokesFormulas(layout: StrokesLayout): ReadonlyMap<StrokeColumnId, string> {
  const row = layout.firstRow;
  const cell = (name: StrokeField | StrokeColumnId): string => `$${layout.lettersOf(name)}${row}`;
  const range = strokesRangeName;
  /** The cells of a column from the first row to this one, and from the header to the row above. */
  const soFar = (name: StrokeField | StrokeColumnId): string => `$${layout.lettersOf(name)}$${row}:${cell(name)}`;
  const above = (name: StrokeColumnId): string => `$${layout.lettersOf(name)}$${layout.nameRow}:$${layout.lettersOf(name)}${layout.nameRow}`;
  const firstOf = (name: StrokeField | StrokeColumnId, number: StrokeColumnId): string => `IF(${cell(name)}="","",IF(SUMPRODUCT(--(${soFar(name)}&""=${cell(name)}&""))=1,MAX(${above(number)})+1,""))`;
  const rowOf = (number: StrokeColumnId, own: StrokeColumnId): string => `IF(ROWS(${soFar(own)})>MAX(${range(number)}),"",MATCH(ROWS(${soFar(own)}),${range(number)},0))`;
  const [unit, size, kind, stroke] = [cell('stroke_unit'), cell('chamber_size'), cell('stroke_kind'), cell('stroke')];
  const [inches, limit, high, verdict, excess, chamber, line] = [cell('stroke_in'), cell('limit_in'), cell('limit_high_in'), cell('verdict'), cell('excess_in'), cell('chamber'), cell('limit_line')];
  const entered = (length: string): string => `ROUND(${length}/IF(${unit}="mm",${MM_PER_INCH},1),6)`;
  const ifLength = (length: string, then: string): string => `IF(AND(ISNUMBER(${length}),OR(${unit}="",${unit}="in",${unit}="mm")),${then},"")`;
  const lineOf = (name: string): string => `SUMPRODUCT(--(${range('limits_chamber')}=${name}),${range('limits_no')})`;
  const isNear = (rated: number): string => `ROUND(ABS(N(${cell('rated_in')})-${rated}),6)<=${LONG_RATED.within}`;
  const at = (column: StrokeColumnId, number: string): string => `INDEX(${range(column)},${number})`;
  const positive = (value: string): string => `IF(N(${value})>0,${value},"")`;
  const ruleLine = strokeLimits().limits.length + 1;

  const position = `TRIM(LOWER(${cell('position')}))`;
  const base = `SUBSTITUTE(SUBSTITUTE(${position}," inner","")," outer","")`;
  const sameAxle = (sides: '=' | '<>'): string => `(${range('pair')}=${cell('pair')})*(${range('side')}${sides}${cell('side')})`;

  const ofVehicle = (test: string): string => `IF(${cell('vehicle_row')}="","",SUMPRODUCT((${range('vehicle')}=${at('vehicle', cell('vehicle_row'))})*(${test})))`;
  const entryOfVehicle = (name: StrokeField): string => `IF(${cell('vehicle_row')}="","",IF(INDEX(${range(name)},${cell('vehicle_row')})="","",INDEX(${range(name)},${cell('vehicle_row')})))`;
  const ofPosition = (test: string): string => `IF(${cell('position_row')}="","",SUMPRODUCT((${range('position')}&""=${cell('position_name')}&"")*(${test})))`;
  const verdictIs = (...verdicts: string[]): string => verdicts.map((one) => `(${range('verdict')}="${one}")`).join('+');

  return new Map<StrokeColumnId, string>([
    ['filled', `IF(AND(${STROKE_FIELDS.map((field) => `${cell(field)}=""`).join(',')}),"","yes")`],
    ['stroke_in', ifLength(stroke, `IF(ABS(${entered(stroke)}-${LONGEST_STROKE_IN / 2})<=${LONGEST_STROKE_IN / 2},${entered(stroke)},"")`)],
    ['rated_in', ifLength(cell('rated_stroke'), entered(cell('rated_stroke')))],
    ['chamber', `IF(${size}="","",IF(${cell('chamber_type')}="",IF(AND(LEN(${size})=1,ISNUMBER(FIND(UPPER(${size}),"ABCDEFG"))),"bolt","clamp"),${cell('chamber_type')})&" "&${size}&" "&IF(${kind}="","standard",${kind}))`],
    ['limit_line', `IF(${chamber}="","",IF(${lineOf(chamber)}>0,${lineOf(chamber)},IF(${kind}="long",${lineOf(`${chamber}&IF(${isNear(LONG_RATED.second)}," 3"," 2-1/2")`)},0)))`],
    ['limit_high_line', `IF(N(${line})=0,${line},IF(AND(${kind}="long",NOT(${isNear(LONG_RATED.first)})),MAX(${line},${lineOf(`${chamber}&" 3"`)}),${line}))`],
    ['limit_in', `IF(N(${line})>0,${positive(at('limits_limit', line))},IF(AND(${chamber}<>"",N(${cell('rated_in')})>0,N(${strokeRuleName('rated_share')})>0),ROUND(${strokeRuleName('rated_share')}*${cell('rated_in')},6),""))`],
    ['limit_high_in', `IF(${limit}="","",IF(N(${cell('limit_high_line')})>0,${positive(at('limits_limit', cell('limit_high_line')))},${limit}))`],
    ['verdict', `IF(${cell('filled')}="","",IF(${inches}="","not tested",IF(${inches}=0,"recheck",IF(${limit}="","not tested",IF(${inches}<=${limit},"pass",IF(${inches}<=MAX(${limit},${high}),"recheck","fail"))))))`],
    ['excess_in', `IF(OR(${inches}="",${limit}=""),"",ROUND(${inches}-${limit},6))`],
    ['share_of_limit', `IF(OR(${inches}="",${limit}=""),"",${inches}/${limit})`],
    ['defective', `IF(${verdict}="fail",IF(${excess}>=N(${strokeRuleName('whole_defect')}),1,0.5),IF(OR(${verdict}="pass",${verdict}="recheck"),0,""))`],
    ['source', `IF(${limit}="","",${at('limits_source', `IF(${line}>0,${line},${ruleLine})`)}&" ("&${at('limits_status', `IF(${line}>0,${line},${ruleLine})`)}&")")`],
    ['reason', reasonFormula({ filled: cell('filled'), unit, stroke, inches, limit, high, verdict, excess, chamber, line, defective: cell('defective'), twice: cell('twice'), printed: at('limits_mm', line) })],
    ['vehicle', `IF(AND(${cell('unit')}="",${cell('inspected_on')}="",${cell('inspection_id')}=""),"",${cell('unit')}&"|"&${cell('inspected_on')}&"|"&${cell('inspection_id')})`],
    ['vehicle_no', firstOf('vehicle', 'vehicle_no')],
    ['side', `IF(LEN(${base})<2,"",IF(OR(RIGHT(${base},1)="l",RIGHT(${base},1)="r"),UPPER(RIGHT(${base},1)),""))`],
    ['pair', `IF(${cell('side')}="","",${cell('vehicle')}&"|"&LEFT(${base},LEN(${base})-1)&"|"&MID(${position},LEN(${base})+1,${LONGEST_PLACE}))`],
    ['twice', `IF(${cell('side')}="","",IF(SUMPRODUCT(${sameAxle('=')})>1,"yes",""))`],
    ['across_axle_in', `IF(OR(${cell('side')}="",${inches}=""),"",IF(AND(SUMPRODUCT(${sameAxle('=')}*ISNUMBER(${range('stroke_in')}))=1,SUMPRODUCT(${sameAxle('<>')}*ISNUMBER(${range('stroke_in')}))=1),ROUND(ABS(${inches}-SUMPRODUCT(${sameAxle('<>')},${range('stroke_in')})),6),""))`],
    ['position_no', firstOf('position', 'position_no')],
    ['vehicle_row', rowOf('vehicle_no', 'vehicle_row')],
    ['position_row', rowOf('position_no', 'position_row')],
    ['vehicle_unit', entryOfVehicle('unit')],
    ['vehicle_inspected_on', entryOfVehicle('inspected_on')],
    ['vehicle_inspection_id', entryOfVehicle('inspection_id')],
    ['vehicle_measured', ofVehicle(verdictIs('pass', 'fail', 'recheck'))],
    ['vehicle_past_whole', ofVehicle(`${range('defective')}=1`)],
    ['vehicle_past_half', ofVehicle(`${range('defective')}=0.5`)],
    ['vehicle_recheck', ofVehicle(verdictIs('recheck'))],
    ['vehicle_not_tested', ofVehicle(verdictIs('not tested'))],
    ['vehicle_defective', `IF(${cell('vehicle_row')}="","",${cell('vehicle_past_whole')}+${cell('vehicle_past_half')}/2)`],
    ['vehicle_share', `IF(${cell('vehicle_row')}="","",IF(${cell('vehicle_measured')}=0,"",${cell('vehicle_defective')}/${cell('vehicle_measured')}))`],
    ['vehicle_words', vehicleWordsFormula(cell)],
    ['position_name', `IF(${cell('position_row')}="","",INDEX(${range('position')},${cell('position_row')}))`],
    ['position_tested', ofPosition(verdictIs('pass', 'fail'))],
    ['position_failed', ofPosition(verdictIs('fail'))],
    ['position_rate', `IF(N(${cell('position_tested')})=0,"",${cell('position_failed')}/${cell('position_tested')})`],
    ...wilsonFormulas(cell('position_rate'), cell('position_failed'), cell('position_tested')),
  ]);
}

type ReasonCells = Readonly<Record<'filled' | 'unit' | 'stroke' | 'inches' | 'limit' | 'high' | 'verdict' | 'excess' | 'chamber' | 'line' | 'defective' | 'twice' | 'printed', string>>;

/** The same sentences as `evaluateChamber` gives. */
function reasonFormula({ filled, unit, stroke, inches, limit, high, verdict, excess, chamber, line, defective, twice, printed }: ReasonCells): string {
  const SAY = Object.fromEntries(Object.entries(STROKE_WORDS).map(([key, words]) => [key, quote(words)])) as Record<keyof typeof STROKE_WORDS, string>;
  const said = (value: string): string => `ROUND(${value},${WORD_DECIMALS})`;
  const what = `" ("&${chamber}&IF(${line}=0,${SAY.byRated},"")&")"`;
  const without = `IF(${stroke}="",${SAY.noStroke},IF(ISTEXT(${stroke}),${SAY.notUnderstood},IF(OR(${unit}="",${unit}="in",${unit}="mm"),${SAY.implausible},${SAY.unit})))`;
  const between = `${said(inches)}&" in is between the limits of "&${chamber}&": "&${said(limit)}&" in with a rated stroke of 2-1/2 in, "&${said(high)}&" in with one of 3 in; choose the stroke kind"`;
  const passes = `${said(inches)}&" in of the "&${said(limit)}&" in allowed"&${what}&IF(${inches}=${limit},${SAY.atLimit},"")`;
  const metric = `IF(AND(${line}>0,${unit}="mm"),IF(${stroke}<=N(${printed}),"; "&${said(stroke)}&${SAY.printedMm},""),"")`;
  const fails = `${said(inches)}&" in is "&${said(excess)}&" in past the limit of "&${said(limit)}&" in"&${what}&IF(${defective}=1,${SAY.whole},${SAY.half})&${metric}`;
  const measured = `IF(${inches}=0,${SAY.notMoved},IF(${chamber}="",${SAY.noSize},IF(${limit}="",${chamber}&${SAY.notListed},IF(${verdict}="recheck",${between},IF(${verdict}="pass",${passes},${fails})))))`;
  return `IF(${filled}="","",IF(${inches}="",${without},${measured})&IF(${twice}="yes",${SAY.twice},""))`;
}

/** The same words as `vehicleStrokes` gives. */
function vehicleWordsFormula(cell: (name: StrokeColumnId) => string): string {
  const rule = `N(${strokeRuleName('out_of_service_share')})`;
  const undecided = `(${cell('vehicle_recheck')}+${cell('vehicle_not_tested')})`;
  const reached = `AND(${rule}>0,ROUND(${cell('vehicle_share')},6)>=${rule})`;
  const words = `IF(${reached},${quote(VEHICLE_WORDS.outOfService)},IF(${cell('vehicle_defective')}>0,${quote(VEHICLE_WORDS.past)},${quote(VEHICLE_WORDS.within)}))`;
  return `IF(${cell('vehicle_row')}="","",IF(${cell('vehicle_share')}="",${quote(VEHICLE_WORDS.none)},${words}&IF(${undecided}=0,"","; "&${undecided}&${quote(VEHICLE_WORDS.undecided)})))`;
}

/** Both ends of the Wilson interval, as `wilsonInterval` has them. */
function wilsonFormulas(rate: string, failed: string, tested: string): [StrokeColumnId, string][] {
  const z2 = Z_95 * Z_95;
  const centre = `${rate}+${z2}/(2*${tested})`;
  const half = `${Z_95}*SQRT(${rate}*(1-${rate})/${tested}+${z2}/(4*${tested}^2))`;
  const ifAny = (text: string): string => `IF(N(${tested})=0,"",${text})`;
  return [
    ['position_low', ifAny(`IF(${failed}=0,0,MAX(0,(${centre}-${half})/(1+${z2}/${tested})))`)],
    ['position_high', ifAny(`IF(${failed}=${tested},1,MIN(1,(${centre}+${half})/(1+${z2}/${tested})))`)],
  ];
}
