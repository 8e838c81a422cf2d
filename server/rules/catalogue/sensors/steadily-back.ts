/** When what was silent is back: what is heard for minutes and gone again keeps its alert. */
import { minuteMs } from '../../../durations.ts';

/** Setting: the longest pause of a sensor that is steadily back: of one that reports often, several lost messages. */
const longestPauseMs = 30 * minuteMs;
/** Method: one message missed, and half an interval. */
export const lateIntervals = 1.5;

/**
 * Setting: without such a pause for so long, min. On the four open Montreal radios of 2021 an alert is then over 90 minutes
 * after the return, after the worst of them 210, and none stays open for ever.
 */
export const steadyMin = 90;

export const isSteady = (silentMs: number, everyMs: number): boolean =>
  silentMs < Math.max(longestPauseMs, lateIntervals * everyMs);
