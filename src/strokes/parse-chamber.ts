import { cleanCellText } from '../readings/clean-cell-text.js';

/** What a text says of a brake chamber; null where it says nothing. */
export interface ChamberWords {
  readonly type: string | null;
  readonly size: string | null;
  readonly kind: string | null;
}

const NOTHING: ChamberWords = { type: null, size: null, kind: null };
const TYPES: readonly (readonly [pattern: RegExp, type: string])[] = [
  [/^(?:clamp|clamp type|clamp ring|band)$/u, 'clamp'],
  [/^(?:bolt|bolt type|bolted)$/u, 'bolt'],
  [/^(?:roto|rotochamber|roto ?chamber)s?$/u, 'rotochamber'],
  [/^dd ?-? ?3$/u, 'DD-3'],
];
/** Sizes of the service half; four digits are a service and a spring half, such as 3030 and 2430. */
const KNOWN_SIZES = new Set(['6', '9', '12', '14', '16', '18', '20', '24', '30', '36', '50']);
const STANDARD = /^(?:standard|std|short|regular|normal|s)(?: stroke)?$/u;
const LONG = /^(?:long|l|ls|long ?stroke|l stroke)$/u;
const LONG_RATED = /^(?:long|l|ls)(?: stroke)?,? ?\(?(2[- ]1\/2|2\.5|2,5|2 ?½|3(?:\.0)?)(?: ?(?:"|in|inch|inches))?\)?(?: rated)?(?: stroke)?$/u;

/**
 * Reads the kind of stroke: `standard`, `std`, `long`, `LS`, `long 3`, `long 2-1/2 in`.
 *
 * @returns `standard`, `long`, `long 2-1/2` or `long 3`; null where it is none
 * @example parseStrokeKind('Long stroke') // 'long'
 */
export function parseStrokeKind(text: string): string | null {
  const words = cleanCellText(text).toLowerCase();
  if (STANDARD.test(words)) return 'standard';
  if (LONG.test(words)) return 'long';
  const rated = LONG_RATED.exec(words)?.[1];
  return rated === undefined ? null : rated.startsWith('3') ? 'long 3' : 'long 2-1/2';
}

/**
 * Reads a brake chamber as people write it: `30`, `T30`, `type 30`, `30/30`, `3030`, `30L`, `30LS`, `L30`, `24 long`,
 * `20 long stroke`, `bolt A`, `rotochamber 36`, `DD-3`. Of two sizes the first is that of the service brake.
 *
 * `24L` and `20L` are those with a rated stroke of 2-1/2 in, `24LS` is that of 3 in, as Canadian practice marks them (from memory).
 *
 * @returns null where the text is no chamber
 * @example parseChamber('30LS') // { type: null, size: '30', kind: 'long' }
 */
export function parseChamber(text: string): ChamberWords | null {
  const words = cleanCellText(text).toLowerCase().replace(/\bbrake chambers?\b|\bchambers?\b/gu, ' ').replace(/\s+|-(?= |$)/gu, ' ').trim();
  if (words.length > 40) return null;
  const whole = typeOf(words);
  if (whole !== null) return { ...NOTHING, type: whole };
  for (const [, first, second] of splits(words)) {
    const type = typeOf(first);
    const rest = type === null ? null : sizeOf(second);
    if (type !== null && rest !== null) return { ...rest, type };
    const lastType = typeOf(second);
    const before = lastType === null ? null : sizeOf(first);
    if (lastType !== null && before !== null) return { ...before, type: lastType };
  }
  return sizeOf(words);
}

function typeOf(words: string): string | null {
  return TYPES.find(([pattern]) => pattern.test(words))?.[1] ?? null;
}

/** Every way to part the words in two. */
function splits(words: string): (readonly [string, string, string])[] {
  return [...words.matchAll(/[ ,]+/gu)].map(({ index, 0: gap }) => [words, words.slice(0, index), words.slice(index + gap.length)] as const);
}

const SIZE = /^(?:type |t ?-?|size )?(?:(ls?) ?-?)?(\d{1,2})(?: ?(ls?)(?![a-z]))?(?: ?[/-] ?(\d{1,2}))?(.*)$/u;

function sizeOf(words: string): ChamberWords | null {
  const letter = /^(?:type |size )?([a-g])$/u.exec(words)?.[1];
  if (letter !== undefined) return { ...NOTHING, size: letter.toUpperCase() };
  const [, front, size, middle, spring, behind = ''] = SIZE.exec(withParted(words)) ?? [];
  if (size === undefined || (spring !== undefined && !KNOWN_SIZES.has(plain(spring)))) return null;
  const tail = behind.trim();
  const tailKind = tail === '' ? null : parseStrokeKind(tail);
  if (tail !== '' && tailKind === null) return null;
  const marks = [front, middle, /^ls?$/u.test(tail) ? tail : undefined].filter((mark) => mark !== undefined);
  if (marks.length > 1) return null;
  const [mark] = marks;
  return { type: null, size: plain(size), kind: mark === undefined ? tailKind : markedKind(plain(size), mark) };
}

/** `3030` as `30/30`. */
function withParted(words: string): string {
  return words.replace(/(?<!\d)(\d{2})(\d{2})(?!\d)/u, (all, first: string, second: string) => (KNOWN_SIZES.has(first) && KNOWN_SIZES.has(second) ? `${first}/${second}` : all));
}

function markedKind(size: string, mark: string): string {
  if (size === '24' && mark === 'ls') return 'long 3';
  return (size === '20' || size === '24') && mark === 'l' ? 'long 2-1/2' : 'long';
}

function plain(size: string): string {
  return String(Number(size));
}
