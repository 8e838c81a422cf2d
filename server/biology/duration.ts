/**
 * Spans of physical time. Brood ages by the hour, so its clock runs in these; appointments are calendar
 * days of the site's zone and live in `introduction/calendar.ts`.
 */
export const msPerHour = 3_600_000;
/** 24 hours of a development clock, not a calendar day. */
const msPer24h = 24 * msPerHour;

/** `days` of 24 hours on a development clock, in ms. */
export const developmentMs = (days: number): number => Math.round(days * msPer24h);
