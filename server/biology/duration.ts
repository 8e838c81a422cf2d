/**
 * Spans of physical time. Brood ages by the hour, so its clock runs in these; appointments are calendar
 * days of the site's zone and live in `introduction/calendar.ts`.
 */
import { dayMs, hourMs } from '../durations.ts';

export const msPerHour = hourMs;

/** `days` of 24 hours on a development clock, in ms. */
export const developmentMs = (days: number): number => Math.round(days * dayMs);
