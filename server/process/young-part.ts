/**
 * New objects keep the space that they begin with, about a megabyte, instead of up to sixteen twice. V8 sets a factor
 * below two back to two, for the whole process, whenever a thread of JavaScript begins, so each thread of ours imports
 * this first.
 */
import { setFlagsFromString } from 'node:v8';

setFlagsFromString('--semi-space-growth-factor=1');
