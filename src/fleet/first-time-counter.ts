import { wilsonInterval } from '../statistics/wilson-interval.js';
import type { FleetFigures } from './fleet-figures.js';
import type { UnitRecord } from './unit-record.js';

/** Counts how many inspections that were no retest passed. */
export class FirstTimeCounter {
  private tested = 0;
  private passed = 0;

  /** @param wasOpen whether the unit had an open failure just before it */
  add({ verdict, isRetest }: Pick<UnitRecord, 'verdict' | 'isRetest'>, wasOpen: boolean): void {
    if (isRetest || wasOpen || (verdict !== 'pass' && verdict !== 'fail')) return;
    this.tested += 1;
    if (verdict === 'pass') this.passed += 1;
  }

  result(): FleetFigures['first_time'] {
    const { tested, passed } = this;
    const interval = wilsonInterval(passed, tested);
    return { tested, passed, rate: tested === 0 ? null : passed / tested, low: interval?.low ?? null, high: interval?.high ?? null };
  }
}
