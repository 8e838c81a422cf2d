/**
 * The uplink JSON of LoRaWAN network servers, whatever the topic: who sent it, its frame counter, when it was heard,
 * and the object that the server's own codec made of the bytes. Fields of that object whose names say what they are
 * become readings; for others a mapping is needed.
 */
import { guessField } from './field-names.ts';
import { atPointer } from './json-pointer.ts';
import { joinDecoded, readName, toDecoded } from './measurement.ts';
import { ignored, refused, shown, type Decoded, type Message } from './message.ts';
import { isObject, readJson, readNumeric, readText } from './payload.ts';
import type { UplinkKey } from './memory.ts';
import { readInstant } from './time.ts';

/** Where the parts stand, in the layouts in use; the first pointer that leads somewhere counts. */
interface Layout {
  readonly device: readonly string[];
  /** What its owner calls it, where that is not how it is known here. */
  readonly name: readonly string[];
  readonly address: readonly string[];
  readonly counter: string;
  readonly time: readonly string[];
  readonly object: readonly string[];
  readonly bytes: readonly string[];
}

const layouts: readonly Layout[] = [
  {
    device: ['/end_device_ids/device_id', '/end_device_ids/dev_eui'],
    name: [],
    address: ['/uplink_message/session_key_id', '/end_device_ids/dev_addr'],
    counter: '/uplink_message/f_cnt',
    time: ['/uplink_message/received_at', '/received_at'],
    object: ['/uplink_message/decoded_payload'],
    bytes: ['/uplink_message/frm_payload'],
  },
  {
    device: ['/deviceInfo/devEui', '/devEUI', '/deviceName'],
    name: ['/deviceInfo/deviceName', '/deviceName'],
    address: ['/devAddr'],
    counter: '/fCnt',
    time: ['/time', '/publishedAt', '/rxInfo/0/time'],
    object: ['/object', '/objectJSON'],
    bytes: ['/data'],
  },
  {
    device: ['/dev_eui', '/devEUI'],
    name: ['/name'],
    address: ['/devaddr'],
    counter: '/fcnt',
    time: ['/reported_at'],
    object: ['/decoded/payload', '/decoded'],
    bytes: ['/payload'],
  },
];

const openBrace = 0x7b;

export interface Uplink {
  readonly decoded: Decoded;
  readonly key: UplinkKey;
  readonly name?: string;
}

function firstAt(document: unknown, pointers: readonly string[]): unknown {
  for (const pointer of pointers) {
    const found = atPointer(document, pointer);
    if (found.ok && found.value !== null && found.value !== '') return found.value;
  }
  return undefined;
}

const asText = (value: unknown): string =>
  typeof value === 'string' || typeof value === 'number' ? String(value).slice(0, 500) : '';

/** The object may itself be JSON text. */
function asObject(value: unknown): Readonly<Record<string, unknown>> | undefined {
  const inner = typeof value === 'string' ? readJson(value) : undefined;
  const candidate = inner?.ok ? inner.value : value;
  return isObject(candidate) ? candidate : undefined;
}

/** Numbers up to three levels deep, with the path as their name. */
function fieldsOf(object: Readonly<Record<string, unknown>>, path = '', depth = 0): [string, number][] {
  return Object.entries(object).flatMap(([key, value]): [string, number][] => {
    const name = path === '' ? key : `${path}_${key}`;
    if (isObject(value) && depth < 3) return fieldsOf(value, name, depth + 1);
    const number = typeof value === 'boolean' ? undefined : readNumeric(value, name);
    return number?.ok ? [[name, number.value]] : [];
  });
}

function readingsOf(layout: Layout, document: unknown, device: string, message: Message): Decoded {
  const object = asObject(firstAt(document, layout.object));
  if (!object) {
    return refused(
      `the uplink of ${shown(device)} has no decoded fields; set up its codec at the network server`,
    );
  }
  const heard = firstAt(document, layout.time);
  const time = heard === undefined ? undefined : readInstant(heard);
  if (time && !time.ok) return refused(time.reason);
  const parts = fieldsOf(object).flatMap(([name, value]) => {
    const guess = guessField(name);
    return guess ? [toDecoded({ sensor: device, ...guess, value, claimedMs: time?.value }, message)] : [];
  });
  if (parts.length > 0) return joinDecoded(parts);
  const names = Object.keys(object).slice(0, 5).map(shown).join(', ');
  return refused(`no field of the uplink of ${shown(device)} says that it is a quantity of ours (${names})`);
}

/** Undefined where the message is no uplink. */
export function decodeUplink(message: Message): Uplink | undefined {
  // Cheap look before parsing.
  if (message.payload[0] !== openBrace) return undefined;
  const text = readText(message.payload);
  if (!text.ok || !/"(?:f_?cnt|uplink_message)"/i.test(text.value)) return undefined;
  const json = readJson(text.value);
  if (!json.ok) return undefined;
  for (const layout of layouts) {
    const counter = firstAt(json.value, [layout.counter]) ?? (hasFrame(json.value, layout) ? 0 : undefined);
    const device = asText(firstAt(json.value, layout.device));
    if (typeof counter !== 'number' || device === '') continue;
    const content = `${asText(firstAt(json.value, layout.address))} ${asText(firstAt(json.value, layout.bytes))}`;
    const name = readName(firstAt(json.value, layout.name));
    return {
      decoded: readingsOf(layout, json.value, device, message),
      key: { device, counter, content },
      ...(name !== undefined && name !== device && { name }),
    };
  }
  return undefined;
}

/** Some servers leave out what is zero, the first frame's counter among it. */
const hasFrame = (document: unknown, layout: Layout): boolean =>
  layout.counter.startsWith('/uplink_message/') && isObject(firstAt(document, ['/uplink_message']));

export const repeated = (device: string, counter: number): Decoded =>
  ignored(`frame ${String(counter)} of ${shown(device)} came before`);
