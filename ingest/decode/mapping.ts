/** Reads one message through one mapping. */
import { atPointer } from './json-pointer.ts';
import type { Mapping, MappingSource } from './mapping-schema.ts';
import { joinDecoded, toDecoded } from './measurement.ts';
import { read, refused, shown, unread, type Decoded, type Message, type Read } from './message.ts';
import { readJson, readNumber, readNumeric, readText } from './payload.ts';
import { readInstant } from './time.ts';
import { matchTopic } from './topic-filter.ts';
import type { UplinkKey } from './memory.ts';

type MappedValue = Mapping['values'][number];

interface Opened {
  readonly captures: ReadonlyMap<string, string>;
  readonly text: string;
  /** Only where a pointer asks for it. */
  readonly document: unknown;
}

export interface Mapped {
  readonly decoded: Decoded;
  readonly uplink?: UplinkKey;
}

const usesPointers = (mapping: Mapping): boolean =>
  mapping.values.some((value) => value.pointer !== undefined) ||
  mapping.time !== undefined ||
  'pointer' in mapping.sensor;

function open(mapping: Mapping, message: Message): Read<Opened> {
  const captures = matchTopic(mapping.topic, message.topic);
  if (!captures) return unread(`the topic does not match ${mapping.topic}`);
  const text = readText(message.payload);
  if (!text.ok) return text;
  if (!usesPointers(mapping)) return read({ captures, text: text.value, document: undefined });
  const json = readJson(text.value, 'the payload is not JSON');
  return json.ok ? read({ captures, text: text.value, document: json.value }) : json;
}

function nameFrom(source: MappingSource, opened: Opened): Read<string> {
  if ('text' in source) return read(source.text);
  if ('level' in source) return read(opened.captures.get(source.level) ?? '');
  const found = atPointer(opened.document, source.pointer);
  if (!found.ok) return found;
  const { value } = found;
  const usable = typeof value === 'string' || typeof value === 'number';
  return usable && String(value).length <= 200
    ? read(String(value).trim())
    : unread(`${source.pointer}: ${shown(value)} is no name`);
}

function unitOf(value: MappedValue, opened: Opened): Read<string | undefined> {
  if (typeof value.unit !== 'object') return read(value.unit);
  const found = atPointer(opened.document, value.unit.pointer);
  if (!found.ok) return found;
  return typeof found.value === 'string'
    ? read(found.value)
    : unread(`${value.unit.pointer}: ${shown(found.value)} is no unit`);
}

function numberOf(value: MappedValue, opened: Opened): Read<number> {
  if (value.pointer === undefined) return readNumber(opened.text);
  const found = atPointer(opened.document, value.pointer);
  return found.ok ? readNumeric(found.value, value.pointer) : found;
}

const isAbsent = (value: MappedValue, opened: Opened): boolean => {
  if (!value.optional || value.pointer === undefined) return false;
  const found = atPointer(opened.document, value.pointer);
  return !found.ok || found.value === null;
};

function decodeValue(
  value: MappedValue,
  sensor: string,
  claimedMs: number | undefined,
  opened: Opened,
  message: Message,
): Decoded {
  const number = numberOf(value, opened);
  if (!number.ok) return refused(number.reason);
  const unit = unitOf(value, opened);
  if (!unit.ok) return refused(unit.reason);
  const probe = typeof value.probe === 'string' ? read(value.probe) : nameFrom(value.probe, opened);
  if (!probe.ok) return refused(probe.reason);
  const { quantity, factor } = value;
  return toDecoded(
    { sensor, quantity, probe: probe.value, value: number.value * factor, unit: unit.value, claimedMs },
    message,
  );
}

function timeOf({ time }: Mapping, opened: Opened, { receivedAtMs }: Message): Read<number | undefined> {
  if (!time) return read(undefined);
  const found = atPointer(opened.document, time.pointer);
  if (!found.ok) return found;
  return readInstant(found.value, time.zone === undefined ? undefined : { zone: time.zone, receivedAtMs });
}

function uplinkOf(mapping: Mapping, opened: Opened): UplinkKey | undefined {
  if (!mapping.frame) return undefined;
  const device = atPointer(opened.document, mapping.frame.device);
  const counter = atPointer(opened.document, mapping.frame.counter);
  if (!device.ok || !counter.ok || typeof counter.value !== 'number') return undefined;
  return { device: shown(device.value), counter: counter.value, content: opened.text.slice(0, 500) };
}

/** Never throws; what it can't read is a refusal with the reason. */
export function decodeByMapping(mapping: Mapping, message: Message): Mapped {
  const fail = (reason: string): Mapped => ({ decoded: refused(`mapping "${mapping.name}": ${reason}`) });
  const opened = open(mapping, message);
  if (!opened.ok) return fail(opened.reason);
  const sensor = nameFrom(mapping.sensor, opened.value);
  if (!sensor.ok) return fail(sensor.reason);
  if (sensor.value === '') return fail('the sensor has no name');
  const time = timeOf(mapping, opened.value, message);
  if (!time.ok) return fail(time.reason);
  const present = mapping.values.filter((value) => !isAbsent(value, opened.value));
  const decoded = joinDecoded(
    present.map((value) => decodeValue(value, sensor.value, time.value, opened.value, message)),
  );
  const uplink = uplinkOf(mapping, opened.value);
  const { quarantine } = decoded;
  return {
    decoded:
      quarantine === undefined
        ? decoded
        : { ...decoded, quarantine: `mapping "${mapping.name}": ${quarantine}` },
    ...(uplink ? { uplink } : {}),
  };
}

export type TriedMapping =
  | { readonly ok: true; readonly decoded: Decoded }
  | { readonly ok: false; readonly reason: string; readonly decoded?: Decoded };

/** For the page: what a mapping would make of a live or pasted message, before it is saved. */
export function tryMapping(mapping: Mapping, message: Message): TriedMapping {
  const { decoded } = decodeByMapping(mapping, message);
  if (decoded.quarantine !== undefined) return { ok: false, reason: decoded.quarantine, decoded };
  const found = decoded.readings.length + decoded.lastKnown.length;
  return found > 0
    ? { ok: true, decoded }
    : { ok: false, reason: 'the message has none of the mapping’s values', decoded };
}
