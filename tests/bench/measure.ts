import type { BenchFiles } from './bench-files.js';
import { MEASUREMENTS } from './measurements.js';
import { PEERS } from './peers.js';

/** What one run of one measurement gave. */
export interface Measured {
  /** Wall clock and processor time of the measured part, in seconds; processor time is that of all threads. */
  readonly seconds: number;
  readonly cpu: number;
  /** The largest resident set of the whole process, in bytes. */
  readonly peak: number;
  /** A count of what was made, so that nothing is measured that did nothing. */
  readonly made: number;
}

/** Starts the clock; `stop` reads it. What comes before is not counted. */
export type Clock = () => void;

/** One measurement: it prepares, starts the clock, does the work and says how much it made. */
export type Measurement = (files: BenchFiles, start: Clock) => Promise<number>;

// The measured part runs in a process of its own: `node measure.js NAME FILES-AS-JSON` prints a Measured as JSON.
const [name, files] = process.argv.slice(2);
const measurement = { ...MEASUREMENTS, ...PEERS }[name!];
if (measurement === undefined) throw new Error(`no measurement ${name}`);
let started = performance.now();
let used = process.cpuUsage();
const made = await measurement(JSON.parse(files!) as BenchFiles, () => {
  started = performance.now();
  used = process.cpuUsage();
});
const seconds = (performance.now() - started) / 1000;
const { user, system } = process.cpuUsage(used);
const measured: Measured = { seconds, cpu: (user + system) / 1e6, peak: process.resourceUsage().maxRSS * 1024, made };
process.stdout.write(JSON.stringify(measured));
