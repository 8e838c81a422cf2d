/** The thread of `password-strength.ts`: a password in, its score from 0 to 4 out. */
import '../process/young-part.ts';
import { parentPort, workerData } from 'node:worker_threads';
import { ZxcvbnFactory } from '@zxcvbn-ts/core';
import { adjacencyGraphs, dictionary } from '@zxcvbn-ts/language-common';
import type { Judged } from './password-strength.ts';

const { password, known } = workerData as Judged;
const zxcvbn = new ZxcvbnFactory({ dictionary, graphs: adjacencyGraphs });
parentPort?.postMessage(zxcvbn.check(password, [...known]).score);
