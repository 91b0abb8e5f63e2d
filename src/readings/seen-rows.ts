import { GrowingNumbers } from '../util/growing-numbers.js';
import { ownText } from '../util/own-text.js';

/** What was seen of a table, by which another is found to hold the same. Plain data, in few bytes a row; rows are those of the table. */
export interface SeenRows {
  /** Each inspection_id once: its fingerprint, where it came first, and its text. */
  readonly ids: { readonly keys: Float64Array; readonly rows: Float64Array; readonly texts: readonly string[] };
  /** Each set of readings once, by its fingerprint; its unit is a number among the spellings. */
  readonly readings: { readonly keys: Float64Array; readonly rows: Float64Array; readonly units: Float64Array };
  /** The first inspection of each unit on each day, by the fingerprint of both. A retest has the number of its unit below zero: -1 for unit 0. */
  readonly days: { readonly keys: Float64Array; readonly rows: Float64Array; readonly units: Float64Array };
  /** The first spelling of each unit. */
  readonly spellings: readonly { readonly key: string; readonly spelling: string; readonly row: number }[];
  /** Retests of what the table does not hold, with the fingerprint of its id. */
  readonly retests: readonly { readonly row: number; readonly id: string; readonly key: number }[];
}

/** Remembers of a table that is one of several what the others may hold too. Whoever calls tells each key once. */
export class SeenRecorder {
  private readonly ids = { keys: new GrowingNumbers(), rows: new GrowingNumbers(), texts: [] as string[] };
  private readonly readings = { keys: new GrowingNumbers(), rows: new GrowingNumbers(), units: new GrowingNumbers() };
  private readonly days = { keys: new GrowingNumbers(), rows: new GrowingNumbers(), units: new GrowingNumbers() };

  addId(key: number, id: string, row: number): void {
    this.ids.keys.push(key);
    this.ids.rows.push(row);
    this.ids.texts.push(ownText(id));
  }

  /** @param unit its number among the spellings */
  addReadings(key: number, unit: number, row: number): void {
    this.readings.keys.push(key);
    this.readings.rows.push(row);
    this.readings.units.push(unit);
  }

  addDay(key: number, unit: number, row: number, isRetest: boolean): void {
    this.days.keys.push(key);
    this.days.rows.push(row);
    this.days.units.push(isRetest ? -1 - unit : unit);
  }

  result(spellings: SeenRows['spellings'], retests: SeenRows['retests']): SeenRows {
    const { ids, readings, days } = this;
    return {
      ids: { keys: ids.keys.toArray(), rows: ids.rows.toArray(), texts: ids.texts },
      readings: { keys: readings.keys.toArray(), rows: readings.rows.toArray(), units: readings.units.toArray() },
      days: { keys: days.keys.toArray(), rows: days.rows.toArray(), units: days.units.toArray() },
      spellings,
      retests,
    };
  }
}
