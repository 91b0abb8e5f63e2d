import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { tableOf } from '../docs/document-table.js';
import { lockedPackages, readLock } from './locked-packages.js';

interface Package {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly overrides: Readonly<Record<string, string>>;
  readonly engines: Readonly<Record<string, string>>;
  readonly scripts: Readonly<Record<string, string>>;
}
const own = JSON.parse(readFileSync(packagePath('package.json'), 'utf8')) as Package;
const lock = readLock();
const packages = lockedPackages();
const EXACT = /^\d+\.\d+\.\d+(?:-[\w.]+)?$/;

describe('package.json', () => {
  test.each(['dependencies', 'devDependencies', 'overrides'] as const)('gives every one of its %s an exact version', (kind) => {
    const ranges = Object.entries(own[kind]).filter(([, version]) => !EXACT.test(version));
    expect(Object.keys(own[kind]).length).toBeGreaterThan(0);
    expect(ranges).toStrictEqual([]);
  });

  test('asks for few packages', () => {
    expect(Object.keys(own.dependencies).length).toBeLessThanOrEqual(8);
    const shipped = packages.filter(({ development }) => !development);
    expect(shipped.filter(({ optional }) => !optional).length).toBeLessThanOrEqual(97);
    // The engine for Parquet, and what tells on which of its bindings a system runs.
    expect(shipped.filter(({ name, optional }) => optional && !name.startsWith('@duckdb/') && name !== 'detect-libc').map(({ name }) => name)).toStrictEqual([]);
  });

  test('runs nothing when it is installed', () => {
    expect(Object.keys(own.scripts).filter((name) => /^(?:(?:pre|post)?(?:install|prepare|pack)|dependencies)$/.test(name))).toStrictEqual([]);
  });
});

describe('package-lock.json', () => {
  test('agrees with package.json', () => {
    const root = lock.packages['']!;
    expect(root.dependencies).toStrictEqual(own.dependencies);
    expect(root.devDependencies).toStrictEqual(own.devDependencies);
    expect(root.engines).toStrictEqual(own.engines);
    const asked = { ...own.dependencies, ...own.devDependencies };
    const locked = Object.fromEntries(Object.keys(asked).map((name) => [name, lock.packages[`node_modules/${name}`]?.version]));
    expect(locked).toStrictEqual(asked);
  });

  test('has the version of every override, and no other', () => {
    const other = packages.filter(({ name, version }) => Object.hasOwn(own.overrides, name) && own.overrides[name] !== version);
    expect(other.map(({ place, version }) => [place, version])).toStrictEqual([]);
    expect(Object.keys(own.overrides).filter((name) => !packages.some((one) => one.name === name))).toStrictEqual([]);
  });

  test('has the SHA-512 of every package, and names no server but in the addresses of those who may be thanked', () => {
    const without = packages.filter(({ integrity }) => !/^sha512-[A-Za-z0-9+/]{86}==$/.test(integrity ?? ''));
    expect(without.map(({ place }) => place)).toStrictEqual([]);
    expect(lock.text).not.toContain('"resolved"');
    const withoutThanks = JSON.stringify(lock.packages, (key, value: unknown) => (key === 'funding' ? undefined : value));
    expect(withoutThanks.match(/[\w+]*:\/\/[^"]*/g)).toBeNull();
    expect(lock.text.match(/registry|npmjs/g)).toBeNull();
  });

  test('is what is installed', () => {
    const different = packages.filter(({ manifest, version }) => manifest !== null && manifest.version !== version);
    expect(different.map(({ place, version, manifest }) => [place, version, manifest?.version])).toStrictEqual([]);
    expect(packages.filter(({ manifest, optional }) => manifest === null && !optional).map(({ place }) => place)).toStrictEqual([]);
  });
});

test('DEVELOPERS lists every override, its version and why', () => {
  const rows = tableOf('DEVELOPERS.md', 'Versions that are put in place of others');
  expect(rows.map(([name, version]) => [name, version])).toStrictEqual(Object.entries(own.overrides).map(([name, version]) => [`\`${name}\``, version]));
  expect(rows.filter(([, , why]) => !/GHSA-|CVE-|deprecated|not maintained/.test(why ?? ''))).toStrictEqual([]);
});
