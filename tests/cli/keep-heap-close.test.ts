import { spawnSync } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const MODULE = pathToFileURL(join(import.meta.dirname, '../../dist/cli/keep-heap-close.js')).href;

/** The heap at which the engine will clear it next, as a share of what is in use, at each clearing that it was asked for. */
function growth(between: string): { readonly factors: readonly number[]; readonly said: string } {
  const lines = ['globalThis.held = Array.from({ length: 500_000 }, (_, i) => ({ i }));', 'gc();', between, 'gc();'];
  const { stdout, stderr } = spawnSync(process.execPath, ['--max-old-space-size=8000', '--trace-gc-verbose', '--expose-gc', '--input-type=module', '-e', lines.join('\n')], { encoding: 'utf8' });
  return { factors: [...stdout.matchAll(/\[HeapController\] Limit: .*\((\d+\.\d+)\)/g)].map(([, factor]) => Number(factor)).slice(-2), said: stderr };
}

describe('the heap of the program', () => {
  it('is cleared again when it has grown by a half, which the engine takes without a word', () => {
    const { factors, said } = growth(`(await import('${MODULE}')).keepHeapClose();`);
    expect(factors).toStrictEqual([expect.any(Number), 1.5]);
    expect(factors[0]).toBeGreaterThan(2);
    expect(said).toBe('');
    expect(growth('').factors[1]).toBeGreaterThan(2);
  });
});
