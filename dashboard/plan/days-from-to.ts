import { addDays } from '../format/calendar.ts';

export const mostDaysAtATime = 62;

/** Both ends included. */
export function daysFromTo(from: string, to: string): readonly string[] {
  const days: string[] = [];
  for (let day = from; day <= to && days.length < mostDaysAtATime; day = addDays(day, 1)) days.push(day);
  return days;
}
