/** The rail's words: short on the drawing, whole sentences in the legend. */
import type { Bar, Visit, WindowKind } from './thickness.ts';

export const windowWords: Readonly<Record<WindowKind, string>> = {
  'rearable-larvae': 'larvae a queen could still be raised from',
  'virgin-possible': 'a virgin could be out',
  'open-brood': 'open brood',
  'sealed-brood': 'brood still to emerge',
  'laying-workers': 'workers may begin to lay',
};

export const barWords: Readonly<Record<Bar['kind'], string>> = {
  caged: 'queen caged',
  'candy-open': 'candy open',
  'hands-off': 'hands off',
  laying: 'eggs seen',
};

const stateWords: Readonly<Record<Visit['state'], string>> = {
  done: '',
  planned: '',
  due: ' (due)',
  overdue: ' (overdue)',
};
export const visitWords = (visit: Visit): string => `${visit.label}${stateWords[visit.state]}`;
export const visitStateWords: Readonly<Record<Visit['state'], string>> = {
  done: 'done',
  planned: 'planned',
  due: 'due',
  overdue: 'overdue',
};

/** `day 9`: the day one is in, as the keeper counts. */
export const dayWords = (day: number): string => `day ${String(Math.floor(day))}`;
