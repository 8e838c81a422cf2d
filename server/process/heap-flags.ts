/**
 * Keeps the V8 heap small: the server shares a small computer with other programs, and most of what a tick allocates is
 * garbage by the next. Imported before anything that fills the heap.
 */
import { setFlagsFromString } from 'node:v8';

// Old objects are collected when they have grown by a seventh, not when they have doubled.
setFlagsFromString('--heap-growing-percent=15');

const keepYoungPartSmall = (): void => {
  // New objects keep the space that they begin with, about a megabyte, instead of up to sixteen twice.
  setFlagsFromString('--semi-space-growth-factor=1');
};

keepYoungPartSmall();
// V8 sets a factor below two back to two, for the whole process, whenever a thread of JavaScript begins.
process.on('worker', (worker) => {
  worker.once('online', keepYoungPartSmall);
});
