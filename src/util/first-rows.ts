/** Smallest table, and how full one may be before it is doubled. */
const SMALLEST = 1024;
const FULLEST = 0.6;

/** The row on which each of many keys came first, in 20 to 40 bytes a key. Keys are whole numbers from 0 to 2^53 - 1, rows from 0 to 2^32 - 1. */
export class FirstRows {
  private keys = new Float64Array(SMALLEST).fill(-1);
  private rows = new Uint32Array(SMALLEST);
  private size = 0;

  /**
   * The row on which a key came before; undefined if it did not, and then it is kept with this row.
   *
   * @example
   * const rows = new FirstRows();
   * rows.before(17, 2); // undefined
   * rows.before(17, 5); // 2
   */
  before(key: number, row: number): number | undefined {
    const at = this.placeOf(key);
    if (this.keys[at] === key) return this.rows[at];
    this.keys[at] = key;
    this.rows[at] = row;
    this.size += 1;
    if (this.size > FULLEST * this.keys.length) this.grow();
    return undefined;
  }

  /** Whether a key came. */
  has(key: number): boolean {
    return this.keys[this.placeOf(key)] === key;
  }

  private placeOf(key: number): number {
    const last = this.keys.length - 1;
    let at = (key ^ (key / 2 ** 32)) & last;
    while (this.keys[at] !== key && this.keys[at] !== -1) at = (at + 1) & last;
    return at;
  }

  private grow(): void {
    const [keys, rows] = [this.keys, this.rows];
    this.keys = new Float64Array(2 * keys.length).fill(-1);
    this.rows = new Uint32Array(2 * keys.length);
    for (let at = 0; at < keys.length; at++) {
      if (keys[at] === -1) continue;
      const place = this.placeOf(keys[at]!);
      this.keys[place] = keys[at]!;
      this.rows[place] = rows[at]!;
    }
  }
}
