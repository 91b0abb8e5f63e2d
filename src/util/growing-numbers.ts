/** A list of numbers without a box around each: 8 bytes a number. */
export class GrowingNumbers {
  private numbers = new Float64Array(64);
  length = 0;

  push(number: number): void {
    if (this.length === this.numbers.length) {
      const grown = new Float64Array(2 * this.length);
      grown.set(this.numbers);
      this.numbers = grown;
    }
    this.numbers[this.length] = number;
    this.length += 1;
  }

  at(index: number): number {
    return this.numbers[index]!;
  }

  /** A copy of them. */
  toArray(): Float64Array {
    return this.numbers.slice(0, this.length);
  }
}
