const ANYWHERE = ['', ' ', '\t', '\n', '\r\n', '\r', '"', "'", ',', ';', '|', ':', '/', '\\', '-', '–', '+', '=', '@', '.', '0', '1', '-1', '9999999', '1e999', '1e-999', '0x1f', 'NaN', 'null', 'true', '\u0000', '\u001b[2J', '\u00a0', '\u200b', '\u202e', '\u2028', '\ufeff', '\ufffe', '\ud800', '😀', 'é', 'İ', 'ß', '１', '٣', '_x000D_', '&amp;', '<a>', ']]>', '__proto__', 'constructor', 'toString', 'hasOwnProperty', '$&', '%s', '../', '{}', '[]', '()'];
const NUMBER = /-?\d+(?:\.\d+)?/g;

/**
 * A text that is like another: pieces taken out, doubled, moved, put in from a list of words, or taken from a second text.
 *
 * @param {string} text
 * @param {import('./random.mjs').Random} random
 * @param {{ words: readonly string[], others: readonly string[] }} from words of the format, and texts to take pieces from
 */
export function mutateText(text, random, { words, others }) {
  let changed = text;
  for (let changes = 1 + random.below(random.chance(0.2) ? 12 : 3); changes > 0; changes--) changed = random.of(WAYS)(changed, random, words, others).slice(0, 100_000);
  return changed;
}

const place = (text, random) => random.below(text.length + 1);
/** Where a piece starts and ends, most often at a mark of the format. */
function span(text, random) {
  if (random.chance(0.5)) {
    const marks = [...text.matchAll(/[,;\t\n"<>{}[\]():|]/g)].map(({ index }) => index);
    if (marks.length > 1) {
      const at = random.below(marks.length - 1);
      return [marks[at], marks[Math.min(marks.length - 1, at + 1 + random.below(3))]];
    }
  }
  const start = place(text, random);
  return [start, Math.min(text.length, start + 1 + random.below(random.chance(0.2) ? 80 : 6))];
}

const WAYS = [
  (text, random) => {
    const [start, end] = span(text, random);
    return text.slice(0, start) + text.slice(end);
  },
  (text, random) => {
    const [start, end] = span(text, random);
    return text.slice(0, end) + text.slice(start, end).repeat(random.chance(0.1) ? 50 : 1) + text.slice(end);
  },
  (text, random, words) => {
    const at = place(text, random);
    return text.slice(0, at) + random.of(random.chance(0.5) ? words : ANYWHERE) + text.slice(at);
  },
  (text, random, words) => {
    const [start, end] = span(text, random);
    return text.slice(0, start + 1) + random.of(random.chance(0.7) ? words : ANYWHERE) + text.slice(end);
  },
  (text, random, words, others) => {
    const other = random.of(others);
    const [[start, end], [from, to]] = [span(text, random), span(other, random)];
    return text.slice(0, start) + other.slice(from, to) + text.slice(end);
  },
  (text, random) => {
    const numbers = [...text.matchAll(NUMBER)];
    if (numbers.length === 0) return text;
    const { index, 0: number } = random.of(numbers);
    const other = random.of(['0', '-1', '1', '255', '65535', '2147483648', '1e308', '0.1', '1.5', '-0', '00', '0,5', number + number, String(Number(number) + 1), String(Number(number) / 60), '９', '1.7976931348623159e308']);
    return text.slice(0, index) + other + text.slice(index + number.length);
  },
  (text, random) => {
    const lines = text.split('\n');
    const [one, other] = [random.below(lines.length), random.below(lines.length)];
    [lines[one], lines[other]] = [lines[other], lines[one]];
    return lines.join('\n');
  },
  (text, random) => {
    const lines = text.split('\n');
    lines.splice(random.below(lines.length), 1 + random.below(3));
    return lines.join('\n');
  },
  (text, random) => {
    const at = place(text, random);
    return text.slice(0, at) + String.fromCharCode(random.below(random.chance(0.7) ? 0x100 : 0x10000)) + text.slice(at + 1);
  },
  (text, random) => {
    const [start, end] = span(text, random);
    const piece = text.slice(start, end);
    return text.slice(0, start) + random.of([piece.toUpperCase(), piece.toLowerCase(), [...piece].reverse().join(''), piece.normalize('NFD'), piece.replaceAll(',', ';'), piece.replaceAll('.', ',')]) + text.slice(end);
  },
];

/** Bytes that are like others: some changed, taken out or doubled. */
export function mutateBytes(bytes, random) {
  let changed = Buffer.from(bytes);
  for (let changes = 1 + random.below(4); changes > 0; changes--) {
    const at = random.below(changed.length + 1);
    const length = 1 + random.below(8);
    changed = random.of([
      () => (changed.length === 0 ? changed : (changed[at % changed.length] ^= 1 << random.below(8), changed)),
      () => (changed.length === 0 ? changed : (changed[at % changed.length] = random.below(256), changed)),
      () => Buffer.concat([changed.subarray(0, at), changed.subarray(at + length)]),
      () => Buffer.concat([changed.subarray(0, at + length), changed.subarray(at)]),
      () => changed.subarray(0, at),
    ])();
  }
  return changed;
}
