/** What a channel sent, in the order in which it came, gone through from tick to tick. */
import type { ArrivalSpan } from '../store/readings/raw-span.ts';
import type { Store } from '../store/store.ts';
import { dayMs } from '../durations.ts';

/** Longer than a value may stay the same under any limit, and than a battery's trend reaches back. */
const leadMs = 15 * dayMs;
/** A sensor that had fallen silent by then is known by what it sent before that; still longer ago, it was never heard. */
const longLeadMs = 90 * dayMs;

export class PastArrivals {
  readonly #came: ArrivalSpan;
  #next = 0;

  /** `calibrated`: as the keeper's calibrations have it; else, as the watch goes by, what it sent. */
  constructor(store: Store, channelId: number, fromMs: number, toMs: number, calibrated = false) {
    this.#came = cameIn(store, channelId, fromMs, toMs, calibrated);
  }

  /** When the next reading came; infinity where none did. */
  get nextMs(): number {
    return this.#came.arrivedAtMs[this.#next] ?? Infinity;
  }

  /** Goes on to what came after `nowMs`; `take` is given all in between. */
  follow(nowMs: number, take: (came: ArrivalSpan, i: number) => void): void {
    const { arrivedAtMs } = this.#came;
    let i = this.#next;
    for (; (arrivedAtMs[i] ?? Infinity) <= nowMs; i += 1) take(this.#came, i);
    this.#next = i;
  }
}

/** What came by `toMs`, in the order in which it came. */
function cameIn(
  store: Store,
  channelId: number,
  fromMs: number,
  toMs: number,
  calibrated: boolean,
): ArrivalSpan {
  const earlierMs = fromMs - leadMs;
  const asked = { channelId, toMs: toMs + 1, calibrated };
  const came = inOrder(store.readings.arrivals({ ...asked, fromMs: earlierMs }));
  if ((came.arrivedAtMs[0] ?? Infinity) <= fromMs) return came;
  return inOrder(store.readings.arrivals({ ...asked, fromMs: earlierMs - longLeadMs }));
}

function inOrder(span: ArrivalSpan): ArrivalSpan {
  const { arrivedAtMs } = span;
  let inOrderTo = 1;
  while ((arrivedAtMs[inOrderTo] ?? -Infinity) >= (arrivedAtMs[inOrderTo - 1] ?? 0)) inOrderTo += 1;
  if (inOrderTo >= arrivedAtMs.length) return span;
  const order = Array.from(arrivedAtMs, (_, i) => i).sort(
    (a, b) => (arrivedAtMs[a] ?? 0) - (arrivedAtMs[b] ?? 0) || a - b,
  );
  const sorted = (column: Float64Array): Float64Array => Float64Array.from(order, (i) => column[i] ?? 0);
  return {
    atMs: sorted(span.atMs),
    value: sorted(span.value),
    suspect: Uint8Array.from(order, (i) => span.suspect[i] ?? 0),
    arrivedAtMs: sorted(arrivedAtMs),
  };
}
