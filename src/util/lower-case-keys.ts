import { ownText } from './own-text.js';

/** Gives names in small letters, one copy of each, so that many sets may hold them. */
export class LowerCaseKeys {
  private readonly keys = new Map<string, string>();

  /** @example new LowerCaseKeys().of('T-7') // 't-7' */
  of(name: string): string {
    const known = this.keys.get(name);
    if (known !== undefined) return known;
    const lower = ownText(name.toLowerCase());
    const key = this.keys.get(lower) ?? lower;
    this.keys.set(lower, key);
    this.keys.set(ownText(name), key);
    return key;
  }
}
