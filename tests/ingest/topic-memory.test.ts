/** Topics recognised by their bytes are those that the bytes spell. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { topicMemory } from '../../ingest/broker/topic-memory.ts';

const refused = /[#+\0]|^\$|^$/;

test('a topic is what its bytes say, met before or not, among many others', () => {
  const short = fc.string({ unit: fc.constantFrom('a', 'b', '/', 'ü', '蜂', '+', '$'), maxLength: 4 });
  const topic = fc.oneof(
    short,
    fc.nat(150).map((n) => `welcomb/scale-${String(n)}/weight`),
  );
  fc.assert(
    fc.property(fc.array(topic, { minLength: 1, maxLength: 300 }), fc.nat(3), (topics, before) => {
      const memory = topicMemory();
      for (const each of topics) {
        const bytes = Buffer.concat([Buffer.alloc(before, 'x'), Buffer.from(each), Buffer.from('rest')]);
        const found = memory.plain(bytes, before, bytes.length - 4);
        expect(found).toBe(refused.test(each) ? undefined : each);
      }
    }),
    { numRuns: 300 },
  );
});

test('a long one is left to the broker, which counts its levels', () => {
  const bytes = Buffer.from('l/'.repeat(51));
  expect(topicMemory().plain(bytes, 0, bytes.length)).toBeUndefined();
});

test('bytes are remembered, not the piece that they stood in', () => {
  const memory = topicMemory();
  const piece = Buffer.from('a/b');
  expect(memory.plain(piece, 0, 3)).toBe('a/b');
  piece.write('x/y');
  expect(memory.plain(piece, 0, 3)).toBe('x/y');
  expect(memory.plain(Buffer.from('a/b'), 0, 3)).toBe('a/b');
});
