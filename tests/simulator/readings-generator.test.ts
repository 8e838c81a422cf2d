/** The bench's readings: as many as asked, in order, on their sensors' steps, the same for the same seed. */
import { describe, expect, it } from 'vitest';
import { benchChannels, benchReadings, type BenchOptions } from '../../simulator/readings-generator.ts';

const options: BenchOptions = { seed: 5, hives: 16, fromMs: Date.UTC(2026, 3, 1), count: 50_000, batch: 777 };

const gather = (from: BenchOptions) => {
  const all: [channel: number, atMs: number, value: number][] = [];
  for (const batch of benchReadings(from)) {
    for (let i = 0; i < batch.length; i++) all.push([batch.channel[i]!, batch.atMs[i]!, batch.value[i]!]);
  }
  return all;
};

describe('bench readings', () => {
  const channels = benchChannels(options);
  const all = gather(options);

  it('are as many as asked, ascending in time, from every channel', () => {
    expect(all).toHaveLength(50_000);
    expect(all.every(([, atMs], i) => i === 0 || atMs >= all[i - 1]![1])).toBe(true);
    expect(new Set(all.map(([channel]) => channel)).size).toBe(channels.length);
    expect(channels).toHaveLength(16 * 4 + 2 * 2);
  });

  it('never come twice from one channel at one time', () => {
    expect(new Set(all.map(([channel, atMs]) => `${String(channel)} ${String(atMs)}`)).size).toBe(all.length);
  });

  it('lie in the range and on the steps of their sensors', () => {
    const step = { weight: 0.001, temperature: 0.0625, humidity: 0.1, battery: 1, rain: 0.2 };
    const range = {
      weight: [5, 20],
      temperature: [0, 45],
      humidity: [20, 100],
      battery: [0, 100],
      rain: [0, 1],
    };
    for (const [channel, , value] of all) {
      const { quantity } = channels[channel]!;
      expect(Math.abs(value / step[quantity] - Math.round(value / step[quantity]))).toBeLessThan(1e-6);
      expect(value >= range[quantity][0]! && value <= range[quantity][1]!).toBe(true);
    }
  });

  it('are the same for the same seed, whatever the batch', () => {
    expect(gather({ ...options, batch: 64, count: 5000 })).toEqual(all.slice(0, 5000));
    expect(gather({ ...options, seed: 6, count: 5000 })).not.toEqual(all.slice(0, 5000));
  });
});
