import { resolve } from 'node:path';
import { Worker } from 'node:worker_threads';

/** The one thread that all runs share: what the packages of others cost to load is paid once and not for each mutant. */
let thread = null;

function currentThread() {
  if (thread) return thread;
  thread = new Worker(resolve(import.meta.dirname, 'warm-thread-worker.mjs'), { env: { ...process.env, NODE_ENV: 'test', PATH: '/nonexistent', REQUIRE_OUTSIDE: '' } });
  thread.setMaxListeners(0);
  thread.once('exit', () => {
    thread = null;
  });
  return thread;
}

/** A pool for vitest whose worker outlives the run. */
const warmThread = {
  name: 'warm-thread',
  createPoolWorker() {
    const used = currentThread();
    const own = [];
    return {
      name: 'warm-thread',
      on(event, callback) {
        own.push([event, callback]);
        used.on(event, callback);
      },
      off: (event, callback) => void used.off(event, callback),
      send: (message) => used.postMessage(message),
      deserialize: (data) => data,
      async start() {
        used.ref();
      },
      async stop() {
        for (const [event, callback] of own) used.off(event, callback);
        used.unref();
      },
    };
  },
};

/** The plugin for vite that puts the tests of a mutation run into the warm thread, whatever pool the runner asks for. */
export const inWarmThread = {
  name: 'in-warm-thread',
  configureVitest({ project }) {
    project.config.pool = warmThread.name;
    project.config.poolRunner = warmThread;
  },
};
