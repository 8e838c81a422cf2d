import { addDays } from '../format/calendar.ts';

/** Both ends included; at most two months at a time. */
export function daysFromTo(from: string, to: string): readonly string[] {
  const days: string[] = [];
  for (let day = from; day <= to && days.length < 62; day = addDays(day, 1)) days.push(day);
  return days;
}
