import { roundHalfAway } from '../util/round-half-away.js';
import type { StrokeNumbers } from './stroke-numbers.js';
import type { StrokeEntries, StrokeEntry } from './stroke.js';

/** What a chamber may have for a limit. */
export interface ChamberLimit {
  /** Type, size and kind of stroke; empty without a size. */
  readonly chamber: string;
  /** Position in the table of limits, from 1; 0 where it is not listed. */
  readonly line: number;
  /** The same for the higher of two limits, where the rated stroke of a long-stroke chamber is not told; otherwise as `line`. */
  readonly highLine: number;
  /** Inches; null where there is none. */
  readonly limit: number | null;
  readonly limit_high: number | null;
  readonly citation: string;
  readonly status: string;
}

/** Rated strokes of long-stroke chambers of one size, in inches, and how near a marked one must come. */
export const LONG_RATED = { first: 2.5, second: 3, within: 0.05 } as const;

const BOLT_SIZES = 'ABCDEFG';

/**
 * Looks up the limit of a chamber. A long-stroke chamber that is made with two rated strokes has two limits, unless the rated stroke
 * is told; a chamber that is not listed has a share of its marked rated stroke.
 *
 * @param ratedIn the marked rated stroke in inches; null where there is none
 */
export function chamberLimit(entries: StrokeEntries, ratedIn: number | null, { limits, rules }: StrokeNumbers): ChamberLimit {
  const chamber = chamberName(entries);
  const lineOf = (name: string): number => limits.findIndex((line) => line.chamber.toLowerCase() === name.toLowerCase()) + 1;
  const isLong = String(entries.stroke_kind ?? '').toLowerCase() === 'long';
  const near = (rated: number): boolean => ratedIn !== null && roundHalfAway(Math.abs(ratedIn - rated), 6) <= LONG_RATED.within;
  const second = chamber !== '' && isLong ? lineOf(`${chamber} 3`) : 0;
  const first = chamber !== '' && isLong ? lineOf(`${chamber} 2-1/2`) : 0;
  const own = chamber === '' ? 0 : lineOf(chamber);
  const line = own > 0 ? own : near(LONG_RATED.second) ? second : first;
  const highLine = own > 0 || near(LONG_RATED.first) ? line : Math.max(line, second);
  if (line > 0) {
    const { citation, status } = limits[line - 1]!;
    const limit = positive(limits[line - 1]!.limit);
    if (limit === null) return { chamber, line, highLine, limit, limit_high: null, citation: '', status: '' };
    return { chamber, line, highLine, limit, limit_high: positive(limits[highLine - 1]!.limit), citation, status };
  }
  const share = positive(rules.rated_share.value);
  const limit = chamber === '' || ratedIn === null || ratedIn <= 0 || share === null ? null : roundHalfAway(share * ratedIn, 6);
  return { chamber, line, highLine, limit, limit_high: limit, ...(limit === null ? { citation: '', status: '' } : { citation: rules.rated_share.citation, status: rules.rated_share.status }) };
}

/** Type, size and kind of stroke as the table of limits names them: a blank type is clamp, or bolt where the size is a letter. */
function chamberName({ chamber_type: type, chamber_size: size, stroke_kind: kind }: StrokeEntries): string {
  if (size === null || size === '') return '';
  return `${type ?? typeOf(size)} ${size} ${kind ?? 'standard'}`;
}

function typeOf(size: StrokeEntry): string {
  const text = String(size).toUpperCase();
  return text.length === 1 && BOLT_SIZES.includes(text) ? 'bolt' : 'clamp';
}

function positive(value: number | null): number | null {
  return value !== null && value > 0 ? value : null;
}
