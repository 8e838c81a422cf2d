/** Milliseconds of spans that never change. A calendar day can be shorter or longer than 24 hours: `introduction/calendar.ts` counts those. */
export const minuteMs = 60_000;
export const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;
