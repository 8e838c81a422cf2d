/** What a visit needs, and the shape in which a row says what to do. */
import type { FactKind } from '../log/facts.ts';
import type { ActWords } from './act.ts';

const always = ['veil', 'smoker', 'phone'];
const forCells = [...always, 'cell knife', 'torch', 'brush'];

const wordsWith =
  (bring: readonly string[]) =>
  (label: string, logAs: FactKind, whatToDo: string, more: readonly string[] = []): ActWords => ({
    label,
    logAs,
    whatToDo,
    whatToBring: [...bring, ...more],
  });

export const visit = wordsWith(always);
export const search = wordsWith(forCells);
export const atHome = wordsWith([]);
