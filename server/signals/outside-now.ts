/** The weather at a nuc as somebody asks who wants to open it: how warm it is, and whether it is dry. */
import { flightAfterRainMinutes } from '../biology/weather-figures.ts';
import { rainIn } from './drift/flight.ts';
import { hourMs, latest, minuteMs } from './series.ts';
import type { OutsideNow, Series } from './types.ts';

/** Method: an older reading of the outside says nothing about now. */
const freshMs = 2 * hourMs;

const fresh = (series: Series | undefined, nowMs: number): number | null => {
  const newest = latest(series, nowMs);
  return newest && nowMs - newest.atMs <= freshMs ? newest.value : null;
};

export const outsideNow = (
  outsideC: Series | undefined,
  rainMm: Series | undefined,
  nowMs: number,
): OutsideNow => ({
  temperatureC: fresh(outsideC, nowMs),
  rained:
    fresh(rainMm, nowMs) === null
      ? null
      : rainIn(rainMm, nowMs - flightAfterRainMinutes.value * minuteMs, nowMs),
});
