/** The battery of one device in the past: what it told last, and the trend of its days. */
import type { Channel } from '../store/channels/channels.ts';
import type { Store } from '../store/store.ts';
import { batteryTrend, batteryTrendDays, trendHourMs, type BatteryState } from './channel-state.ts';
import { dayMs } from '../durations.ts';
import { PastArrivals } from './past-arrivals.ts';

export class PastBattery {
  readonly #came: PastArrivals;
  /** UTC days since 1970 → sum and number of the readings that are not suspect. */
  readonly #days = new Map<number, { sum: number; readings: number }>();
  #newestMs = -Infinity;
  #percent: number | null = null;
  #trend: { readonly atMs: number; readonly percentPerDay: number | null } | undefined;

  constructor(store: Store, channel: Channel, fromMs: number, toMs: number) {
    this.#came = new PastArrivals(store, channel.id, fromMs, toMs, true);
  }

  /** Takes in what came by then, and works the trend out where a full hour has begun. */
  follow(nowMs: number): void {
    this.#came.follow(nowMs, ({ atMs: times, value: values, suspect }, i) => {
      const atMs = times[i] ?? 0;
      const value = values[i] ?? 0;
      if (atMs > this.#newestMs) {
        this.#newestMs = atMs;
        this.#percent = value;
      }
      if (suspect[i] !== 0) return;
      const day = Math.floor(atMs / dayMs);
      let known = this.#days.get(day);
      if (!known) this.#days.set(day, (known = { sum: 0, readings: 0 }));
      known.sum += value;
      known.readings += 1;
    });
    const atMs = trendHourMs(nowMs);
    if (this.#trend?.atMs !== atMs) this.#trend = { atMs, percentPerDay: this.#trendAt(atMs) };
  }

  #trendAt(atMs: number): number | null {
    const means: (readonly [atMs: number, mean: number])[] = [];
    const firstMs = atMs - batteryTrendDays * dayMs;
    for (const [day, { sum, readings }] of this.#days) {
      if (day * dayMs < firstMs) this.#days.delete(day);
      else if (day * dayMs < atMs) means.push([day * dayMs, sum / readings]);
    }
    return batteryTrend(means);
  }

  /** Null before it told anything. */
  get state(): BatteryState | null {
    if (this.#percent === null) return null;
    return { percent: this.#percent, percentPerDay: this.#trend?.percentPerDay ?? null };
  }
}
