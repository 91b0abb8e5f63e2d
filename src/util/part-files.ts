import { randomBytes } from 'node:crypto';
import { openSync, readdirSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

/** Files that are being written under another name, and those that have got theirs. */
const unfinished = new Set<string>();
const finished: string[] = [];

/** So much of a name goes into the name of its part, which must not become too long. */
const NAME_LENGTH = 60;
/** A part that nobody has written to for so long belongs to a run that was killed. */
const ABANDONED_AFTER_MS = 24 * 3600 * 1000;

/** A file under a name of its own beside its target, until it is whole. */
export interface PartFile {
  readonly path: string;
  readonly descriptor: number;
}

/** Opens a part beside its target, without a moment in which it is there and not known of. */
export function openPart(target: string): PartFile {
  const path = join(dirname(target), `${prefixOf(target)}${randomBytes(6).toString('hex')}.part`);
  const descriptor = openSync(path, 'wx');
  unfinished.add(path);
  return { path, descriptor };
}

/** Removes a part that will not be finished. */
export function discardPart(path: string): void {
  rmSync(path, { force: true });
  unfinished.delete(path);
}

/** Takes note that a part has got its name. */
export function finishPart(path: string, target: string): void {
  unfinished.delete(path);
  finished.push(target);
}

/** Removes every part that is being written, and tells which files are whole: for a run that ends before its time. */
export function discardParts(): readonly string[] {
  for (const path of unfinished) {
    try {
      discardPart(path);
    } catch {
      // It cannot be removed, and the run ends: its name says that it is a part.
    }
  }
  return finished;
}

/** Removes what runs that were killed have left of the same target. */
export function removeAbandonedParts(target: string): void {
  const [folder, prefix] = [dirname(target), prefixOf(target)];
  try {
    for (const name of readdirSync(folder)) {
      if (!name.startsWith(prefix) || !/^[0-9a-f]{12}\.part$/.test(name.slice(prefix.length))) continue;
      const path = join(folder, name);
      if (Date.now() - statSync(path).mtimeMs > ABANDONED_AFTER_MS) rmSync(path, { force: true });
    }
  } catch {
    // The result stands; what lies beside it is no part of it.
  }
}

function prefixOf(target: string): string {
  return `.${basename(target).slice(0, NAME_LENGTH)}.`;
}
