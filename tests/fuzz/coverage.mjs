import { Session } from 'node:inspector';

/** Which blocks of the built program ran, counted by V8 itself. */
export class Coverage {
  constructor(folder) {
    this.folder = folder;
    this.seen = new Set();
    this.session = new Session();
    this.session.connect();
    this.ask('Profiler.enable');
    this.ask('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  }

  /** The number of blocks that ran since the last look and never before. */
  fresh() {
    const before = this.seen.size;
    for (const { scriptId, url, functions } of this.ask('Profiler.takePreciseCoverage').result) {
      if (!url.startsWith(this.folder)) continue;
      for (const { ranges } of functions) for (const { startOffset, endOffset, count } of ranges) if (count > 0) this.seen.add(`${scriptId}:${startOffset}:${endOffset}`);
    }
    return this.seen.size - before;
  }

  get blocks() {
    return this.seen.size;
  }

  /** Over an inspector of this very process, an answer is there when the question returns. */
  ask(method, parameters) {
    let answer;
    this.session.post(method, parameters, (error, result) => {
      if (error) throw new Error(error.message);
      answer = result;
    });
    return answer;
  }
}
