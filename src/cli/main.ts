#!/usr/bin/env node
import { run } from './run.js';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});
process.stderr.on('error', () => undefined);
process.exitCode = await run(process.argv.slice(2), { out: process.stdout, err: process.stderr });
