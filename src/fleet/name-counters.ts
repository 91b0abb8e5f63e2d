import type { Verdict } from '../limits/verdict.js';
import { ownText } from '../util/own-text.js';
import type { FailRate } from './fail-rate.js';
import { FailRateCounter, type FailRateCounts } from './fail-rate-counter.js';

/** What was counted under each name, in order of first mention. */
export type NamedCounts = readonly (readonly [name: string, counts: FailRateCounts])[];

/** Counts verdicts by name. Names are the same in small and capital letters, and shown as first written. */
export class NameCounters {
  private readonly counters = new Map<string, { readonly name: string; readonly counter: FailRateCounter }>();

  /** @param names names that are listed even if nothing is counted under them */
  constructor(names: readonly string[] = []) {
    for (const name of names) this.counterOf(name);
  }

  add(name: string, verdict: Verdict): void {
    this.counterOf(name).add(verdict);
  }

  /** What was counted so far, for others to merge. */
  counts(): NamedCounts {
    return [...this.counters.values()].map(({ name, counter }) => [name, counter.counts()]);
  }

  /** Adds what others counted, who came later. */
  merge(others: NamedCounts): void {
    for (const [name, counts] of others) this.counterOf(name).merge(counts);
  }

  /** The names with their fail rates, in order of first mention. */
  result(): (FailRate & { readonly name: string })[] {
    return [...this.counters.values()].map(({ name, counter }) => ({ name, ...counter.result() }));
  }

  private counterOf(name: string): FailRateCounter {
    const key = name.toLowerCase();
    let entry = this.counters.get(key);
    if (!entry) this.counters.set(ownText(key), (entry = { name: ownText(name), counter: new FailRateCounter() }));
    return entry.counter;
  }
}
