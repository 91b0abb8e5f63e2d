import { parentPort } from 'node:worker_threads';
import { BookInWorker } from './book-in-worker.js';
import type { FromWorker, ToWorker } from './messages.js';

/** How often the worker says that it is at work, in milliseconds. */
const BUSY_EVERY = 1000;

const tell = (message: FromWorker): void => parentPort!.postMessage(message);
let book: BookInWorker | null = null;
let busy: NodeJS.Timeout | undefined;

// One workbook after the other; of the one before nothing is kept.
parentPort!.on('message', (message: ToWorker) => {
  if (message.kind === 'open') {
    busy = setInterval(() => tell({ kind: 'busy' }), BUSY_EVERY);
    book = new BookInWorker(message, tell);
    void book.open();
  } else if (message.kind === 'close') {
    clearInterval(busy);
    book = null;
  } else {
    book?.hear(message);
  }
});
