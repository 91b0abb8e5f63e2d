#!/usr/bin/env node
import { run } from './run.js';
import { watchForTheEnd } from './watch-for-the-end.js';

watchForTheEnd();
// A fault of standard output is told where the write was asked for; one of standard error cannot be told.
process.stdout.on('error', () => undefined);
process.stderr.on('error', () => undefined);
process.exitCode = await run(process.argv.slice(2), { out: process.stdout, err: process.stderr });
