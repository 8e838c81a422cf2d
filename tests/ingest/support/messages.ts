import type { DecodeContext, Understood } from '../../../ingest/decode/decode-message.ts';
import { decodeMessage } from '../../../ingest/decode/decode-message.ts';
import type { Mapping } from '../../../ingest/decode/mapping-schema.ts';
import { emptyMemory, learn } from '../../../ingest/decode/memory.ts';
import type { Message } from '../../../ingest/decode/message.ts';

export const receivedAtMs = Date.parse('2026-05-14T06:00:00Z');

export function message(topic: string, payload: unknown, more: Partial<Message> = {}): Message {
  const text = typeof payload === 'string' ? payload : JSON.stringify(payload);
  return { topic, payload: new TextEncoder().encode(text), retain: false, receivedAtMs, ...more };
}

/** A decoder with a memory of its own that learns as the server does. */
export function listener(mappings: readonly Mapping[] = []) {
  const context: DecodeContext = { mappings, memory: emptyMemory() };
  return (topic: string, payload: unknown, more: Partial<Message> = {}): Understood => {
    const understood = decodeMessage(context, message(topic, payload, more));
    for (const each of understood.learned) learn(context.memory, each);
    return understood;
  };
}

/** `sensor/quantity/probe value unit` of each reading. */
export const brief = ({ decoded }: Understood): readonly string[] =>
  decoded.readings.map(
    ({ sensor, quantity, probe, value, unit }) =>
      `${sensor}/${quantity}/${probe} ${String(Math.round(value * 1e6) / 1e6)} ${unit}`,
  );
