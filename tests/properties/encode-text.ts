/** The encodings that a text file of readings may come in. */
export const ENCODINGS = ['UTF-8', 'UTF-8 with its mark', 'UTF-16 LE', 'UTF-16 BE', 'Windows-1252'] as const;
export type Encoding = (typeof ENCODINGS)[number];

/** Windows-1252 where it differs from Latin-1, from 0x80 (WHATWG Encoding, index windows-1252). */
const FROM_0X80 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/** The bytes of a text, or null where the encoding has no byte for one of its characters. */
export function encodeText(text: string, encoding: Encoding): Uint8Array | null {
  switch (encoding) {
    case 'UTF-8':
      return Buffer.from(text);
    case 'UTF-8 with its mark':
      return Buffer.from(`\ufeff${text}`);
    case 'UTF-16 LE':
      return Buffer.from(`\ufeff${text}`, 'utf16le');
    case 'UTF-16 BE':
      return Buffer.from(`\ufeff${text}`, 'utf16le').swap16();
    case 'Windows-1252':
      return windows1252(text);
  }
}

function windows1252(text: string): Uint8Array | null {
  const bytes: number[] = [];
  for (const character of text) {
    const own = FROM_0X80.indexOf(character);
    const code = character.codePointAt(0)!;
    if (own >= 0) bytes.push(0x80 + own);
    else if (code < 0x80 || (code >= 0xa0 && code <= 0xff)) bytes.push(code);
    else return null;
  }
  return Uint8Array.from(bytes);
}
