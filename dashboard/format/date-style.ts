/** How days and times are written: as the farm chose. Set once who is here is known. */
import { signal } from '@preact/signals';

export interface DateStyle {
  readonly hours: 12 | 24;
  readonly dateOrder: 'day-month' | 'month-day';
}

export const dateStyle = signal<DateStyle>({ hours: 24, dateOrder: 'day-month' });

/** What people where this browser is set to write; for a farm that has not chosen. */
export function localeStyle(locale?: string): DateStyle {
  const parts = new Intl.DateTimeFormat(locale, { month: 'numeric', day: 'numeric', hour: 'numeric' });
  const order = parts.formatToParts(0).map(({ type }) => type);
  return {
    hours: parts.resolvedOptions().hour12 === true ? 12 : 24,
    dateOrder: order.indexOf('month') < order.indexOf('day') ? 'month-day' : 'day-month',
  };
}
