import { parentPort } from 'node:worker_threads';
import { init, runBaseTests, setupEnvironment } from 'vitest/worker';

const VITEST_ITSELF = /\/vitest\/dist\/|@vitest\/dist/;
let modules = null;

/** Our own modules are loaded anew for each run, as in a new thread, and while they load no mutant is active. */
function forgetTheLastRun(state) {
  const mutants = globalThis[state.providedContext.globalNamespace];
  if (mutants) mutants.activeMutant = undefined;
  modules?.idToModuleMap.forEach((node, path) => {
    if (VITEST_ITSELF.test(path)) return;
    Object.assign(node, { promise: undefined, exports: undefined, evaluated: false });
    node.importers.clear();
  });
}

function run(method) {
  return async (state, traces) => {
    forgetTheLastRun(state);
    await runBaseTests(method, state, traces);
    modules = state.evaluatedModules;
  };
}

/** The first to listen is the worker itself; each run then brings a listener of its own, which takes the place of the last run's. */
const listeners = [];
init({
  post: (response) => parentPort.postMessage(response),
  on(callback) {
    if (listeners.length > 1) parentPort.off('message', listeners.pop());
    listeners.push(callback);
    parentPort.on('message', callback);
  },
  off: (callback) => parentPort.off('message', callback),
  setup: setupEnvironment,
  runTests: run('run'),
  collectTests: run('collect'),
});
