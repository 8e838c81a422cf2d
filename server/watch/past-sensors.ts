/** The sensors of one nuc as the watch saw them at past instants, followed forward through what they sent. */
import type { ChannelHealth, RuleInput } from '../rules/engine/inputs.ts';
import { limitsFor, type LimitSettings } from '../rules/engine/limits.ts';
import { allowedSilenceMs, sensorSilent } from '../rules/catalogue/sensors/sensor-silent.ts';
import { nucsOf } from '../rules/engine/suppression.ts';
import type { Channel } from '../store/channels/channels.ts';
import type { Assignment } from '../store/places/assignments.ts';
import type { Hive } from '../store/places/hives.ts';
import { flagsOf } from './reading-flags.ts';
import type { Store } from '../store/store.ts';
import { addReading, freshState, healthOf, intervalOf } from './channel-state.ts';
import { PastArrivals } from './past-arrivals.ts';
import { PastBattery } from './past-battery.ts';
import { sensorInputs, type WatchedChannel } from './rule-inputs.ts';
import { placing, type Placing } from '../farm/sensor-positions.ts';

export interface PastSensors {
  /** Takes in what came by then. Instants have to rise. */
  at(nowMs: number): SensorsThen;
  /** When one of them is next moved, falls silent or comes back after the instant that `at` was asked for last, ms. */
  nextEventMs(afterMs: number): number;
}

export interface SensorsThen {
  /** The channels in and under the nuc, and their devices. */
  readonly inputs: readonly RuleInput[];
  readonly healths: readonly ChannelHealth[];
}

export interface SensorSpan {
  readonly fromMs: number;
  readonly toMs: number;
  readonly limits: LimitSettings;
}

export function pastSensors(store: Store, nuc: Hive, { fromMs, toMs, limits }: SensorSpan): PastSensors {
  const channels = channelsOf(store, nuc, fromMs, toMs);
  const place = placing(store.places.listSites(), store.places.listHives());
  const silence = limitsFor(
    sensorSilent,
    { kind: 'device', id: '', name: '', nucId: nuc.id, siteId: nuc.siteId },
    limits,
  );
  return {
    at(nowMs) {
      for (const one of channels) one.follow(nowMs);
      const standing = channels.flatMap((one) => one.watched(nowMs, place) ?? []);
      return {
        inputs: sensorInputs(standing, nowMs).filter(({ subject }) => nucsOf(subject).includes(nuc.id)),
        healths: standing.filter(({ hive }) => hive?.id === nuc.id).map(({ health }) => health),
      };
    },
    nextEventMs: (afterMs) =>
      Math.min(
        Infinity,
        ...channels.map((one) => one.nextEventMs(afterMs, (everyMs) => allowedSilenceMs(everyMs, silence))),
      ),
  };
}

/** Every channel of the devices that stood in or under the nuc in the span: a device falls silent as a whole. */
function channelsOf(store: Store, nuc: Hive, fromMs: number, toMs: number): PastChannel[] {
  const touches = (one: Assignment): boolean => one.fromMs <= toMs && (one.toMs ?? Infinity) > fromMs;
  const channels = store.channels.list();
  const own = new Set(
    store.places
      .assignmentsOf({ hiveId: nuc.id })
      .filter(touches)
      .map(({ channelId }) => channelId),
  );
  const devices = new Set(channels.filter(({ id }) => own.has(id)).map(({ sensor }) => sensor));
  const batteries = new Map(
    [...devices].map((sensor) => {
      const battery = store.channels.find({ sensor, quantity: 'battery', probe: '', unit: '%EL' });
      return [sensor, battery && new PastBattery(store, battery, fromMs, toMs)];
    }),
  );
  return channels.flatMap((channel) => {
    if (!devices.has(channel.sensor)) return [];
    const stood = store.places.assignmentsOfChannel(channel.id).filter(touches);
    if (stood.length === 0) return [];
    const came = new PastArrivals(store, channel.id, fromMs, toMs);
    return [new PastChannel(channel, came, stood, batteries.get(channel.sensor))];
  });
}

class PastChannel {
  readonly #channel: Channel;
  readonly #came: PastArrivals;
  readonly #assignments: readonly Assignment[];
  readonly #battery: PastBattery | undefined;
  readonly #state = freshState();

  constructor(
    channel: Channel,
    came: PastArrivals,
    assignments: readonly Assignment[],
    battery: PastBattery | undefined,
  ) {
    this.#channel = channel;
    this.#came = came;
    this.#assignments = assignments;
    this.#battery = battery;
  }

  follow(nowMs: number): void {
    this.#came.follow(nowMs, ({ atMs, value, suspect, arrivedAtMs }, i) => {
      this.#state.lastHeardMs = arrivedAtMs[i] ?? 0;
      addReading(this.#state, atMs[i] ?? 0, value[i] ?? 0, flagsOf(suspect[i] ?? 0));
    });
    this.#battery?.follow(nowMs);
  }

  /** Undefined while it stands nowhere. */
  watched(nowMs: number, place: Placing): WatchedChannel | undefined {
    const valid = this.#assignments.find((one) => one.fromMs <= nowMs && (one.toMs ?? Infinity) > nowMs);
    const at = valid && place(valid);
    const battery = this.#battery?.state ?? null;
    return (
      at && { health: healthOf(this.#channel, at.assignment.position, this.#state, battery, nowMs), ...at }
    );
  }

  nextEventMs(afterMs: number, allowedMs: (everyMs: number) => number): number {
    const moves = this.#assignments.flatMap(({ fromMs, toMs }) => [fromMs, toMs ?? Infinity]);
    return Math.min(...moves.filter((atMs) => atMs > afterMs), this.#silenceTurnsMs(afterMs, allowedMs));
  }

  /** When it falls silent or comes back, if that is the next that is heard of it. */
  #silenceTurnsMs(afterMs: number, allowedMs: (everyMs: number) => number): number {
    const everyMs = intervalOf(this.#state);
    if (this.#state.lastHeardMs === null || everyMs === null) return Infinity;
    const silentMs = this.#state.lastHeardMs + allowedMs(everyMs);
    const { nextMs } = this.#came;
    if (nextMs <= silentMs) return Infinity;
    return silentMs > afterMs ? silentMs : nextMs;
  }
}
