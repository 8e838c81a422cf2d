/** From an arrived message to a part of the next commit: decoded, judged, remembered, or quarantined with the reason. */
import type {
  Announcement,
  CalibratedChannel,
  IncomingReading,
  IngestBatch,
  QuarantinedMessage,
} from '../server/store/port.ts';
import type { Arrival, Receive } from './broker/link.ts';
import { decodeMessage, type Understood } from './decode/decode-message.ts';
import type { Mapping } from './decode/mapping-schema.ts';
import { announcementOf, learn, restoreMemory, unlearn, type Learned } from './decode/memory.ts';
import { shown, type Message } from './decode/message.ts';
import { forecastSite } from './decode/own-topics.ts';
import type { GroupCommit } from './group-commit.ts';
import { qualityGate } from './quality.ts';
import type { StatusKeeper } from './status.ts';

export type OnForecast = (message: Message & { readonly site: string | null }) => string | null;

export interface ReceptionOptions {
  readonly onForecast?: OnForecast;
  readonly clock: () => number;
  readonly mappings?: () => readonly Mapping[];
  readonly announced?: readonly Announcement[];
  readonly calibrated?: () => readonly CalibratedChannel[];
}

export interface Reception {
  readonly receive: Receive;
  setMappings(mappings: readonly Mapping[]): void;
  setCalibrated(channels: readonly CalibratedChannel[]): void;
  /** Topic filters that mappings and announced sensors need. */
  filters(): Set<string>;
  onNewFilters(listener: () => void): void;
  /** What we publish ourselves and a broker sends back is not a message of a sensor. */
  isOurs(topic: string): void;
}

const quarantinedBytes = 4096;
/** A reason may name what a stranger sent. */
const mostReason = 500;
const maxOurTopics = 10_000;
const maxTopics = 20_000;

function quarantinedMessage(arrival: Arrival, reason: string, receivedAtMs: number): QuarantinedMessage {
  const { topic, payload } = arrival;
  return {
    topic,
    payload: payload.slice(0, quarantinedBytes),
    payloadBytes: arrival.payloadBytes ?? payload.length,
    reason: bounded(reason),
    receivedAtMs,
  };
}

const bounded = (reason: string): string =>
  reason.length > mostReason ? `${reason.slice(0, mostReason)}…` : reason;

/**
 * Moments of receipt that differ within a topic: a burst of plain numbers within one millisecond would otherwise be
 * readings of one instant, of which only the first is kept.
 */
function distinctInstants(): (topic: string, nowMs: number) => number {
  const last = new Map<string, number>();
  return (topic, nowMs) => {
    const before = last.get(topic);
    // A clock that was set back by more than a second starts anew.
    const instant = before !== undefined && nowMs <= before && before - nowMs < 1000 ? before + 1 : nowMs;
    if (last.size >= maxTopics && before === undefined) last.clear();
    last.set(topic, instant);
    return instant;
  };
}

const none: readonly never[] = [];
type Settled = (stored: boolean) => void;

export function makeReception(
  options: ReceptionOptions,
  group: GroupCommit,
  status: StatusKeeper,
): Reception {
  const { clock } = options;
  const memory = restoreMemory(options.announced ?? []);
  const quality = qualityGate();
  quality.setCalibrated(options.calibrated?.() ?? []);
  const instantOf = distinctInstants();
  const ours = new Set<string>();
  let mappings = options.mappings?.() ?? [];
  let newFilters: () => void = () => undefined;

  /** Returns what is to be kept of it. */
  function remember(learned: readonly Learned[]): readonly Announcement[] {
    const kept: Announcement[] = [];
    for (const each of learned) {
      const announcement = announcementOf(memory, each);
      if (announcement) kept.push(announcement);
      learn(memory, each);
    }
    if (learned.some(({ kind }) => kind === 'announced')) newFilters();
    return kept;
  }

  function partOf(
    arrival: Arrival,
    { decoded, repeat }: Understood,
    announcements: readonly Announcement[],
    receivedAtMs: number,
  ): IngestBatch | IncomingReading | undefined {
    const { readings, lastKnown, quarantine } = decoded;
    const besides = lastKnown.length + announcements.length + (quarantine === undefined ? 0 : 1);
    const [first] = readings;
    if (!first && besides === 0 && !repeat) return undefined;
    if (first && readings.length === 1 && besides === 0) return quality.judge(first);
    return {
      readings: readings.map(quality.judge),
      lastKnown,
      quarantined: quarantine === undefined ? none : [quarantinedMessage(arrival, quarantine, receivedAtMs)],
      announcements,
    };
  }

  function refuse(arrival: Arrival, reason: string, settled: Settled): void {
    const message = quarantinedMessage(arrival, reason, clock());
    status.quarantined(shown(arrival.topic), message.payloadBytes, message.reason);
    group.add({ readings: none, lastKnown: none, quarantined: [message] }, settled, arrival.owner);
  }

  /** What a message taught is taken back when its sender has to send it again. */
  const undoing =
    (learned: readonly Learned[], settled: Settled): Settled =>
    (stored) => {
      if (!stored) for (const each of learned) unlearn(memory, each);
      settled(stored);
    };

  /**
   * What `work` gives; undefined where it threw, and then the message is in quarantine. A message that our own code
   * can't take must not end the process, nor be sent again for ever.
   */
  function orQuarantine<T>(
    arrival: Arrival,
    settled: Settled,
    work: () => T,
  ): { readonly of: T } | undefined {
    try {
      return { of: work() };
    } catch (error) {
      status.mistake(shown(arrival.topic), error);
      refuse(arrival, `reading it failed (${shown(String(error))}); please report this message`, settled);
      return undefined;
    }
  }

  /** A message that was sent again is of the moment at which it came first. */
  function receiptOf({ topic, receipt }: Arrival): number {
    const atMs = receipt?.atMs ?? instantOf(topic, clock());
    if (receipt) receipt.atMs = atMs;
    return atMs;
  }

  function read(arrival: Arrival) {
    const receivedAtMs = receiptOf(arrival);
    const { topic, payload, retain } = arrival;
    const understood = decodeMessage({ mappings, memory }, { topic, payload, retain, receivedAtMs });
    const { learned } = understood;
    const announcements = learned.length > 0 ? remember(learned) : none;
    return { learned, understood, part: partOf(arrival, understood, announcements, receivedAtMs) };
  }

  function take(arrival: Arrival, settled: Settled): void {
    const done = orQuarantine(arrival, settled, () => read(arrival));
    if (!done) return;
    const { learned, understood, part } = done.of;
    if (!part) {
      // Understood, and there is nothing to store.
      status.ignored();
      settled(true);
      return;
    }
    const { quarantine } = understood.decoded;
    if (quarantine !== undefined)
      status.quarantined(shown(arrival.topic), arrival.payload.length, bounded(quarantine));
    group.add(part, learned.length > 0 ? undoing(learned, settled) : settled, arrival.owner);
  }

  /** Kept in memory alone: it is soon old, and who tells it tells it again. */
  function takeForecast(arrival: Arrival, site: string | null, tell: OnForecast, settled: Settled): void {
    const { topic, payload, retain } = arrival;
    const told = orQuarantine(arrival, settled, () =>
      tell({ topic, site, payload, retain, receivedAtMs: clock() }),
    );
    if (!told) return;
    if (told.of !== null) {
      refuse(arrival, told.of, settled);
      return;
    }
    status.ignored();
    settled(true);
  }

  function takeOther(arrival: Arrival, settled: Settled): void {
    const site = options.onForecast && forecastSite(arrival.topic);
    if (site === undefined || !options.onForecast) take(arrival, settled);
    else takeForecast(arrival, site, options.onForecast, settled);
  }

  return {
    receive(arrival, settled) {
      status.received();
      if (ours.has(arrival.topic)) {
        status.ignored();
        settled(true);
      } else if (arrival.refuse !== undefined) refuse(arrival, arrival.refuse, settled);
      else takeOther(arrival, settled);
    },
    setMappings(next) {
      mappings = next;
    },
    setCalibrated(channels) {
      quality.setCalibrated(channels);
    },
    filters() {
      return new Set([...mappings.map(({ topic }) => topic), ...memory.byStateTopic.keys()]);
    },
    onNewFilters(listener) {
      newFilters = listener;
    },
    isOurs(topic) {
      if (ours.size >= maxOurTopics) ours.clear();
      ours.add(topic);
    },
  };
}
