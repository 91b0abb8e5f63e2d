#!/usr/bin/env node
import { unexpectedFault } from './unexpected-fault.js';
import { watchForTheEnd } from './watch-for-the-end.js';

watchForTheEnd();
// A fault of standard output is told where the write was asked for; one of standard error cannot be told.
process.stdout.on('error', () => undefined);
process.stderr.on('error', () => undefined);
try {
  // Loaded only now, so that a machine without room for its files is told of it too.
  const { run } = await import('./run.js');
  process.exitCode = await run(process.argv.slice(2), { out: process.stdout, err: process.stderr });
} catch (error) {
  const { words, code } = unexpectedFault(error);
  process.stderr.write(`treadlebook: ${words}\n`);
  process.exitCode = code;
}
