/** A standing rail day by day, with the words of each day. Pure. */
import type { Rail } from '../../server/contract/nucs.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { firstDay } from './first-day.ts';
import { barWordsOn, visitWords, windowWordsOn } from './words.ts';

export interface Row {
  readonly day: number;
  readonly date: string;
  readonly today: boolean;
  readonly words: readonly { readonly text: string; readonly soft: boolean }[];
}

/** What starts, ends or is done on each day; days with nothing keep their place with no words. */
export function rowsOf(rail: Rail): readonly Row[] {
  const date0 = localDate(Date.parse(rail.day0), rail.timeZone);
  const first = Math.floor(firstDay(rail));
  const rows: Row[] = [];
  for (let day = first; day <= Math.ceil(rail.lastDay); day += 1) {
    const within = (at: number): boolean => Math.floor(at) === day;
    const strong = [
      ...rail.visits.filter((visit) => within(visit.day)).map(visitWords),
      ...rail.alerts.filter((alert) => within(alert.day)).map((alert) => `Alert: ${alert.text}`),
    ];
    const soft = [
      ...rail.bars.map((bar) => barWordsOn(day, bar)),
      ...rail.windows.map((window) => windowWordsOn(day, window, rail.lastDay)),
    ].filter((words) => words !== undefined);
    rows.push({
      day,
      date: addDays(date0, day),
      today: within(rail.today),
      words: [
        ...strong.map((text) => ({ text, soft: false })),
        ...soft.map((text) => ({ text, soft: true })),
      ],
    });
  }
  return rows;
}
