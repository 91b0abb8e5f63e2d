import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { packagePath } from '../../src/util/package-path.js';
import { lockedPackages } from './locked-packages.js';
import type { LockedPackage, Manifest } from './locked-packages.js';

/** Licences that ask for no more than that their text goes along. */
const PERMISSIVE = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD', 'BlueOak-1.0.0', 'Python-2.0', 'CC0-1.0', 'Zlib'];
/** The Mozilla licence binds who changes the files of the package; for a tool that is not shipped that is no matter. */
const DEVELOPMENT_ONLY = ['MPL-2.0'];
/** Data that a tool of development reads: its licence asks for the name of its makers, which is here (caniuse-lite, by the makers of caniuse.com). */
const DATA_OF_DEVELOPMENT: Readonly<Record<string, string>> = { 'caniuse-lite': 'CC-BY-4.0' };
/** No package may run anything when it is installed. */
const MAY_RUN_ON_INSTALL: readonly string[] = [];
/** Packages whose package.json has no `license`: what it has instead, and the first words of the licence that lies beside it. */
const LICENCE_ELSEWHERE: Readonly<Record<string, { readonly is: string; readonly file: string; readonly says: string }>> = {
  jstat: { is: 'MIT', file: 'LICENSE', says: 'Permission is hereby granted, free of charge, to any person obtaining a copy' },
};
/** The optional engine for other systems: one of these is installed on each. */
const ENGINE_FOR_OTHER_SYSTEMS = /^@duckdb\/node-bindings-/;
/** Packages for other systems that this lock names and this machine does not have; none of them is shipped. */
const FOR_OTHER_SYSTEMS = /^(?:@rolldown\/binding-|lightningcss-|@emnapi\/|@napi-rs\/wasm-runtime|@tybys\/wasm-util|fsevents$|tslib$)/;

const packages = lockedPackages();
const named = (list: readonly LockedPackage[]): string[] => list.map(({ place, version }) => `${place} ${version}`);

/** Whether an SPDX expression, such as `(MIT OR GPL-3.0-or-later)`, can be met with these licences alone. */
function canBeMet(expression: string, allowed: readonly string[]): boolean {
  const plain = expression.replace(/^\(|\)$/g, '');
  if (plain.includes(' OR ')) return plain.split(' OR ').some((one) => canBeMet(one, allowed));
  return plain.split(' AND ').every((one) => allowed.includes(one));
}

function licenceOf({ name, license, manifest }: LockedPackage): string {
  if (typeof manifest?.license === 'string') return manifest.license;
  const elsewhere = LICENCE_ELSEWHERE[name];
  return license ?? (elsewhere && licenceFileSays(name, elsewhere) ? elsewhere.is : 'none');
}

function licenceFileSays(name: string, { file, says }: { readonly file: string; readonly says: string }): boolean {
  return readFileSync(packagePath('node_modules', name, file), 'utf8').includes(says);
}

function runsOnInstall({ name, hasInstallScript, manifest }: { readonly name: string; readonly hasInstallScript: boolean; readonly manifest: Manifest | null }): boolean {
  const scripts = Object.keys(manifest?.scripts ?? {}).some((script) => ['preinstall', 'install', 'postinstall'].includes(script));
  return (hasInstallScript || scripts || manifest?.gypfile === true) && !MAY_RUN_ON_INSTALL.includes(name);
}

describe.each([
  ['shipped', packages.filter(({ development }) => !development), PERMISSIVE],
  ['development', packages.filter(({ development }) => development), [...PERMISSIVE, ...DEVELOPMENT_ONLY]],
] as const)('the %s packages', (_kind, list, allowed) => {
  test('have licences that ask for nothing', () => {
    expect(list.length).toBeGreaterThan(20);
    expect(list.filter((one) => !canBeMet(licenceOf(one), allowed) && !(one.development && DATA_OF_DEVELOPMENT[one.name] === licenceOf(one))).map((one) => `${one.place}: ${licenceOf(one)}`)).toStrictEqual([]);
  });

  test('run nothing when they are installed', () => {
    expect(named(list.filter(runsOnInstall))).toStrictEqual([]);
  });

  test('are not withdrawn', () => {
    expect(named(list.filter(({ deprecated, manifest }) => deprecated !== undefined || manifest?.deprecated !== undefined))).toStrictEqual([]);
  });
});

test('what is for other systems, and so cannot be looked at here, is not shipped and is known', () => {
  const absent = packages.filter(({ manifest }) => manifest === null);
  expect(named(absent.filter(({ name, development, optional }) => !optional || !(ENGINE_FOR_OTHER_SYSTEMS.test(name) || (development && FOR_OTHER_SYSTEMS.test(name)))))).toStrictEqual([]);
});

describe('the checks themselves', () => {
  test('tell licences that can be met from those that cannot', () => {
    const met = ['MIT', '(MIT OR GPL-3.0-or-later)', '(MIT AND Zlib)', 'BSD-3-Clause OR MPL-2.0'];
    const unmet = ['GPL-3.0-only', 'MPL-2.0', '(MIT AND GPL-2.0)', 'UNLICENSED', 'SEE LICENSE IN LICENSE', 'none', ''];
    expect([...met, ...unmet].map((one) => canBeMet(one, PERMISSIVE))).toStrictEqual([...met.map(() => true), ...unmet.map(() => false)]);
  });

  test('see a script that runs on install, however it is told', () => {
    const manifest = { name: 'x', version: '1.0.0' };
    const quiet = { name: 'x', hasInstallScript: false, manifest: { ...manifest, scripts: { test: 'true', prepare: 'true' } } };
    const loud = [{ ...quiet, hasInstallScript: true }, { ...quiet, manifest: { ...manifest, gypfile: true } }, ...['preinstall', 'install', 'postinstall'].map((script) => ({ ...quiet, manifest: { ...manifest, scripts: { [script]: 'node x' } } }))];
    expect([quiet, ...loud].map(runsOnInstall)).toStrictEqual([false, ...loud.map(() => true)]);
  });
});
