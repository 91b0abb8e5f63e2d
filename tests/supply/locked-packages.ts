import { existsSync, readFileSync } from 'node:fs';
import { packagePath } from '../../src/util/package-path.js';

/** What a package says of itself in its package.json. */
export interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: unknown;
  readonly licenses?: readonly { readonly type: string }[];
  readonly scripts?: Readonly<Record<string, string>>;
  readonly gypfile?: boolean;
  readonly deprecated?: unknown;
}

/** One package of package-lock.json. */
export interface LockedPackage {
  /** Its place, as in `node_modules/jszip/node_modules/isarray`. */
  readonly place: string;
  readonly name: string;
  readonly version: string;
  readonly integrity: string | undefined;
  readonly license: string | undefined;
  readonly deprecated: unknown;
  readonly hasInstallScript: boolean;
  /** Not shipped: needed only to build and test. */
  readonly development: boolean;
  /** Not installed here, because it is for another system. */
  readonly optional: boolean;
  /** Null where it is not installed. */
  readonly manifest: Manifest | null;
}

interface LockEntry {
  readonly version: string;
  readonly integrity?: string;
  readonly license?: string;
  readonly deprecated?: unknown;
  readonly hasInstallScript?: boolean;
  readonly dev?: boolean;
  readonly optional?: boolean;
  /** Needed by development, and by what is optional. */
  readonly devOptional?: boolean;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly engines?: Readonly<Record<string, string>>;
}

/** package-lock.json as text and as data. */
export function readLock(): { readonly text: string; readonly packages: Readonly<Record<string, LockEntry>> } {
  const text = readFileSync(packagePath('package-lock.json'), 'utf8');
  return { text, packages: (JSON.parse(text) as { packages: Record<string, LockEntry> }).packages };
}

/** Every package of package-lock.json but our own, with what is installed of it. */
export function lockedPackages(): LockedPackage[] {
  return Object.entries(readLock().packages)
    .filter(([place]) => place !== '')
    .map(([place, entry]) => ({
      place,
      name: place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version: entry.version,
      integrity: entry.integrity,
      license: entry.license,
      deprecated: entry.deprecated,
      hasInstallScript: entry.hasInstallScript === true,
      development: entry.dev === true,
      optional: entry.optional === true || entry.devOptional === true,
      manifest: manifestAt(place),
    }));
}

function manifestAt(place: string): Manifest | null {
  const path = packagePath(...place.split('/'), 'package.json');
  return existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as Manifest) : null;
}
