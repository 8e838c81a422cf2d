/** One channel's past, followed forward from tick to tick: the state that the watch had of it then. */
import type { Channel } from '../store/channels.ts';
import { isDoubtful } from '../store/readings/day-readings.ts';
import type { ArrivalSpan } from '../store/readings/raw-span.ts';
import type { Store } from '../store/store.ts';
import { addReading, dayMs, freshState, type ChannelState } from './channel-state.ts';

/** Longer than a value may stay the same under any limit, and than a battery's trend reaches back. */
const leadMs = 15 * dayMs;
/** A sensor that had fallen silent by then is known by what it sent before that; still longer ago, it was never heard. */
const longLeadMs = 90 * dayMs;

export interface Came {
  readonly atMs: number;
  readonly value: number;
  readonly suspect: boolean;
}

export class PastChannel {
  readonly channel: Channel;
  readonly state: ChannelState = freshState();
  readonly #came: ArrivalSpan;
  #next = 0;

  /** `calibrated`: followed by what the keeper's calibrations make of it; else, as the watch does, by what it sent. */
  constructor(store: Store, channel: Channel, fromMs: number, toMs: number, calibrated = false) {
    this.channel = channel;
    this.#came = cameIn(store, channel.id, fromMs, toMs, calibrated);
  }

  /** When the next reading came that was not followed yet; infinity where none did. */
  get nextMs(): number {
    return this.#came.arrivedAtMs[this.#next] ?? Infinity;
  }

  /** When the first of the readings comes that were not followed yet and for which `isOne` holds; infinity where none does by `untilMs`. */
  nextWhere(isOne: (came: ArrivalSpan, i: number) => boolean, untilMs: number): number {
    const { arrivedAtMs } = this.#came;
    for (let i = this.#next; (arrivedAtMs[i] ?? Infinity) <= untilMs; i += 1)
      if (isOne(this.#came, i)) return arrivedAtMs[i] ?? Infinity;
    return Infinity;
  }

  /** Takes in what came by then; `onEach` is told of every reading. */
  follow(nowMs: number, onEach?: (came: Came) => void): void {
    const { atMs, value, suspect: flags, arrivedAtMs } = this.#came;
    for (; this.nextMs <= nowMs; this.#next += 1) {
      const i = this.#next;
      const flag = flags[i] ?? 0;
      const came = { atMs: atMs[i] ?? 0, value: value[i] ?? 0, suspect: flag !== 0 };
      this.state.lastHeardMs = arrivedAtMs[i] ?? 0;
      addReading(this.state, came.atMs, came.value, came.suspect, isDoubtful(flag));
      onEach?.(came);
    }
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
  if (arrivedAtMs.every((atMs, i) => i === 0 || atMs >= (arrivedAtMs[i - 1] ?? 0))) return span;
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
