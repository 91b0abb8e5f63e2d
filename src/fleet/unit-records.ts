import { VERDICTS } from '../limits/verdict.js';
import type { BuildupRecord, LossReading, Placed, UnitRecord } from './unit-record.js';

/** Records of one block; blocks are never copied as more come. */
const BLOCK = 1024;

/** The numbers of a record before its losses, in their order. */
const HEAD = ['on', 'row', 'verdict', 'decided', 'isRetest', 'leakShare', 'leading', 'buildup'] as const;
const OF_LOSS = 3;
const OF_BUILDUP = 6;

/** What a build-up is kept as. */
const BUILDUPS = { none: 0, failed: 1, passed: 2, failedWithTest: 3, passedWithTest: 4 } as const;

/** Records of inspections as plain data, which go from one thread to another. */
export interface UnitRecordsState {
  readonly losses: number;
  readonly count: number;
  readonly blocks: readonly Float64Array[];
  /** The days and the patterns of verdicts that records name by number. */
  readonly texts: readonly string[];
}

/**
 * Keeps the records of many inspections as bare numbers, some 170 bytes each: a fleet of a million has room. A record is put
 * together anew where it is asked for.
 */
export class UnitRecords {
  private readonly width: number;
  private readonly blocks: Float64Array[] = [];
  private readonly texts: string[] = [];
  private readonly numberOf = new Map<string, number>();
  private count = 0;

  /** @param losses how many losses each record has */
  constructor(private readonly losses: number) {
    this.width = HEAD.length + OF_LOSS * losses + OF_BUILDUP;
  }

  /** Those that another thread gathered, to be read. */
  static of({ losses, count, blocks, texts }: UnitRecordsState): UnitRecords {
    const records = new UnitRecords(losses);
    records.blocks.push(...blocks);
    records.texts.push(...texts);
    records.count = count;
    return records;
  }

  /** What was kept so far; it is not copied. */
  state(): UnitRecordsState {
    const { losses, count, blocks, texts } = this;
    return { losses, count, blocks, texts };
  }

  /** Keeps a record and gives its number. */
  add({ on, row, verdict, decided, isRetest, leakShare, leading, losses, buildup }: UnitRecord): number {
    const index = this.count;
    this.count += 1;
    if (index % BLOCK === 0) this.blocks.push(new Float64Array(BLOCK * this.width));
    const block = this.blocks[Math.floor(index / BLOCK)]!;
    let at = (index % BLOCK) * this.width;
    const put = (value: number | null): void => {
      block[at] = value ?? NaN;
      at += 1;
    };
    put(this.numbered(on));
    put(row);
    put(VERDICTS.indexOf(verdict));
    put(this.numbered(decided));
    put(isRetest ? 1 : 0);
    put(leakShare);
    put(leading);
    put(buildupKind(buildup));
    for (let loss = 0; loss < this.losses; loss += 1) {
      const reading = losses[loss] ?? null;
      put(reading?.value ?? null);
      put(reading?.limit ?? null);
      put(reading?.uncertainty ?? null);
    }
    const { fromPsi, toPsi, seconds, lossPsiPerMin, rpm, readablePsi } = buildup?.test ?? NO_TEST;
    for (const value of [fromPsi, toPsi, seconds, lossPsiPerMin, rpm, readablePsi]) put(value);
    return index;
  }

  /** The record of a number. */
  at(index: number): UnitRecord {
    const block = this.blocks[Math.floor(index / BLOCK)]!;
    let at = (index % BLOCK) * this.width;
    const take = (): number => block[at++]!;
    const takeOrNull = (): number | null => orNull(take());
    const on = this.texts[take()]!;
    const head = { on, row: take(), verdict: VERDICTS[take()]!, decided: this.texts[take()]!, isRetest: take() === 1, leakShare: takeOrNull(), leading: takeOrNull() };
    const kind = take();
    const losses: (LossReading | null)[] = [];
    for (let loss = 0; loss < this.losses; loss += 1) {
      const [value, limit, uncertainty] = [takeOrNull(), takeOrNull(), takeOrNull()];
      losses.push(value === null ? null : { value, limit, uncertainty });
    }
    if (kind === BUILDUPS.none) return { ...head, losses, buildup: null };
    const passed = kind === BUILDUPS.passed || kind === BUILDUPS.passedWithTest;
    if (kind === BUILDUPS.failed || kind === BUILDUPS.passed) return { ...head, losses, buildup: { test: null, passed } };
    const test = { on, fromPsi: take(), toPsi: take(), seconds: take(), lossPsiPerMin: takeOrNull(), rpm: takeOrNull(), readablePsi: takeOrNull() };
    return { ...head, losses, buildup: { test, passed } };
  }

  /** When the inspection of a number was made, and where it stands. */
  placeOf(index: number): Placed {
    const block = this.blocks[Math.floor(index / BLOCK)]!;
    const at = (index % BLOCK) * this.width;
    return { on: this.texts[block[at]!]!, row: block[at + 1]! };
  }

  private numbered(text: string): number {
    let number = this.numberOf.get(text);
    if (number === undefined) {
      number = this.texts.push(text) - 1;
      this.numberOf.set(text, number);
    }
    return number;
  }
}

const NO_TEST = { fromPsi: NaN, toPsi: NaN, seconds: NaN, lossPsiPerMin: null, rpm: null, readablePsi: null };

function buildupKind(buildup: BuildupRecord | null): number {
  if (buildup === null) return BUILDUPS.none;
  if (buildup.test === null) return buildup.passed ? BUILDUPS.passed : BUILDUPS.failed;
  return buildup.passed ? BUILDUPS.passedWithTest : BUILDUPS.failedWithTest;
}

function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
