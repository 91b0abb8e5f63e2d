import { cleanCellText } from '../readings/clean-cell-text.js';

/** The words for an axle, a side and a place on the axle. */
const SIDES: Readonly<Record<string, 'L' | 'R'>> = { l: 'L', left: 'L', lh: 'L', lhs: 'L', r: 'R', right: 'R', rh: 'R', rhs: 'R' };
const PLACES: Readonly<Record<string, string>> = { inner: 'inner', inside: 'inner', in: 'inner', outer: 'outer', outside: 'outer', out: 'outer' };
const GROUPS: Readonly<Record<string, string>> = { front: 'front', f: 'front', steer: 'front', steering: 'front', rear: 'rear', back: 'rear', drive: 'drive', trailer: 'trailer', trl: 'trailer', tag: 'tag', pusher: 'pusher', lift: 'lift', middle: 'middle', centre: 'middle', center: 'middle' };
const ORDINALS: Readonly<Record<string, string>> = { '1st': '1', first: '1', '2nd': '2', second: '2', '3rd': '3', third: '3', '4th': '4', fourth: '4', '5th': '5', fifth: '5' };
/** Codes of an end and a side. `R` is the rear beside an `L` and the right beside an `F`. */
const CODES: Readonly<Record<string, readonly [end: string, side: 'L' | 'R']>> = { lf: ['front', 'L'], fl: ['front', 'L'], rf: ['front', 'R'], fr: ['front', 'R'], lr: ['rear', 'L'], rl: ['rear', 'L'], rr: ['rear', 'R'] };
const FILLERS = new Set(['axle', 'axles', 'ax', 'axl', 'a', 'side', 'wheel', 'brake', 'no', 'hand']);

/**
 * Reads where a brake chamber sits: `1L`, `LF`, `axle 2 right`, `2 R inner`, `left front`, `A3L`, `trailer 1 left`. The front
 * axle is axle 1. A number alone is taken as the number of a brake.
 *
 * @returns the axle from the front, then `L` or `R`, then `inner` or `outer`: `1L`, `2R inner`, `trailer 1L`, `rear R`; null where
 *   it is none
 * @example parsePosition('axle 2 right') // '2R'
 */
export function parsePosition(text: string): string | null {
  const clean = cleanCellText(text).toLowerCase();
  if (/^\d{1,2}$/u.test(clean)) return String(Number(clean));
  const words = clean.slice(0, 60).replace(/[-_/.,()#:]+/gu, ' ').replace(/(\d)(?!st|nd|rd|th)([a-z])/gu, '$1 $2').replace(/([a-z])(\d)/gu, '$1 $2').trim().split(/ +/u);
  const found: { group?: string; number?: string; side?: 'L' | 'R'; place?: string } = {};
  for (const word of words) {
    const code = Object.hasOwn(CODES, word) ? CODES[word] : undefined;
    const parts: (readonly [keyof typeof found, string | undefined])[] = code
      ? [['group', code[0]], ['side', code[1]]]
      : [['side', own(SIDES, word)], ['place', own(PLACES, word)], ['group', own(GROUPS, word)], ['number', own(ORDINALS, word) ?? (/^\d{1,2}$/u.test(word) ? String(Number(word)) : undefined)]];
    const known = parts.filter(([, value]) => value !== undefined);
    if (known.length === 0 && !FILLERS.has(word)) return null;
    for (const [key, value] of known) {
      if (found[key] !== undefined) return null;
      Object.assign(found, { [key]: value });
    }
  }
  return found.side === undefined ? null : written(found.group, found.number, found.side, found.place);
}

function own<T>(words: Readonly<Record<string, T>>, word: string): T | undefined {
  return Object.hasOwn(words, word) ? words[word] : undefined;
}

function written(group: string | undefined, number: string | undefined, side: 'L' | 'R', place: string | undefined): string | null {
  const isFront = group === 'front';
  const axle = number ?? (isFront ? '1' : undefined);
  if (axle === undefined && group === undefined) return null;
  const before = group === undefined || isFront ? '' : `${group} `;
  return `${before}${axle ?? ''}${side}${place === undefined ? '' : ` ${place}`}`;
}
