/** Which channels of a day have the very same times: a device that tells several quantities in one message. */
import type { DayReadings } from './day-readings.ts';

export interface ChannelDay {
  readonly channelId: number;
  readonly readings: DayReadings;
}

/** Groups in the order of their first member; a channel with times of its own is a group by itself. */
export function groupByTimes(channels: readonly ChannelDay[]): ChannelDay[][] {
  const groups: ChannelDay[][] = [];
  const bySketch = new Map<string, ChannelDay[][]>();
  for (const channel of channels) {
    const sketch = sketchOf(channel.readings);
    const alike = bySketch.get(sketch) ?? [];
    const group = alike.find(([first]) => first && sameTimes(first.readings, channel.readings));
    if (group) {
      group.push(channel);
      continue;
    }
    const fresh = [channel];
    groups.push(fresh);
    bySketch.set(sketch, [...alike, fresh]);
  }
  return groups;
}

const sketchOf = ({ atMs, length }: DayReadings): string =>
  [length, atMs[0], atMs[length >> 1], atMs[length - 1]].join(' ');

function sameTimes(a: DayReadings, b: DayReadings): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i += 1) if (a.atMs[i] !== b.atMs[i]) return false;
  return true;
}
