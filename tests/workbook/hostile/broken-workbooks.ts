import { sheetPath } from '../workbook-parts.js';
import { rawZip, type RawEntry, type RawZip } from './raw-zip.js';
import { attributeChanges } from './attribute-changes.js';
import { partChanges } from './part-changes.js';

/** A broken, odd or fuzzed workbook. */
export interface BrokenWorkbook {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A change of one part's text; null takes the part out. */
export interface PartChange {
  readonly name: string;
  readonly path: string;
  readonly change: (text: string) => string | Uint8Array | null;
}

/** Paths of the parts that readings, limits and provenance are read from. */
export interface KeyParts {
  readonly workbook: string;
  readonly links: string;
  readonly strings: string;
  readonly styles: string;
  readonly readings: string;
  readonly limits: string;
  readonly provenance: string;
}

/** Numbers from 0 up to below 1 that depend on the seed alone (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

type Parts = ReadonlyMap<string, string>;

function keyParts(parts: Parts): KeyParts {
  return {
    workbook: 'xl/workbook.xml',
    links: 'xl/_rels/workbook.xml.rels',
    strings: 'xl/sharedStrings.xml',
    styles: 'xl/styles.xml',
    readings: sheetPath(parts, 'Readings'),
    limits: sheetPath(parts, 'Limits'),
    provenance: sheetPath(parts, 'Provenance'),
  };
}

function entriesOf(parts: Parts): RawEntry[] {
  return [...parts].map(([name, text]) => ({ name, content: Buffer.from(text) }));
}

/**
 * Everything that can be wrong with a workbook but its container, one after the other.
 *
 * @param choose which of the changes to make; where it is given, those that find nothing to change are left out
 */
export function* brokenParts(parts: Parts, label: string, choose?: (index: number) => boolean): Generator<BrokenWorkbook> {
  const key = keyParts(parts);
  let index = 0;
  for (const { name, path, change } of [...partChanges(parts, key), ...attributeChanges(key)]) {
    index += 1;
    if (choose && !choose(index)) continue;
    const text = parts.get(path);
    if (text === undefined) throw new Error(`${label} has no part ${path}`);
    const changed = change(text);
    if (changed === text) {
      if (choose) continue;
      throw new Error(`${label}: ${name} changes nothing`);
    }
    const entries = entriesOf(parts).flatMap((entry) => (entry.name !== path ? [entry] : changed === null ? [] : [{ ...entry, content: Buffer.from(changed as string) }]));
    yield { name: `${label}: ${name}`, bytes: rawZip(entries) };
  }
}

/** Bytes changed at random in one part, with a right checksum, so that the damage gets as far as it can. */
export function* flippedParts(parts: Parts, label: string, seeds: readonly number[]): Generator<BrokenWorkbook> {
  const paths = Object.values(keyParts(parts));
  for (const seed of seeds) {
    const random = seeded(seed);
    const path = paths[Math.floor(random() * paths.length)]!;
    const content = Buffer.from(parts.get(path)!);
    const flips = 1 + Math.floor(random() * 4);
    for (let flip = 0; flip < flips; flip += 1) content[Math.floor(random() * content.length)] = 32 + Math.floor(random() * 95);
    yield { name: `${label}: ${flips} bytes of ${path} changed, seed ${seed}`, bytes: rawZip(entriesOf(parts).map((entry) => (entry.name === path ? { ...entry, content } : entry))) };
  }
}

/** The file as it is with bytes changed, and cut short. */
export function* damagedFiles(bytes: Uint8Array, label: string, seeds: readonly number[]): Generator<BrokenWorkbook> {
  for (const seed of seeds) {
    const random = seeded(seed);
    const damaged = Buffer.from(bytes);
    const flips = 1 + Math.floor(random() * 8);
    // Half of them in the directory at the end, where a byte has more to say.
    const from = seed % 2 === 0 ? 0 : Math.max(0, damaged.length - 4000);
    for (let flip = 0; flip < flips; flip += 1) damaged[from + Math.floor(random() * (damaged.length - from))] = Math.floor(random() * 256);
    yield { name: `${label}: ${flips} bytes of the file changed, seed ${seed}`, bytes: damaged };
  }
  for (const share of [0, 0.0001, 0.001, 0.1, 0.5, 0.9, 0.99, 0.999, 0.9999]) yield { name: `${label}: cut short at ${share} of its length`, bytes: bytes.subarray(0, Math.floor(bytes.length * share)) };
  for (const less of [1, 4, 21, 22, 23]) yield { name: `${label}: ${less} bytes short`, bytes: bytes.subarray(0, bytes.length - less) };
}

/** The same parts in odd, deceitful and broken containers. */
export function* oddContainers(parts: Parts, label: string): Generator<BrokenWorkbook> {
  const { readings, strings } = keyParts(parts);
  const all = entriesOf(parts);
  const every = (change: Partial<RawEntry>): RawEntry[] => all.map((entry) => ({ ...entry, ...change }));
  const only = (path: string, change: Partial<RawEntry>): RawEntry[] => all.map((entry) => (entry.name === path ? { ...entry, ...change } : entry));
  const shuffled = (seed: number): RawEntry[] => {
    const random = seeded(seed);
    return all.map((entry) => ({ entry, key: random() })).sort((a, b) => a.key - b.key).map(({ entry }) => entry);
  };
  const size = Buffer.byteLength(parts.get(readings)!);
  const named = (name: string | Uint8Array): RawEntry[] => [...all, { name, content: Buffer.from('x') }];
  const containers: [name: string, entries: readonly RawEntry[], whole?: RawZip][] = [
    ['stored', every({ method: 0 })],
    ['deflated as far as it goes', every({ level: 9 })],
    ['deflated blocks that are stored', every({ level: 0 })],
    ['data descriptors', every({ descriptor: true })],
    ['data descriptors behind stored data', every({ method: 0, descriptor: true })],
    ['zip64 throughout', every({ zip64: true })],
    ['zip64 with data descriptors', every({ zip64: true, descriptor: true })],
    ['entries in reverse', all.toReversed()],
    ['entries shuffled, seed 1', shuffled(1)],
    ['entries shuffled, seed 2', shuffled(2)],
    ['no entries', []],
    ['an unknown extra field', every({ extra: Buffer.from('cafe0400deadbeef', 'hex') })],
    ['an extra field cut short', every({ extra: Buffer.from('cafe', 'hex') })],
    ['an extra field longer than it is', every({ extra: Buffer.from('cafeffff00', 'hex') })],
    ['comments on entries', every({ comment: 'checked' })],
    ['a comment', all, { comment: 'a comment' }],
    ['a comment as long as can be', all, { comment: 'x'.repeat(65_535) }],
    ['a comment that holds an end record', all, { comment: Buffer.concat([Buffer.from('504b0506', 'hex'), Buffer.alloc(18)]) }],
    ['a comment that is a whole zip', all, { comment: rawZip([{ name: 'xl/workbook.xml', content: Buffer.from('<workbook/>') }]) }],
    ['a comment shorter than it says', all, { lies: { commentLength: 10 } }],
    ['a comment longer than it says', all, { comment: 'a comment', lies: { commentLength: 2 } }],
    ['bytes before the zip', all, { before: Buffer.from('#!/bin/sh\n') }],
    ['bytes after the zip', all, { after: Buffer.from('trailing') }],
    ['more entries than there are', all, { lies: { count: all.length + 1 } }],
    ['fewer entries than there are', all, { lies: { count: all.length - 1 } }],
    ['65,535 entries', all, { lies: { count: 65_535 } }],
    ['a directory elsewhere', all, { lies: { directoryOffset: 3 } }],
    ['a directory beyond the end', all, { lies: { directoryOffset: 0xfffffff0 } }],
    ['a directory of no size', all, { lies: { directorySize: 0 } }],
    ['the readings encrypted', only(readings, { flags: 1 })],
    ['everything encrypted', every({ flags: 1 })],
    ['strong encryption', every({ flags: 0x41 })],
    ['a method that is not known', only(readings, { method: 99 })],
    ['deflate64', every({ method: 9 })],
    ['a wrong checksum of the readings', only(readings, { lies: { crc: 1 } })],
    ['a wrong checksum of the strings', only(strings, { lies: { crc: 1 } })],
    ['a size one too large', only(readings, { lies: { size: size + 1 } })],
    ['a size one too small', only(readings, { lies: { size: size - 1 } })],
    ['no size', only(readings, { lies: { size: 0 } })],
    ['a size of 4 GB', only(readings, { lies: { size: 0xfffffffe } })],
    ['sizes of 4 GB', every({ lies: { size: 0xfffffffe } })],
    ['a packed size too small', only(readings, { lies: { packedSize: 10 } })],
    ['a packed size too large', only(readings, { lies: { packedSize: 0x7fffffff } })],
    ['stored data with a larger packed size', only(readings, { method: 0, lies: { packedSize: size + 9 } })],
    ['an offset beyond the end', only(readings, { lies: { offset: 0x7fffffff } })],
    ['an offset into another entry', only(readings, { lies: { offset: 40 } })],
    ['every offset the same', every({ lies: { offset: 0 } })],
    ['another name in front of the data', only(readings, { lies: { localName: 'xl/worksheets/other.xml' } })],
    ['the readings twice', [...all, ...all.filter(({ name }) => name === readings)]],
    ['the workbook twice, once in capitals', [...all, { name: 'XL/WORKBOOK.XML', content: Buffer.from('<workbook/>') }]],
    ['every name in capitals', all.map((entry) => ({ ...entry, name: String(entry.name).toUpperCase() }))],
    ['backslashes in names', all.map((entry) => ({ ...entry, name: String(entry.name).replaceAll('/', '\\') }))],
    ['a slash before names', all.map((entry) => ({ ...entry, name: `/${String(entry.name)}` }))],
    ['an entry that climbs out', named('../../evil.xml')],
    ['an entry of another drive', named('C:/evil.xml')],
    ['an entry without a name', named('')],
    ['an entry with NUL in its name', named('xl/a\0b.xml')],
    ['an entry whose name is no UTF-8', named(Buffer.from([0x78, 0xff, 0xfe]))],
    ['an entry with a name of 60,000 letters', named('x'.repeat(60_000))],
    ['an entry named __proto__', named('__proto__')],
    ['a folder where the readings should be', [...all.filter(({ name }) => name !== readings), { name: `${readings}/`, content: new Uint8Array(), method: 0 }]],
    ['folders as entries', [{ name: 'xl/', content: new Uint8Array(), method: 0 }, ...all]],
    ['macros', [...all, { name: 'xl/vbaProject.bin', content: Buffer.from('x') }]],
  ];
  for (const [name, entries, whole] of containers) yield { name: `${label}: ${name}`, bytes: rawZip(entries, whole) };
}
