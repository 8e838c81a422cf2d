/** Every form of topic with every hostile body: an answer in one sentence, never an error that somebody has to catch. */
import { describe, expect, it } from 'vitest';
import { readMapping } from '../../ingest/decode/mapping-schema.ts';
import { decodeMessage } from '../../ingest/decode/decode-message.ts';
import { emptyMemory, learn } from '../../ingest/decode/memory.ts';
import { shown } from '../../ingest/decode/message.ts';
import { announcement, hostileBodies, hostileTopics, mapping, nested } from '../support/hostile-messages.ts';
import { message, receivedAtMs } from './support/messages.ts';

describe('hostile bodies', () => {
  const known = readMapping({ name: 'hostile', ...mapping });
  if (!known.ok) throw new Error(known.reason);

  it.each(hostileTopics)('on %s end in an answer that fits a line', (topic) => {
    const context = { mappings: [known.value], memory: emptyMemory() };
    const announced = decodeMessage(context, message(announcement.topic, announcement.payload));
    for (const each of announced.learned) learn(context.memory, each);
    for (const retain of [false, true]) {
      for (const { name, body } of hostileBodies(1_000_000)) {
        const { decoded, learned } = decodeMessage(context, { topic, payload: body, retain, receivedAtMs });
        for (const each of learned) learn(context.memory, each);
        const answer = decoded.quarantine ?? decoded.ignored ?? '';
        const found = decoded.readings.length + decoded.lastKnown.length;
        expect(found > 0 || answer !== '', name).toBe(true);
        expect(answer.length, name).toBeLessThan(1000);
      }
    }
  });

  it('says that it is nested too deep, where it is', () => {
    const context = { mappings: [], memory: emptyMemory() };
    for (const topic of ['welcomb/s/weight', 'welcomb/s', 'homie/5/d/$description', 'hub/sensor/x/config']) {
      const { decoded } = decodeMessage(context, message(topic, nested(65)));
      expect(decoded.quarantine).toBe("the payload can't be read: it is nested more than 64 deep");
    }
  });
});

describe('shown', () => {
  it('shows the beginning of anything, however deep or large', () => {
    let deep: unknown = 1;
    for (let i = 0; i < 50_000; i += 1) deep = [deep];
    expect(shown(deep)).toBe('[[[[…]]]]');
    expect(shown(Array.from({ length: 1_000_000 }, () => 'xx'))).toHaveLength(41);
    expect(shown({ a: { b: { c: { d: { e: 1 } } } } })).toBe('{"a":{"b":{"c":{"d":…}}}}');
    expect(shown('y'.repeat(1_000_000))).toBe(`${'y'.repeat(60)}…`);
    expect(shown({ a: 1, b: ['x', null, true] })).toBe('{"a":1,"b":["x",null,true]}');
  });
});
