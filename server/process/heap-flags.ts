/**
 * Keeps the V8 heap small: the server shares a small computer with other programs, and most of what a tick allocates is
 * garbage by the next. Imported before anything that fills the heap.
 */
import { setFlagsFromString } from 'node:v8';
import './young-part.ts';

// Old objects are collected when they have grown by a seventh, not when they have doubled.
setFlagsFromString('--heap-growing-percent=15');
