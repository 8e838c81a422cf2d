/** From an arrived message to a part of the next commit: decoded, judged, remembered, or quarantined with the reason. */
import type {
  Announcement,
  CalibratedChannel,
  IncomingReading,
  IngestBatch,
  QuarantinedMessage,
} from '../server/store/port.ts';
import { batteryUnits } from './bare-battery.ts';
import type { Arrival, Receive } from './broker/link.ts';
import { decodeMessage, type Understood } from './decode/decode-message.ts';
import type { Mapping } from './decode/mapping-schema.ts';
import { announcementOf, learn, restoreMemory, unlearn, type Learned } from './decode/memory.ts';
import { shown, type Message } from './decode/message.ts';
import { forecastSite } from './decode/own-topics.ts';
import type { GroupCommit } from './group-commit.ts';
import { qualityGate } from './quality.ts';
import type { StatusKeeper } from './status.ts';

/** Null, or why the forecast can't be used. */
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
  ignoreTopic(topic: string): void;
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
    // A copy: what waits must not keep all of a large message, of which a piece of its buffer would hold the whole.
    payload: new Uint8Array(payload.subarray(0, quarantinedBytes)),
    payloadBytes: arrival.payloadBytes ?? payload.length,
    reason: bounded(reason),
    receivedAtMs,
    ...(arrival.retain && { retained: true }),
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

export const makeReception = (
  options: ReceptionOptions,
  group: GroupCommit,
  status: StatusKeeper,
): Reception => new MessageReception(options, group, status);

class MessageReception implements Reception {
  readonly #options: ReceptionOptions;
  readonly #group: GroupCommit;
  readonly #status: StatusKeeper;
  readonly #memory: ReturnType<typeof restoreMemory>;
  readonly #quality = qualityGate();
  readonly #batteryUnit = batteryUnits();
  readonly #instantOf = distinctInstants();
  readonly #ourTopics = new Set<string>();
  #mappings: readonly Mapping[];
  #onNewFilters: () => void = () => undefined;

  constructor(options: ReceptionOptions, group: GroupCommit, status: StatusKeeper) {
    this.#options = options;
    this.#group = group;
    this.#status = status;
    this.#memory = restoreMemory(options.announced ?? []);
    this.#quality.setCalibrated(options.calibrated?.() ?? []);
    this.#mappings = options.mappings?.() ?? [];
  }

  readonly receive: Receive = (arrival, settled) => {
    this.#status.received();
    if (this.#ourTopics.has(arrival.topic)) {
      this.#status.ignored();
      settled(true);
    } else if (arrival.refuse !== undefined) this.#refuse(arrival, arrival.refuse, settled);
    else this.#takeForecastOrReadings(arrival, settled);
  };

  setMappings(mappings: readonly Mapping[]): void {
    this.#mappings = mappings;
  }

  setCalibrated(channels: readonly CalibratedChannel[]): void {
    this.#quality.setCalibrated(channels);
  }

  filters(): Set<string> {
    return new Set([...this.#mappings.map(({ topic }) => topic), ...this.#memory.byStateTopic.keys()]);
  }

  onNewFilters(listener: () => void): void {
    this.#onNewFilters = listener;
  }

  ignoreTopic(topic: string): void {
    if (this.#ourTopics.size >= maxOurTopics) this.#ourTopics.clear();
    this.#ourTopics.add(topic);
  }

  #takeForecastOrReadings(arrival: Arrival, settled: Settled): void {
    const { onForecast } = this.#options;
    const site = onForecast && forecastSite(arrival.topic);
    if (site === undefined || !onForecast) this.#takeReadings(arrival, settled);
    else this.#takeForecast(arrival, site, onForecast, settled);
  }

  #takeReadings(arrival: Arrival, settled: Settled): void {
    const attempt = this.#orQuarantine(arrival, settled, () => this.#read(arrival));
    if (!attempt) return;
    const { learned, understood, part } = attempt.result;
    if (!part) {
      // Understood, and there is nothing to store.
      this.#status.ignored();
      settled(true);
      return;
    }
    const { quarantine } = understood.decoded;
    if (quarantine !== undefined)
      this.#status.quarantined(shown(arrival.topic), arrival.payload.length, bounded(quarantine));
    this.#group.add(part, learned.length > 0 ? this.#undoing(learned, settled) : settled, arrival.owner);
  }

  #takeForecast(arrival: Arrival, site: string | null, onForecast: OnForecast, settled: Settled): void {
    const { topic, payload, retain } = arrival;
    const receivedAtMs = this.#options.clock();
    const attempt = this.#orQuarantine(arrival, settled, () =>
      onForecast({ topic, site, payload, retain, receivedAtMs }),
    );
    if (!attempt) return;
    const whyNot = attempt.result;
    if (whyNot !== null) {
      this.#refuse(arrival, whyNot, settled);
      return;
    }
    this.#status.ignored();
    settled(true);
  }

  #read(arrival: Arrival) {
    const receivedAtMs = this.#receiptOf(arrival);
    const { topic, payload, retain } = arrival;
    const known = { mappings: this.#mappings, memory: this.#memory };
    const understood = decodeMessage(known, { topic, payload, retain, receivedAtMs });
    const { learned } = understood;
    const announcements = learned.length > 0 ? this.#remember(learned) : none;
    return { learned, understood, part: this.#partOf(arrival, understood, announcements, receivedAtMs) };
  }

  /** A message that was sent again is of the moment at which it came first. */
  #receiptOf({ topic, receipt }: Arrival): number {
    const atMs = receipt?.atMs ?? this.#instantOf(topic, this.#options.clock());
    if (receipt) receipt.atMs = atMs;
    return atMs;
  }

  /** Returns what has to be stored of it. */
  #remember(learned: readonly Learned[]): readonly Announcement[] {
    const kept: Announcement[] = [];
    for (const each of learned) {
      const announcement = announcementOf(this.#memory, each);
      if (announcement) kept.push(announcement);
      learn(this.#memory, each);
    }
    if (learned.some(({ kind }) => kind === 'announced')) this.#onNewFilters();
    return kept;
  }

  /** What a message taught is taken back when its sender has to send it again. */
  #undoing(learned: readonly Learned[], settled: Settled): Settled {
    return (stored) => {
      if (!stored) for (const each of learned) unlearn(this.#memory, each);
      settled(stored);
    };
  }

  #partOf(
    arrival: Arrival,
    { decoded, repeat }: Understood,
    announcements: readonly Announcement[],
    receivedAtMs: number,
  ): IngestBatch | IncomingReading | undefined {
    const { readings, lastKnown, quarantine } = decoded;
    const besides = lastKnown.length + announcements.length + (quarantine === undefined ? 0 : 1);
    const [first] = readings;
    if (!first && besides === 0 && !repeat) return undefined;
    if (first && readings.length === 1 && besides === 0) return this.#judge(first);
    return {
      readings: readings.map((reading) => this.#judge(reading)),
      lastKnown,
      quarantined: quarantine === undefined ? none : [quarantinedMessage(arrival, quarantine, receivedAtMs)],
      announcements,
    };
  }

  #judge(reading: IncomingReading): IncomingReading {
    return this.#quality.judge(this.#batteryUnit(reading));
  }

  /**
   * The result of `work`; undefined where it threw, and then the message is in quarantine. An error in our own code
   * must not end the process, nor make the sender repeat the message for ever.
   */
  #orQuarantine<T>(arrival: Arrival, settled: Settled, work: () => T): { readonly result: T } | undefined {
    try {
      return { result: work() };
    } catch (error) {
      this.#status.mistake(shown(arrival.topic), error);
      const reason = `reading it failed (${shown(String(error))}); please report this message`;
      this.#refuse(arrival, reason, settled);
      return undefined;
    }
  }

  #refuse(arrival: Arrival, reason: string, settled: Settled): void {
    const message = quarantinedMessage(arrival, reason, this.#options.clock());
    this.#status.quarantined(shown(arrival.topic), message.payloadBytes, message.reason);
    this.#group.add({ readings: none, lastKnown: none, quarantined: [message] }, settled, arrival.owner);
  }
}
