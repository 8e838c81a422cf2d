/**
 * What earlier messages announced and later ones rest on: descriptions of sensors, and uplinks already seen. The
 * decoders only read it; the caller lets it learn. Bounded; what was announced is kept over a restart as JSON.
 */
import type { Announcement } from '../../server/store/port.ts';
import type { Quantity } from '../../server/units.ts';

/** A property that a device has described (Homie). */
export interface DescribedProperty {
  readonly quantity?: Quantity;
  readonly unit?: string;
}

/** A sensor that a discovery message has announced. */
export interface AnnouncedSensor {
  readonly stateTopic: string;
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly unit?: string;
  /** Absent: the payload is the number. */
  readonly template?: string;
}

/** One LoRaWAN frame. The content guards against counters that start again after a reset. */
export interface UplinkKey {
  readonly device: string;
  readonly counter: number;
  readonly content: string;
}

export type Learned =
  | { readonly kind: 'property'; readonly key: string; readonly property: DescribedProperty }
  | { readonly kind: 'announced'; readonly key: string; readonly sensor: AnnouncedSensor | undefined }
  /** What a sensor is called by its owner; the key is the name by which its readings come. */
  | { readonly kind: 'name'; readonly key: string; readonly name: string }
  | { readonly kind: 'uplink'; readonly key: UplinkKey; readonly atMs: number };

export interface DecoderMemory {
  /** By `<device topic>/<node>/<property>`. */
  readonly properties: Map<string, DescribedProperty>;
  /** By configuration topic. */
  readonly announced: Map<string, AnnouncedSensor>;
  /** Configuration topics by state topic. */
  readonly byStateTopic: Map<string, Set<string>>;
  /** What sensors are called, by sensor. */
  readonly names: Map<string, string>;
  /** When each uplink was first seen. */
  readonly uplinks: Map<string, number>;
}

const maxDescribed = 10_000;
const maxUplinks = 20_000;
/** A frame that comes again later than this is stored once anyway, by its time. */
const uplinkWindowMs = 3_600_000;

export const emptyMemory = (): DecoderMemory => ({
  properties: new Map(),
  announced: new Map(),
  byStateTopic: new Map(),
  names: new Map(),
  uplinks: new Map(),
});

const keyOf = ({ device, counter, content }: UplinkKey): string => JSON.stringify([device, counter, content]);

export function isRepeat(memory: DecoderMemory, key: UplinkKey, atMs: number): boolean {
  const seen = memory.uplinks.get(keyOf(key));
  return seen !== undefined && atMs - seen <= uplinkWindowMs;
}

/** The oldest entry goes first. */
function put<V>(map: Map<string, V>, key: string, value: V, max: number): void {
  map.delete(key);
  map.set(key, value);
  if (map.size <= max) return;
  const [oldest] = map.keys();
  if (oldest !== undefined) map.delete(oldest);
}

function forgetAnnounced(memory: DecoderMemory, key: string): void {
  const before = memory.announced.get(key);
  if (!before) return;
  memory.announced.delete(key);
  const keys = memory.byStateTopic.get(before.stateTopic);
  keys?.delete(key);
  if (keys?.size === 0) memory.byStateTopic.delete(before.stateTopic);
}

export function learn(memory: DecoderMemory, learned: Learned): void {
  if (learned.kind === 'property') put(memory.properties, learned.key, learned.property, maxDescribed);
  else if (learned.kind === 'name') put(memory.names, learned.key, learned.name, maxDescribed);
  else if (learned.kind === 'uplink') put(memory.uplinks, keyOf(learned.key), learned.atMs, maxUplinks);
  else {
    forgetAnnounced(memory, learned.key);
    if (!learned.sensor || memory.announced.size >= maxDescribed) return;
    memory.announced.set(learned.key, learned.sensor);
    const { stateTopic } = learned.sensor;
    const keys = memory.byStateTopic.get(stateTopic) ?? new Set();
    memory.byStateTopic.set(stateTopic, keys.add(learned.key));
  }
}

/** Of a key and what it stands for: ten thousand of them are kept, in memory and on disk. */
const mostLearnedCharacters = 2000;

export function isTooLarge(learned: Learned): boolean {
  if (learned.kind === 'uplink') return false;
  return learned.key.length + JSON.stringify(valueOf(learned) ?? null).length > mostLearnedCharacters;
}

type Kept = Exclude<Learned, { kind: 'uplink' }>;
function valueOf(learned: Kept): unknown {
  if (learned.kind === 'property') return learned.property;
  return learned.kind === 'name' ? learned.name : learned.sensor;
}

const known = (memory: DecoderMemory, { kind, key }: Kept): unknown =>
  ({ property: memory.properties, announced: memory.announced, name: memory.names })[kind].get(key);

/** Takes back what a message taught that the sender has to send again. */
export function unlearn(memory: DecoderMemory, learned: Learned): void {
  if (learned.kind === 'uplink') memory.uplinks.delete(keyOf(learned.key));
  else if (learned.kind === 'property') memory.properties.delete(learned.key);
  else if (learned.kind === 'name') memory.names.delete(learned.key);
  else forgetAnnounced(memory, learned.key);
}

/**
 * What is to be kept of it over a restart; undefined where nothing is new: sensors announce the same whenever they
 * connect. Asked before it is learnt.
 */
export function announcementOf(memory: DecoderMemory, learned: Learned): Announcement | undefined {
  if (learned.kind === 'uplink') return undefined;
  const { kind, key } = learned;
  const before = known(memory, learned);
  const now = valueOf(learned);
  const value = now === undefined ? null : JSON.stringify(now);
  return value === (before === undefined ? null : JSON.stringify(before)) ? undefined : { kind, key, value };
}

export function restoreMemory(kept: readonly Announcement[]): DecoderMemory {
  const memory = emptyMemory();
  for (const { kind, key, value } of kept) {
    if (value === null) continue;
    if (kind === 'name') learn(memory, { kind, key, name: JSON.parse(value) as string });
    else if (kind === 'property')
      learn(memory, { kind, key, property: JSON.parse(value) as DescribedProperty });
    else learn(memory, { kind, key, sensor: JSON.parse(value) as AnnouncedSensor });
  }
  return memory;
}
