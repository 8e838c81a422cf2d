/** Tables of the days of one act: where it stands in the plan, or that it has no place in it. */
import { expect, it } from 'vitest';
import { placesOfActs } from '../../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../../server/introduction/acts/draft.ts';
import { dayNumber } from '../../../server/introduction/calendar.ts';
import type { Entries, Setup } from './conditions.ts';
import { at, stateAt, zone } from './field-log.ts';

export interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly over?: Setup;
  /** First and best instant by the day and the hour at the site, and the last where it is the point; null: it has no place. */
  readonly window: string | null;
  readonly offered?: true;
  readonly done?: true;
  /** Words of why, and of its name and what to do. */
  readonly why?: string;
  readonly does?: string;
}

const text = (ms: number): string => {
  const hour = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' });
  return `${String(dayNumber(at(0), ms, zone))} ${hour.format(ms)}`;
};
export const places = (act: ActKind, rows: readonly Row[]): void => {
  it.each(rows)('$name: $window', ({ log, now, over, window, offered, done, why, does }) => {
    const step = placesOfActs(stateAt(log, now, over)).find(({ kind }) => kind === act);
    const told = step && [step.earliestMs, step.targetMs, step.latestMs].map(text).join(' | ');
    expect(told?.slice(0, window?.length) ?? null).toBe(window);
    expect([step?.offered, step?.done !== undefined]).toEqual([offered, done ?? false]);
    if (why) expect(step?.why.map(String).join(' ')).toContain(why);
    if (does) expect(`${step?.label ?? ''}: ${step?.whatToDo ?? ''}`).toContain(does);
  });
};
