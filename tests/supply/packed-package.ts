import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { packagePath } from '../../src/util/package-path.js';
import { lockedPackages } from './locked-packages.js';

const run = promisify(execFile);

/** A file of the package, and how many bytes it has. */
export interface PackedFile {
  readonly path: string;
  readonly size: number;
}

/** What `npm pack` makes of this package. */
export interface PackedPackage {
  /** The folder that holds the tarball; whoever asked for it removes it. */
  readonly folder: string;
  readonly tarball: string;
  readonly files: readonly PackedFile[];
  readonly size: number;
  readonly unpackedSize: number;
}

/** Packs what stands in `dist` and beside it, without asking anyone. */
export async function packPackage(): Promise<PackedPackage> {
  const folder = mkdtempSync(join(tmpdir(), 'treadlebook-pack-'));
  const { stdout } = await run('npm', ['pack', '--json', '--offline', '--ignore-scripts', '--pack-destination', folder], { cwd: packagePath(), maxBuffer: 1e8, shell: process.platform === 'win32' });
  interface Told { readonly filename: string; readonly files: readonly PackedFile[]; readonly size: number; readonly unpackedSize: number }
  // A list up to npm 10, an object by name in later ones.
  const [told] = Object.values(JSON.parse(stdout) as Record<string, Told>);
  return { ...told!, folder, tarball: join(folder, told!.filename) };
}

/** A new package in `folder` that has the packed one among its node_modules, and beside it the packages that it is shipped with and no other. */
export async function installPacked({ tarball }: PackedPackage, folder: string): Promise<void> {
  const modules = join(folder, 'node_modules');
  const own = join(modules, 'treadlebook');
  mkdirSync(own, { recursive: true });
  await run('tar', ['-xzf', tarball, '-C', own, '--strip-components=1']);
  for (const { place, development } of lockedPackages()) {
    if (development || place.lastIndexOf('node_modules/') > 0) continue;
    const link = join(folder, ...place.split('/'));
    if (existsSync(link)) continue;
    mkdirSync(dirname(link), { recursive: true });
    symlinkSync(packagePath(...place.split('/')), link, 'dir');
  }
}
