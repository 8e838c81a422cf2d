/**
 * One message in, readings out. Order of trial:
 * 1. our own topics, which say what they mean;
 * 2. the keeper's mappings, in their order: the first that reads the message counts;
 * 3. the Homie convention;
 * 4. discovery messages and the state topics that they announced;
 * 5. the uplink JSON of LoRaWAN network servers.
 * What none of them understands is quarantined with the reason, and can be mapped from there.
 */
import { decodeDiscovery } from './discovery.ts';
import { decodeHomie } from './homie.ts';
import { decodeUplink, repeated } from './lorawan.ts';
import { decodeByMapping } from './mapping.ts';
import type { Mapping } from './mapping-schema.ts';
import { isRepeat, isTooLarge, type DecoderMemory, type Learned, type UplinkKey } from './memory.ts';
import { refused, type Decoded, type Message } from './message.ts';
import { decodeOwnTopic } from './own-topics.ts';
import { matchTopic } from './topic-filter.ts';

export interface DecodeContext {
  readonly mappings: readonly Mapping[];
  /** Read only here; the caller lets it learn what comes back as `learned`. */
  readonly memory: DecoderMemory;
}

export interface Understood {
  readonly decoded: Decoded;
  readonly learned: readonly Learned[];
  /** A frame that came before: acknowledged only after everything that came before it was stored. */
  readonly repeat: boolean;
}

const nothingLearned: readonly Learned[] = [];
const plainly = (decoded: Decoded, learned = nothingLearned): Understood => ({
  decoded,
  learned,
  repeat: false,
});

function unlessRepeated(
  decoded: Decoded,
  key: UplinkKey | undefined,
  memory: DecoderMemory,
  atMs: number,
): Understood {
  if (!key || decoded.readings.length === 0) return plainly(decoded);
  if (isRepeat(memory, key, atMs)) {
    return { decoded: repeated(key.device, key.counter), learned: nothingLearned, repeat: true };
  }
  return plainly(decoded, [{ kind: 'uplink', key, atMs }]);
}

function byMappings({ mappings, memory }: DecodeContext, message: Message): Understood | undefined {
  let first: Understood | undefined;
  for (const mapping of mappings) {
    if (!matchTopic(mapping.topic, message.topic)) continue;
    const { decoded, uplink } = decodeByMapping(mapping, message);
    const understood = unlessRepeated(decoded, uplink, memory, message.receivedAtMs);
    if (understood.repeat || decoded.readings.length + decoded.lastKnown.length > 0) return understood;
    first ??= understood;
  }
  return first;
}

function byUplink({ memory }: DecodeContext, message: Message): Understood | undefined {
  const uplink = decodeUplink(message);
  if (!uplink) return undefined;
  const { decoded, key, name } = uplink;
  const understood = unlessRepeated(decoded, key, memory, message.receivedAtMs);
  if (name === undefined || understood.repeat || understood.learned.length === 0) return understood;
  if (memory.names.get(key.device) === name) return understood;
  return { ...understood, learned: [...understood.learned, { kind: 'name', key: key.device, name }] };
}

/** Never throws: arbitrary topics and bytes end as readings, as passed over, or as a reason. */
export function decodeMessage(context: DecodeContext, message: Message): Understood {
  const own = decodeOwnTopic(message);
  if (own) return plainly(own);
  const mapped = byMappings(context, message);
  if (mapped) return mapped;
  const announced = decodeHomie(message, context.memory) ?? decodeDiscovery(message, context.memory);
  if (announced?.learned.some(isTooLarge) === true)
    return plainly(refused('what the sensor says of itself is too long: names and units have to be shorter'));
  if (announced) return plainly(announced.decoded, announced.learned);
  return (
    byUplink(context, message) ??
    plainly(refused('nothing here understands this topic; make a mapping for it'))
  );
}
