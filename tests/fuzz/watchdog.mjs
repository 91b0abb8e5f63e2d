import { copyFileSync } from 'node:fs';
import { workerData } from 'node:worker_threads';

// Ends the fuzzer when one input takes longer than this many seconds, which nothing inside its own thread could do.
const { beats, seconds, current, finding } = workerData;
const heart = new Int32Array(beats);
let last = -1;
let since = Date.now();
setInterval(() => {
  const beat = Atomics.load(heart, 0);
  if (beat !== last) [last, since] = [beat, Date.now()];
  else if (Date.now() - since > seconds * 1000) {
    copyFileSync(current, finding);
    process.stderr.write(`finding: an input takes longer than ${seconds} s; it is kept as ${finding}\n`);
    process.kill(process.pid, 'SIGKILL');
  }
}, 500);
