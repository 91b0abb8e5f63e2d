/** Random choices that are the same for the same seed (mulberry32, a generator of 32 bits). */
export class Random {
  constructor(seed) {
    this.state = seed >>> 0;
  }

  /** A number from 0 up to and without 1. */
  next() {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from 0 up to and without the bound. */
  below(bound) {
    return Math.floor(this.next() * bound);
  }

  /** One of them. */
  of(choices) {
    return choices[this.below(choices.length)];
  }

  /** True in that share of cases. */
  chance(share) {
    return this.next() < share;
  }
}
