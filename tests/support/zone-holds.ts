/** A zone that was asked for and not taken would prove nothing. */
const asked = process.env['TZ'];
const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
if (timeZone !== asked) throw new Error(`TZ is ${String(asked)}, and the clock is that of ${timeZone}`);
