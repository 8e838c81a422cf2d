/** The rail's words: short on the drawing, whole sentences in the legend. */
import type { Rail } from '../../server/contract/nucs.ts';
import type { Display } from '../format/units.ts';
import { fixed, weight, weightChange } from '../format/units.ts';
import type { Visit, Window } from './thickness.ts';

export const visitStateWords: Readonly<Record<Visit['state'], string>> = {
  done: 'done',
  planned: 'planned',
  due: 'due',
  overdue: 'overdue',
};

/** Done and planned lie before and after today, so only the others are said. */
export const visitWords = (visit: Visit): string =>
  visit.state === 'due' || visit.state === 'overdue'
    ? `${visit.label} (${visitStateWords[visit.state]})`
    : visit.label;

/** Visits of one day share their words: two lines at one spot can't be read. */
export function togetherOnADay(visits: readonly Visit[]): readonly (readonly Visit[])[] {
  const days = new Map<number, Visit[]>();
  for (const visit of [...visits].sort((a, b) => a.day - b.day)) {
    const day = Math.floor(visit.day);
    days.set(day, [...(days.get(day) ?? []), visit]);
  }
  return [...days.values()];
}

/** `Second look for cells, open the candy end`. */
export const visitsInWords = (visits: readonly Visit[]): string =>
  visits
    .map(visitWords)
    .map((words, i) => (i === 0 ? words : words.charAt(0).toLocaleLowerCase() + words.slice(1)))
    .join(', ');

/** `day 9`: the day one is in, as the keeper counts. */
export const dayWords = (day: number): string => `day ${fixed(Math.floor(day), 0)}`;

/** What a window has to say on a day of a standing rail: where a danger starts, where it and the brood end. */
export function windowWordsOn(day: number, window: Window, lastDay: number): string | undefined {
  const { kind, fromDay, toDay, text } = window;
  const starts = Math.floor(fromDay) === day;
  const ends = Math.floor(toDay) === day && toDay < lastDay;
  switch (kind) {
    case 'open-brood':
      return undefined;
    case 'virgin-possible':
      return starts ? `from here: ${text}` : ends ? `until here: ${text}` : undefined;
    case 'laying-workers':
      return starts ? `from here: ${text}` : undefined;
    case 'rearable-larvae':
    case 'sealed-brood':
      return ends ? `until here: ${text}` : undefined;
  }
}

export function barWordsOn(day: number, bar: Rail['bars'][number]): string | undefined {
  if (bar.kind === 'caged' || bar.kind === 'laying') return undefined;
  if (Math.floor(bar.fromDay) === day) return `from here: ${bar.text}`;
  return Math.floor(bar.toDay) === day ? `until here: ${bar.text}` : undefined;
}

/** `12.10 kg, −0.30 kg since the first night`; a single night has not changed. */
export function nightsInWords(nights: readonly { readonly kg: number }[], display: Display): string {
  const [first] = nights;
  const last = nights.at(-1);
  if (!first || !last) return '';
  const now = weight(last.kg, display);
  return first === last ? now : `${now}, ${weightChange(last.kg - first.kg, display)} since the first night`;
}
