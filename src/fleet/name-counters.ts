import type { Verdict } from '../limits/verdict.js';
import type { FailRate } from './fail-rate.js';
import { FailRateCounter } from './fail-rate-counter.js';

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

  /** The names with their fail rates, in order of first mention. */
  result(): (FailRate & { readonly name: string })[] {
    return [...this.counters.values()].map(({ name, counter }) => ({ name, ...counter.result() }));
  }

  private counterOf(name: string): FailRateCounter {
    const key = name.toLowerCase();
    let entry = this.counters.get(key);
    if (!entry) this.counters.set(key, (entry = { name, counter: new FailRateCounter() }));
    return entry.counter;
  }
}
